import { z } from 'zod'
import { procedure } from '../door.ts'
import { calendarDateSchema } from '../units/calendar-date.ts'
import { officeIdSchema } from '../units/ids.ts'
import { officeSettingsSchema } from './office-settings.ts'

/** The office's own address: letterhead, invoices, the depot of the routes. */
export const officeAddressSchema = z.object({
  name: z.string().trim().min(1, 'The office needs a name.').max(80),
  line1: z.string().trim().max(80),
  line2: z.string().trim().max(80),
  town: z.string().trim().max(60),
  region: z.string().trim().max(40),
  postalCode: z.string().trim().max(12),
  country: z.string().trim().max(40),
  phone: z.string().trim().max(40),
  email: z.string().trim().max(120),
})
export type OfficeAddress = z.infer<typeof officeAddressSchema>

export const officeStateSchema = z.object({
  /** False until the first start was answered: no office is in the books yet. */
  founded: z.boolean(),
  isDemo: z.boolean(),
  /** Whether any household is in the books. */
  hasHouseholds: z.boolean(),
  officeId: officeIdSchema,
  /** Empty texts before the office is founded. */
  address: officeAddressSchema.extend({ name: z.string() }),
  settings: officeSettingsSchema,
  today: calendarDateSchema,
})
export type OfficeState = z.infer<typeof officeStateSchema>

/** The frame of every screen: which office, which day, how it writes; and founding an empty office. */
export const officeContract = {
  state: procedure.output(officeStateSchema),
  found: procedure.input(officeAddressSchema).output(z.object({ officeId: officeIdSchema })),
}
