import { z } from 'zod'
import { stageKindSchema } from '../installations/stage-kinds.ts'
import { type CalendarDate, calendarDateSchema } from '../units/calendar-date.ts'
import { installationIdSchema, type SiteId, type StageId, siteIdSchema, stageIdSchema } from '../units/ids.ts'
import { type Cents, centsSchema } from '../units/money.ts'
import { minutesSchema } from '../units/time-of-day.ts'

/**
 * Why a stage is seen to on a planned visit: `forced`, it calls for the visit and cannot wait for a later one; `along`, it could wait,
 * but seeing to it now costs less in the end; `carried`, it goes with another (the tank with its membrane).
 */
export const changeKindSchema = z.enum(['forced', 'along', 'carried'])
export type ChangeKind = z.infer<typeof changeKindSchema>

export const plannedChangeShapeSchema = z.object({
  stageId: stageIdSchema,
  installationId: installationIdSchema,
  kind: stageKindSchema,
  /** The stage's own name, or the usual one. With more than one unit the unit is said in `unit`. */
  label: z.string(),
  unit: z.string(),
  care: z.enum(['change', 'sanitise']),
  /** When it falls due in that round; null for a tank without a date that goes with its membrane. */
  dueOn: calendarDateSchema.nullable(),
  because: changeKindSchema,
  /** In words: "due Nov 9" or "would fall due in 7 weeks; leaving it would cost $38.00 more by 2031". */
  why: z.string(),
  /** Days of its life that are given up by not waiting for its due date; 0 when it is due or late. */
  givesUpDays: z.int().min(0),
  /** What leaving it for a later visit would cost more over the horizon; only on the next visit and for what goes along. */
  leavingCostsCents: centsSchema.nullable(),
})
export type PlannedChangeShape = z.infer<typeof plannedChangeShapeSchema>

export const plannedVisitShapeSchema = z.object({
  /** From this day on the visit is worth the drive: what calls for it is due. */
  visitOn: calendarDateSchema,
  /** The last day that the grace allows. */
  latestOn: calendarDateSchema,
  /** At the household: the call and the work, without the drive. */
  minutes: minutesSchema,
  /** What it costs the office: the call, parts and labour. */
  cents: centsSchema,
  changes: z.array(plannedChangeShapeSchema),
})
export type PlannedVisitShape = z.infer<typeof plannedVisitShapeSchema>

export const planWishesSchema = z.object({
  /** Months (1 to 12) that visits are kept out of where that can be; none: as the office has it. */
  avoidMonths: z.array(z.int().min(1).max(12)).max(12),
  /** Null: as the office has it. */
  membraneNeverEarly: z.boolean().nullable(),
  /** Falls on a day on which a neighbouring place of the same customer is visited, where that saves a call. */
  align: z.boolean(),
})
export type PlanWishes = z.infer<typeof planWishesSchema>

/** The plan of a household, for a screen and for those who do not see it. */
export const householdPlanSchema = z.object({
  siteId: siteIdSchema,
  plannedOn: calendarDateSchema,
  horizonOn: calendarDateSchema,
  visits: z.array(plannedVisitShapeSchema),
  /** What to do next, in one sentence; what is missing when nothing can be planned. */
  next: z.string(),
  /** What the plan costs the office over the horizon, less the life left in the parts at its end. */
  totalCents: centsSchema,
  creditCents: centsSchema,
  /** Against every stage on its own date; never below nothing. */
  savesOwnDatesCents: centsSchema,
  ownDatesVisits: z.int(),
  /** Against everything at every call; never below nothing. */
  savesEverythingCents: centsSchema,
  everythingVisits: z.int(),
  /** What the plan saves, in sentences. */
  savings: z.array(z.string()),
  /** The figures it was reckoned with, in words: "a call costs $64.00". */
  figures: z.array(z.string()),
  /** Nothing cheaper exists; false when there was too much to weigh, and then `savings` says so. */
  proved: z.boolean(),
  wishes: planWishesSchema,
  /** The wishes in force, the office's included, in words. */
  wishesInForce: z.array(z.string()),
  /** Version of the household, for saving wishes. */
  version: z.int(),
  /** Why a stage that is due soon is not seen to on the next visit, or cannot be planned at all. */
  notPlanned: z.array(
    z.object({
      stageId: stageIdSchema,
      label: z.string(),
      unit: z.string(),
      why: z.string(),
      /** A membrane that holds: measured at every visit, not changed. */
      stays: z.boolean(),
    }),
  ),
  /** The same as the pictures show, sentence by sentence. */
  sentences: z.array(z.string()),
})
export type HouseholdPlan = z.infer<typeof householdPlanSchema>

/** What to do on a visit on a given day, stage by stage in flow order. */
export const proposedTaskShapeSchema = z.object({
  stageId: stageIdSchema,
  care: z.enum(['change', 'sanitise']),
  proposed: z.boolean(),
  why: z.string(),
})

/** A household's plan as the books keep it: in short, and the visits of the next months. */
export interface KeptPlan {
  readonly siteId: SiteId
  readonly horizonOn: CalendarDate
  /** Over the whole horizon. */
  readonly visitCount: number
  readonly totalCents: Cents
  readonly savesOwnDatesCents: Cents
  readonly savesEverythingCents: Cents
  readonly proved: boolean
  readonly visits: readonly KeptVisit[]
}

export interface KeptVisit {
  readonly visitOn: CalendarDate
  readonly latestOn: CalendarDate
  readonly minutes: number
  readonly cents: Cents
  readonly changes: readonly {
    readonly stageId: StageId
    readonly because: ChangeKind
    readonly dueOn: CalendarDate | null
  }[]
}
