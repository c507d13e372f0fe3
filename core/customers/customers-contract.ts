import { z } from 'zod'
import { procedure } from '../door.ts'
import { calendarDateSchema } from '../units/calendar-date.ts'
import { contactIdSchema, customerIdSchema, siteIdSchema } from '../units/ids.ts'
import { hardnessSchema, millilitresSchema, tdsSchema } from '../units/measures.ts'
import { monthsAwaySchema } from './months-away.ts'

const line = z.string().trim().max(120)
const text = z.string().trim().max(2000)

/** What the office writes down about who pays. */
export const customerFieldsSchema = z.object({
  kind: z.enum(['person', 'business']),
  sortName: line.min(1, 'A household is listed by a name.'),
  letterName: line.min(1, 'A letter needs a name on the envelope.'),
  salutation: line,
  phone: line,
  phoneNote: line,
  email: line,
  mailElsewhere: z.boolean(),
  mailLine1: line,
  mailLine2: line,
  mailTown: line,
  mailRegion: line,
  mailPostalCode: line,
  mailCountry: line,
  noMail: z.boolean(),
  taxExempt: z.boolean(),
  paymentTermsDays: z.int().min(0).max(365).nullable(),
  note: text,
})
export type CustomerFields = z.infer<typeof customerFieldsSchema>

/** What the office writes down about where the water is. */
export const siteFieldsSchema = z.object({
  line1: line.min(1, 'A van needs a street to drive to.'),
  line2: line,
  town: line.min(1, 'A van needs a town to drive to.'),
  region: line,
  postalCode: line,
  country: line,
  accessNote: text,
  waterSource: z.enum(['mains', 'well', 'unknown']),
  hardness: hardnessSchema.nullable(),
  feedTds: tdsSchema.nullable(),
  people: z.int().min(1, 'Somebody lives there.').max(500).nullable(),
  drunkPerDay: millilitresSchema.min(1).nullable(),
  /** Months in which nobody is there, such as "6,7,8"; blank for none. */
  monthsAway: monthsAwaySchema,
})
export type SiteFields = z.infer<typeof siteFieldsSchema>

export const contactFieldsSchema = z.object({
  name: line.min(1, 'A contact has a name.'),
  role: line,
  phone: line,
  email: line,
  note: text,
})
export type ContactFields = z.infer<typeof contactFieldsSchema>

export const HOUSEHOLD_SORTS = ['household', 'town', 'dueOn'] as const
export type HouseholdSort = (typeof HOUSEHOLD_SORTS)[number]

/** Where the last page ended: the sort key of its last row, and its id. */
export const pageEndSchema = z.object({ key: z.string(), id: z.int() })
export type PageEnd = z.infer<typeof pageEndSchema>

export const householdRowSchema = z.object({
  siteId: siteIdSchema,
  customerId: customerIdSchema,
  household: z.string(),
  reference: z.string(),
  line1: z.string(),
  town: z.string(),
  postalCode: z.string(),
  phone: z.string(),
  email: z.string(),
  dueOn: calendarDateSchema.nullable(),
  closed: z.boolean(),
  moved: z.boolean(),
  noMail: z.boolean(),
})
export type HouseholdRow = z.infer<typeof householdRowSchema>

const listedSchema = z.object({
  search: z.string().max(200),
  /** Whether closed households are listed too. */
  withClosed: z.boolean(),
})

const inSite = z.object({ siteId: siteIdSchema })

/** Households: the ledger, and what can be done with one. A household is a site with its customer; its id is the site's. */
export const householdsContract = {
  list: procedure
    .input(
      listedSchema.extend({
        sort: z.enum(HOUSEHOLD_SORTS),
        descending: z.boolean(),
        after: pageEndSchema.nullable(),
        limit: z.int().min(1).max(500),
      }),
    )
    .output(z.object({ rows: z.array(householdRowSchema), next: pageEndSchema.nullable() })),
  count: procedure.input(listedSchema).output(z.object({ total: z.int() })),
  create: procedure
    .input(z.object({ customer: customerFieldsSchema, site: siteFieldsSchema }))
    .output(z.object({ siteId: siteIdSchema, customerId: customerIdSchema })),
  /** Saves customer and site together; `seen` is what the form was opened with. */
  save: procedure
    .input(
      inSite.extend({
        customer: customerFieldsSchema,
        site: siteFieldsSchema,
        seen: z.object({ customer: customerFieldsSchema, site: siteFieldsSchema }),
      }),
    )
    .output(inSite),
  close: procedure.input(inSite.extend({ reason: line.min(1, 'Write in a few words why.') })).output(inSite),
  reopen: procedure.input(inSite).output(inSite),
  /** The customer has moved away (or, with `moved` false, has not after all): no letter goes there. */
  moved: procedure.input(inSite.extend({ moved: z.boolean() })).output(inSite),
  noMail: procedure.input(inSite.extend({ noMail: z.boolean() })).output(inSite),
  saveContact: procedure
    .input(inSite.extend({ contactId: contactIdSchema.nullable(), fields: contactFieldsSchema }))
    .output(z.object({ contactId: contactIdSchema })),
  removeContact: procedure.input(inSite.extend({ contactId: contactIdSchema })).output(inSite),
}
