import { STAGE_KIND_WORDS, type StageKind } from '../../core/installations/stage-kinds.ts'
import { addMonths, calendarDate } from '../../core/units/calendar-date.ts'
import { installationIdSchema, siteIdSchema, stageIdSchema } from '../../core/units/ids.ts'
import { cents } from '../../core/units/money.ts'
import { NextDueShelf } from '../../core/visits/next-due-shelf.ts'
import type { HouseholdToPlan, PlanFigures, StageToPlan } from '../../core/visits/plan-household.ts'
import type { Manner } from '../../core/visits/plan-words.ts'

export const PLANNED_ON = calendarDate('2026-11-25')
export const MANNER: Manner = { today: PLANNED_ON, locale: 'en-US', currency: 'USD' }
export const aShelf = () => new NextDueShelf(PLANNED_ON)

/** A call costs 64.00, an hour 30.00, a grace of 30 days, five years. */
export function planFigures(own: Partial<PlanFigures> = {}): PlanFigures {
  return {
    today: PLANNED_ON,
    graceDays: 30,
    planHorizonYears: 5,
    callCostCents: cents(6400),
    hourCostCents: cents(3000),
    callMinutes: 20,
    avoidMonths: [],
    membraneNeverEarly: false,
    ...own,
  }
}

/** A stage that lasts so many months; the tank is sanitised. `number` tells stages apart. */
export function aStageToPlan(
  number: number,
  kind: StageKind,
  dueOn: string | null,
  months: number,
  own: Partial<StageToPlan> = {},
): StageToPlan {
  const isTank = STAGE_KIND_WORDS[kind].care === 'sanitise'
  return {
    stageId: stageIdSchema.parse(number),
    installationId: installationIdSchema.parse(1),
    kind,
    label: STAGE_KIND_WORDS[kind].name,
    unit: '',
    dueOn: dueOn === null ? null : calendarDate(dueOn),
    reason: `${months} months`,
    again: { key: `${months}m`, after: (changedOn) => addMonths(changedOn, months) },
    partCents: isTank ? null : cents(1500),
    minutes: isTank ? 25 : 8,
    ...own,
  }
}

export function aHouseholdToPlan(stages: readonly StageToPlan[], own: Partial<HouseholdToPlan> = {}): HouseholdToPlan {
  return {
    siteId: siteIdSchema.parse(7),
    stages,
    wishes: { avoidMonths: [], membraneNeverEarly: null, align: false },
    neighbourDays: [],
    bookedOn: null,
    ...own,
  }
}

/** Five stages from feed to tap: the filters late, the post filter due in the spring, the membrane in two years. */
export function fiveStages(): StageToPlan[] {
  return [
    aStageToPlan(1, 'sediment', '2026-11-09', 6),
    aStageToPlan(2, 'carbon', '2026-11-09', 6, { partCents: cents(2200) }),
    aStageToPlan(3, 'membrane', '2028-05-09', 24, { partCents: cents(7800), minutes: 15 }),
    aStageToPlan(4, 'tank', '2027-05-09', 12),
    aStageToPlan(5, 'post-carbon', '2027-01-04', 12, { partCents: cents(1800) }),
  ]
}
