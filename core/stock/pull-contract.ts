import { z } from 'zod'
import { procedure } from '../door.ts'
import { calendarDateSchema } from '../units/calendar-date.ts'
import { partIdSchema, pullIdSchema, pullLineIdSchema, siteIdSchema, vanIdSchema, visitIdSchema } from '../units/ids.ts'

const pieces = z.int().min(0)
const partName = z.object({ partId: partIdSchema, number: z.string(), name: z.string() })

/** The pieces of a line that go into the tote of one stop. */
export const toteSchema = z.object({ visitId: visitIdSchema, stop: z.int(), quantity: pieces, household: z.string() })

export const pullLineSchema = z.object({
  /** Null while nothing is promised: a line of a plan. */
  lineId: pullLineIdSchema.nullable(),
  bin: z.string(),
  part: partName,
  /** The part that was asked for, when this one stands in for it. */
  insteadOf: partName.nullable(),
  lot: z.string(),
  expiresOn: calendarDateSchema.nullable(),
  quantity: pieces,
  /** Pieces ticked off; null when the line is not ticked. */
  pulled: pieces.nullable(),
  totes: z.array(toteSchema),
})
export type PullLineRow = z.infer<typeof pullLineSchema>

/** A part that is short, with the stops that lack it. */
export const shortageSchema = z.object({
  part: partName,
  quantity: pieces,
  totes: z.array(toteSchema),
  /** Pieces of it that lie in the warehouse but are past their date by then, or recalled. */
  unfit: pieces,
  nextDelivery: z
    .object({ on: calendarDateSchema.nullable(), quantity: pieces, orderNumber: z.string(), supplier: z.string() })
    .nullable(),
})
export type ShortageRow = z.infer<typeof shortageSchema>

export const PULL_STATES = ['nothing', 'not-begun', 'open', 'ready'] as const

export const vanPullSchema = z.object({
  vanId: vanIdSchema,
  van: z.string(),
  technician: z.string().nullable(),
  stops: z.int(),
  /** No pieces needed; planned only; promised and being pulled; put on the van. */
  state: z.enum(PULL_STATES),
  pullId: pullIdSchema.nullable(),
  begunAt: z.string().nullable(),
  confirmedAt: z.string().nullable(),
  by: z.string().nullable(),
  /** In the order of the walk. */
  lines: z.array(pullLineSchema),
  /** On the van already. */
  aboard: z.array(pullLineSchema),
  shortages: z.array(shortageSchema),
  /** Pieces that could be pulled over and above the lines shown: a visit was added, or something came in. */
  more: pieces,
})
export type VanPullRow = z.infer<typeof vanPullSchema>

export const pullDaySchema = z.object({
  on: calendarDateSchema,
  isPast: z.boolean(),
  vans: z.array(vanPullSchema),
  /** Visits that no van drives to yet. */
  withoutVan: z.array(z.object({ visitId: visitIdSchema, household: z.string(), technician: z.string().nullable() })),
  /** Stages to change for which nobody said with what. */
  withoutPart: z.array(
    z.object({ visitId: visitIdSchema, siteId: siteIdSchema, household: z.string(), what: z.string() }),
  ),
})
export type PullDay = z.infer<typeof pullDaySchema>

const pullDone = z.object({ pullId: pullIdSchema, pieces, van: z.string() })

/** The warehouse's afternoon: what to pull for a day, promise it, tick it off, put it on the van. */
export const pullContract = {
  /** The next day from tomorrow on that has visits; tomorrow's next working day when none has. */
  nextDay: procedure.output(z.object({ on: calendarDateSchema, visits: z.int(), vans: z.int() })),
  day: procedure.input(z.object({ on: calendarDateSchema })).output(pullDaySchema),
  /** Promises the lots to these vans; adds to a pull that is open already. */
  begin: procedure
    .input(z.object({ on: calendarDateSchema, vanIds: z.array(vanIdSchema).min(1) }))
    .output(z.array(pullDone)),
  tick: procedure
    .input(z.object({ pullId: pullIdSchema, lineId: pullLineIdSchema, pulled: pieces.nullable() }))
    .output(z.object({ pulled: pieces.nullable() })),
  confirm: procedure.input(z.object({ pullId: pullIdSchema })).output(pullDone.extend({ released: pieces })),
  takeBack: procedure.input(z.object({ pullId: pullIdSchema })).output(pullDone),
}
