import { monthsAwayInWords } from '../customers/months-away.ts'
import { nameInLine, stagesInWords } from '../due/household-reason.ts'
import { STAGE_KIND_WORDS } from '../installations/stage-kinds.ts'
import { listed } from '../installations/stage-train-words.ts'
import { type CalendarDate, daysBetween, partsOf } from '../units/calendar-date.ts'
import { counted, distanceInWords, shortDate, spanInWords } from '../units/date-words.ts'
import { type Cents, formatCents } from '../units/money.ts'
import { horizonOf, type PlanFigures, type StageToPlan } from './plan-household.ts'
import type { ChangeKind, PlannedVisitShape, PlanWishes } from './plan-shapes.ts'

/** How the office writes. */
export interface Manner {
  readonly today: CalendarDate
  readonly locale: string
  readonly currency: string
}

export interface ChangeToSay {
  readonly because: ChangeKind
  readonly dueOn: CalendarDate | null
  readonly visitOn: CalendarDate
  readonly leavingCostsCents: Cents | null
  readonly horizonOn: CalendarDate
  readonly carrier: string
}

/**
 * Why a stage is seen to on a visit: "due Nov 9, 2026, 16 days late"; "would fall due 7 weeks later, Jan 27, 2027; leaving it would
 * cost $38.00 more by 2031"; "goes with the membrane".
 */
export function whyChanged(change: ChangeToSay, manner: Manner): string {
  const { because, dueOn, visitOn, leavingCostsCents, horizonOn, carrier } = change
  if (because === 'carried') return `goes with the ${carrier}`
  if (dueOn === null) return 'no date known'
  const later = daysBetween(visitOn, dueOn)
  const date = shortDate(dueOn, manner.locale)
  const when = later < 0 ? `due ${date}, ${lateInWords(dueOn, visitOn, manner)}` : `due ${date}`
  if (because === 'forced') return when
  const falls = later > 0 ? `would fall due ${spanInWords(later)} later, ${date}` : when
  if (leavingCostsCents === null) return falls
  return leavingCostsCents === 0
    ? `${falls}; seeing to it now costs nothing more`
    : `${falls}; leaving it would cost ${money(leavingCostsCents, manner)} more by ${partsOf(horizonOn).year}`
}

/** "16 days late"; of a visit to come "3 weeks late by then". */
function lateInWords(dueOn: CalendarDate, visitOn: CalendarDate, { today }: Manner): string {
  return `${distanceInWords(dueOn, visitOn)}${visitOn > today ? ' by then' : ''}`
}

/** What a visit does: "change all filters, and sanitise the tank". `all` are the household's stages in flow order. */
export function visitInWords(changes: readonly NamedStage[], all: readonly NamedStage[]): string {
  const inOrder = all.filter((stage) => changes.some(({ stageId }) => stageId === stage.stageId))
  const acts = (['change', 'sanitise'] as const).flatMap((care) => {
    const own = inOrder.filter(({ kind }) => STAGE_KIND_WORDS[kind].care === care)
    return own.length === 0 ? [] : [`${care} ${listed(namesOf(own, all))}`]
  })
  return acts.join(', and ')
}

/** A stage by its names; `unit` is blank where the household has one unit only. */
export type NamedStage = Pick<StageToPlan, 'stageId' | 'kind' | 'label' | 'unit'>

function namesOf(chosen: readonly NamedStage[], all: readonly NamedStage[]): string[] {
  const reasoned = (stage: NamedStage) => ({ ...stage, dueOn: null, reason: '' })
  const units = [...new Set(all.map(({ unit }) => unit))]
  return units.flatMap((unit) => {
    const kept = all.filter((stage) => stage.unit === unit).map(reasoned)
    const own = kept.filter((stage) => chosen.some(({ stageId }) => stageId === stage.stageId))
    if (own.length === 0) return []
    const names = stagesInWords(own, kept).split(', ')
    return names.map((name) => `${name === 'all filters' ? name : `the ${name}`}${unit === '' ? '' : ` (${unit})`}`)
  })
}

/** "the post filter", with its unit where the household has several. */
export function stageInLine(stage: Pick<NamedStage, 'kind' | 'label' | 'unit'>): string {
  return `the ${nameInLine(stage)}${stage.unit === '' ? '' : ` (${stage.unit})`}`
}

/** When a visit may be: "now", "on Nov 9, 2026", "between Nov 9, 2026 and Dec 9, 2026". */
export function whenInPlan(visit: Pick<PlannedVisitShape, 'visitOn' | 'latestOn'>, manner: Manner): string {
  const { visitOn, latestOn } = visit
  if (latestOn <= manner.today) return 'now'
  if (visitOn <= manner.today) return `now, or by ${shortDate(latestOn, manner.locale)} at the latest`
  if (visitOn === latestOn) return `on ${shortDate(visitOn, manner.locale)}`
  return `between ${shortDate(visitOn, manner.locale)} and ${shortDate(latestOn, manner.locale)}`
}

/** "Next visit now: change the sediment, and sanitise the tank." */
export function nextInWords(
  visit: PlannedVisitShape | undefined,
  all: readonly NamedStage[],
  missing: string,
  manner: Manner,
): string {
  if (!visit) return missing
  return `Next visit ${whenInPlan(visit, manner)}: ${visitInWords(visit.changes, all) || 'nothing is due by then'}.`
}

export interface Comparison {
  readonly visits: number
  readonly totalCents: number
}

/** What the plan saves, over how long, against what; and what is not known for sure. */
export function savingsInWords(
  plan: Comparison,
  ownDates: Comparison,
  everything: Comparison,
  figures: PlanFigures,
  proved: boolean,
  manner: Manner,
): string[] {
  const years = counted(figures.planHorizonYears, 'year')
  const over = `Over ${years}: ${costInWords(plan, manner)}.`
  const against = (other: Comparison, what: string): string => {
    const less = other.totalCents - plan.totalCents
    const said = `${what} would be ${costInWords(other, manner)}`
    return less > 0 ? `${said}: this saves ${money(less, manner)}.` : `${said}: no more than this.`
  }
  return [
    over,
    against(ownDates, 'Every stage on its own date'),
    against(everything, 'Everything at every visit'),
    ...(proved
      ? []
      : ['There was too much here to weigh everything against everything: a good plan, but perhaps not the cheapest.']),
  ]
}

function costInWords({ visits, totalCents }: Comparison, manner: Manner): string {
  return `${counted(visits, 'visit')} for ${money(totalCents, manner)}`
}

/** The figures a plan rests on, in words. */
export function figuresInWords(figures: PlanFigures, stages: readonly StageToPlan[], manner: Manner): string[] {
  const horizon = shortDate(horizonOf(figures), manner.locale)
  const unknown = stages.filter((stage) => STAGE_KIND_WORDS[stage.kind].care === 'change' && stage.partCents === null)
  return [
    `A call costs ${money(figures.callCostCents, manner)} before a part is changed.`,
    `An hour of work costs ${money(figures.hourCostCents, manner)}; a part costs what it was bought for, or its price where that is not known.`,
    ...(unknown.length === 0
      ? []
      : [`No part is chosen for ${listed([...new Set(unknown.map(stageInLine))])}: only the work is counted there.`]),
    `A stage may wait ${counted(figures.graceDays, 'day')} past its date.`,
    `Reckoned to ${horizon}; life left in the parts then is taken off.`,
  ]
}

/** The wishes in force, in words; none when nothing is wished. */
export function wishesInWords(
  wishes: PlanWishes,
  figures: PlanFigures,
  costsCents: number | null,
  manner: Manner,
): string[] {
  const months = wishes.avoidMonths.length > 0 ? wishes.avoidMonths : figures.avoidMonths
  const whose = wishes.avoidMonths.length > 0 ? '' : ', as everywhere in the office'
  const said = [
    ...(months.length > 0 && months.length < 12
      ? [`Kept free of visits where that can be: ${monthsAwayInWords(months)}${whose}.`]
      : []),
    ...((wishes.membraneNeverEarly ?? figures.membraneNeverEarly)
      ? [
          `The membrane is never changed before it is due${wishes.membraneNeverEarly === null ? ', as everywhere in the office' : ''}.`,
        ]
      : []),
    ...(wishes.align ? ['Together with a neighbouring place of the same customer where that saves a drive.'] : []),
  ]
  if (said.length === 0 || costsCents === null) return said
  return [...said, costsCents > 0 ? `That costs ${money(costsCents, manner)} more.` : 'That costs nothing more.']
}

/** Why a stage is not seen to on the next visit. */
export function whyNotTaken(
  stage: StageToPlan,
  givesUpDays: number,
  takingCostsCents: number | null,
  horizonOn: CalendarDate,
  manner: Manner,
): string {
  if (stage.stays) return stage.reason
  if (stage.dueOn === null)
    return `${stage.reason === '' ? 'no date known' : stage.reason}: look at it, and write down when it was last seen to`
  const due = `due ${shortDate(stage.dueOn, manner.locale)}`
  if (takingCostsCents === null) return `${due}: it is not changed before it is due`
  if (takingCostsCents === 0) return `${due}: it can wait, and waiting costs nothing`
  const gives = givesUpDays > 0 ? `give up ${spanInWords(givesUpDays)} of its life and ` : ''
  return `${due}: seeing to it now would ${gives}cost ${money(takingCostsCents, manner)} more by ${partsOf(horizonOn).year}`
}

function money(amount: number, manner: Manner): string {
  return formatCents(amount as Cents, manner.currency, manner.locale)
}
