import { z } from 'zod'
import { procedure } from '../door.ts'
import { calendarDateSchema } from '../units/calendar-date.ts'
import {
  lotIdSchema,
  partIdSchema,
  placeIdSchema,
  pullIdSchema,
  pullLineIdSchema,
  siteIdSchema,
  vanIdSchema,
  visitIdSchema,
} from '../units/ids.ts'

const pieces = z.int().min(0)
const partName = z.object({ partId: partIdSchema, number: z.string(), name: z.string() })

/** The pieces of a line that go into the tote of one stop. */
export const toteSchema = z.object({ visitId: visitIdSchema, stop: z.int(), quantity: pieces, household: z.string() })

export const pullLineSchema = z.object({
  /** Null while nothing is promised: a line of a plan. */
  lineId: pullLineIdSchema.nullable(),
  placeId: placeIdSchema,
  bin: z.string(),
  part: partName,
  /** The part that was asked for, when this one stands in for it. */
  insteadOf: partName.nullable(),
  lotId: lotIdSchema,
  lot: z.string(),
  expiresOn: calendarDateSchema.nullable(),
  quantity: pieces,
  /** Pieces ticked off so far; null when nobody reached for the line yet. */
  pulled: pieces.nullable(),
  /** Who ticked it last, and when; empty and null while nobody did. */
  pulledBy: z.string(),
  pulledAt: z.string().nullable(),
  /** It tops the van up to what it always carries, and has no totes. */
  forPar: z.boolean(),
  totes: z.array(toteSchema),
})
export type PullLineRow = z.infer<typeof pullLineSchema>

const nextDelivery = z
  .object({ on: calendarDateSchema.nullable(), quantity: pieces, orderNumber: z.string(), supplier: z.string() })
  .nullable()

/** A part that is short, with the stops that lack it. */
export const shortageSchema = z.object({
  part: partName,
  quantity: pieces,
  totes: z.array(toteSchema),
  /** Pieces of it that lie in the warehouse but are past their date by then, or recalled. */
  unfit: pieces,
  nextDelivery,
})
export type ShortageRow = z.infer<typeof shortageSchema>

/** A visit that cannot be served whole: nothing is pulled for it, unless that was asked for. */
export const losingVisitSchema = z.object({
  visitId: visitIdSchema,
  siteId: siteIdSchema,
  stop: z.int(),
  household: z.string(),
  /** Why, in whole sentences: what is short, who has the pieces, when more comes. */
  reason: z.string(),
  lacks: z.array(
    z.object({
      part: partName,
      missing: pieces,
      servedInstead: z.array(z.object({ visitId: visitIdSchema, household: z.string(), quantity: pieces })),
      nextDelivery,
    }),
  ),
  /** Pieces that were pulled, or are promised, for it all the same. */
  pulledAllTheSame: pieces,
  /** Pieces that could be pulled for it all the same: `begin` with its key in `evenIfShort`. */
  couldHave: pieces,
})
export type LosingVisitRow = z.infer<typeof losingVisitSchema>

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
  losers: z.array(losingVisitSchema),
  /** How full the van will be, millilitres; null when nobody measured it. What the visits need is loaded even beyond it. */
  room: z.object({ has: z.number(), taken: z.number() }).nullable(),
  /** What the van does not get of what it always carries. */
  parLeftOut: z.array(z.object({ part: partName, quantity: pieces, why: z.enum(['none-left', 'no-room']) })),
  /** Pieces that could be pulled over and above the lines shown: a visit was added, or something came in. */
  more: pieces,
})
export type VanPullRow = z.infer<typeof vanPullSchema>

export const pullDaySchema = z.object({
  on: calendarDateSchema,
  isPast: z.boolean(),
  /** False when there was too much to weigh: the visits served are then the best set that was found. */
  proved: z.boolean(),
  vans: z.array(vanPullSchema),
  /** Visits that no van drives to yet. */
  withoutVan: z.array(z.object({ visitId: visitIdSchema, household: z.string(), technician: z.string().nullable() })),
  /** Stages to change for which nobody said with what. */
  withoutPart: z.array(
    z.object({ visitId: visitIdSchema, siteId: siteIdSchema, household: z.string(), what: z.string() }),
  ),
})
export type PullDay = z.infer<typeof pullDaySchema>

/** What a line looked like to whoever touches it; when it is another by now, they are told instead. */
const seenSchema = z.object({ quantity: pieces, pulled: pieces.nullable() })

export const SCAN_TICKS = ['piece', 'line'] as const
export type ScanTicks = (typeof SCAN_TICKS)[number]

/** What a scan did: it ticked, it led the hand to a bin, or it is answered with a no. Said in words; the sound follows `kind`. */
export const scanSaidSchema = z.object({
  kind: z.enum(['ticked', 'hand', 'no']),
  sentence: z.string(),
  nextStep: z.string(),
  /** The code of a no. */
  code: z.string().nullable(),
  /** The line that it ticked, leads to, or was mistaken for. */
  lineId: pullLineIdSchema.nullable(),
  /** Where the hand is now. */
  placeId: placeIdSchema.nullable(),
  /** A lot that the books know and the line does not ask for: it may be what lies there instead. */
  otherLotId: lotIdSchema.nullable(),
})
export type ScanSaid = z.infer<typeof scanSaidSchema>

/** What somebody found at the bin that is not as the list says. */
export const findingSchema = z.discriminatedUnion('kind', [
  /** So many of the line are there in all, those in the totes included, and then the lot has run out in that bin. */
  z.object({ kind: z.literal('short'), found: pieces }),
  /** So many of the line are spoilt: they go to quarantine. */
  z.object({ kind: z.literal('damaged'), damaged: z.int().min(1), what: z.string().trim().max(200) }),
  /** So many of the line were taken from another bin, or from another lot. */
  z.object({ kind: z.literal('elsewhere'), lotId: lotIdSchema, placeId: placeIdSchema, quantity: z.int().min(1) }),
])
export type Finding = z.infer<typeof findingSchema>

/** Pieces that lie in another bin or lot and may stand for a line's. */
export const otherHeapSchema = z.object({
  lotId: lotIdSchema,
  lot: z.string(),
  part: partName,
  expiresOn: calendarDateSchema.nullable(),
  placeId: placeIdSchema,
  bin: z.string(),
  /** What the books say lies there and nobody was promised. */
  free: pieces,
})
export type OtherHeap = z.infer<typeof otherHeapSchema>

/** What became of the pieces that were not there: promised from elsewhere, or gone without. */
export const findingDoneSchema = z.object({
  sentence: z.string(),
  instead: z.array(z.object({ bin: z.string(), part: partName, lot: z.string(), quantity: pieces })),
  without: z.array(
    z.object({ stop: z.int(), household: z.string(), part: partName, quantity: pieces, why: z.string() }),
  ),
  /** Pieces in the totes that no stop has a use for any more. */
  putBack: pieces,
})
export type FindingDone = z.infer<typeof findingDoneSchema>

/** What was found on a pull, for whoever looks later. */
export const foundSchema = z.object({
  kind: z.enum(['short', 'damaged', 'elsewhere']),
  part: partName,
  lot: z.string(),
  place: z.string(),
  quantity: pieces,
  at: z.string(),
  by: z.string(),
  note: z.string(),
})
export type Found = z.infer<typeof foundSchema>

const pullDone = z.object({ pullId: pullIdSchema, pieces, van: z.string() })

/** The warehouse's afternoon: what to pull for a day, promise it, tick it off, put it on the van. */
export const pullContract = {
  /** The next day from tomorrow on that has visits; tomorrow's next working day when none has. */
  nextDay: procedure.output(z.object({ on: calendarDateSchema, visits: z.int(), vans: z.int() })),
  day: procedure.input(z.object({ on: calendarDateSchema })).output(pullDaySchema),
  /** Promises the lots to these vans; adds to a pull that is open already. */
  begin: procedure
    .input(
      z.object({
        on: calendarDateSchema,
        vanIds: z.array(vanIdSchema).min(1),
        /** Visits that get what there is though it does not serve them whole; in that order. */
        evenIfShort: z.array(visitIdSchema).default([]),
      }),
    )
    .output(z.array(pullDone)),
  /** Ticks off so many pieces of a line; refused when it changed since it was seen. */
  tick: procedure
    .input(
      z.object({
        pullId: pullIdSchema,
        lineId: pullLineIdSchema,
        pulled: pieces.nullable(),
        seen: seenSchema.optional(),
      }),
    )
    .output(z.object({ pulled: pieces.nullable() })),
  /** Reads what a scanner typed and does what it means. */
  scan: procedure
    .input(
      z.object({
        pullId: pullIdSchema,
        typed: z.string().trim().min(1).max(200),
        /** The bin that was scanned last: a part without its lot is looked for there first. */
        hand: placeIdSchema.nullable(),
        ticks: z.enum(SCAN_TICKS),
      }),
    )
    .output(scanSaidSchema),
  /** Where else the part of a line lies. */
  elsewhere: procedure
    .input(z.object({ pullId: pullIdSchema, lineId: pullLineIdSchema }))
    .output(z.array(otherHeapSchema)),
  /** Books what was found at the bin and promises anew what is left, in one. */
  found: procedure
    .input(
      z.object({
        pullId: pullIdSchema,
        lineId: pullLineIdSchema,
        finding: findingSchema,
        seen: seenSchema.optional(),
      }),
    )
    .output(findingDoneSchema),
  /** What was found on a pull so far. */
  findings: procedure.input(z.object({ pullId: pullIdSchema })).output(z.array(foundSchema)),
  confirm: procedure.input(z.object({ pullId: pullIdSchema })).output(pullDone.extend({ released: pieces })),
  takeBack: procedure.input(z.object({ pullId: pullIdSchema })).output(pullDone),
}
