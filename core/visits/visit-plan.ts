/** Whole days counted from the day the plan is made; that day is 0, what is past is negative. */
export type PlanDay = number

/** When a stage falls due again, for a change on each day of the horizon. Built by `next-due.ts`. */
export interface NextDue {
  /** Index: day of the change, 0 to the horizon. Value: the day it is due again. Never falls. */
  readonly dueAt: Int32Array
  /** The longest time from a change to the next due date, in days. */
  readonly longestDays: number
  /** What counts as a whole life when the rest of it is credited at the horizon, in days. */
  readonly lifeDays: number
}

/** One stage as the planner sees it. */
export interface PlannableStage {
  /** Due now on this day; negative when it is late. */
  readonly dueDay: PlanDay
  /** Days it may run past its due date. */
  readonly graceDays: number
  readonly next: NextDue
  /** Part and labour of one change, whole cents; or a cost for each day of the horizon. */
  readonly costCents: number | readonly number[]
  /** Never changed before it is due. */
  readonly neverEarly: boolean
  /** Not seen to before this day, though it may be due; for asking what leaving it would cost. */
  readonly notBefore?: PlanDay
  /** Stages (by index) that are seen to whenever this one is: a tank is sanitised with its membrane. */
  readonly carries: readonly number[]
}

/** Days on which a call costs more, or less when the figure is negative: first and last day, and the difference in cents. */
export interface CallDifference {
  readonly from: PlanDay
  readonly until: PlanDay
  readonly cents: number
}

/** What is to be planned: the stages that one call can see to. */
export interface VisitPlanQuestion {
  readonly stages: readonly PlannableStage[]
  /** The first day a visit can be on. What is late then is forced on this day. */
  readonly firstDay: PlanDay
  /** The last day looked at. */
  readonly horizonDay: PlanDay
  /** A call before a single part is changed, whole cents. */
  readonly callCents: number
  readonly callDifferences: readonly CallDifference[]
  /** Whether the life left in the parts at the horizon is credited. */
  readonly creditsLifeLeft: boolean
}

export interface PlannedVisit {
  readonly day: PlanDay
  /** Indexes into the question's stages, ascending. */
  readonly changes: readonly number[]
}

/** Visits in order of day, and what they cost over the horizon; whole cents. */
export interface VisitPlan {
  readonly visits: readonly PlannedVisit[]
  readonly callsCents: number
  readonly changesCents: number
  readonly creditCents: number
  /** Calls and changes less the credit. */
  readonly totalCents: number
}

/** What one change of a stage costs on a day. */
export function changeCents(stage: PlannableStage, day: PlanDay): number {
  return typeof stage.costCents === 'number' ? stage.costCents : (stage.costCents[day] ?? 0)
}

/** What a call costs on a day; never below nothing. */
export function callCentsOn(question: VisitPlanQuestion, day: PlanDay): number {
  let sum = question.callCents
  for (const { from, until, cents } of question.callDifferences) if (day >= from && day <= until) sum += cents
  return Math.max(sum, 0)
}

/** The worth of the life that a stage due on `dueDay` has left at the horizon, whole cents, rounded down. */
export function creditCents(question: VisitPlanQuestion, stage: PlannableStage, dueDay: PlanDay): number {
  if (!question.creditsLifeLeft || dueDay <= question.horizonDay) return 0
  const { lifeDays } = stage.next
  const left = Math.min(dueDay - question.horizonDay, lifeDays)
  return Math.floor((changeCents(stage, question.horizonDay) * left) / lifeDays)
}

/** Reckons what given visits cost; they need not be good ones. */
export function costOfVisits(question: VisitPlanQuestion, visits: readonly PlannedVisit[]): VisitPlan {
  const dueDays = question.stages.map((stage) => stage.dueDay)
  let callsCents = 0
  let changesCents = 0
  for (const { day, changes } of visits) {
    callsCents += callCentsOn(question, day)
    for (const index of changes) {
      const stage = question.stages[index]
      if (!stage) throw new RangeError(`No stage ${index}`)
      changesCents += changeCents(stage, day)
      dueDays[index] = stage.next.dueAt[day] ?? day
    }
  }
  const credit = question.stages.reduce(
    (sum, stage, index) => sum + creditCents(question, stage, dueDays[index] ?? 0),
    0,
  )
  return { visits, callsCents, changesCents, creditCents: credit, totalCents: callsCents + changesCents - credit }
}
