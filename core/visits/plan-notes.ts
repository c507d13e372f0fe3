import { monthAndYear } from '../due/picture-frame.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import { dayAndMonth, distanceInWords } from '../units/date-words.ts'
import type { StageId } from '../units/ids.ts'
import type { HouseholdPlan, PlannedVisitShape } from './plan-shapes.ts'

/** What the plan does with each stage that it sees to, in a few words for under its vessel; with the next visit or a later one. */
export function notesOfPlan(
  plan: Pick<HouseholdPlan, 'visits'>,
  { today, locale }: { readonly today: CalendarDate; readonly locale: string },
): ReadonlyMap<StageId, string> {
  const notes = new Map<StageId, string>()
  for (const [index, visit] of plan.visits.entries())
    for (const { stageId, because, dueOn } of visit.changes) {
      if (notes.has(stageId)) continue
      if (index > 0) notes.set(stageId, `visit of ${monthAndYear(visit.visitOn)}`)
      else if (because === 'carried') notes.set(stageId, 'along, with the membrane')
      else if (because === 'along' && dueOn !== null && dueOn > today)
        notes.set(stageId, `along, would fall due ${distanceInWords(dueOn, today)}`)
      else
        notes.set(
          stageId,
          `next visit, ${visit.visitOn <= today ? 'now' : `from ${dayAndMonth(visit.visitOn, locale)}`}`,
        )
    }
  return notes
}

/** "change sediment, carbon; sanitise tank". The unit is named where a household has more than one. */
export function visitInWords(visit: Pick<PlannedVisitShape, 'changes'>): string {
  return (['change', 'sanitise'] as const)
    .flatMap((care) => {
      const names = visit.changes.filter((change) => change.care === care).map((change) => nameOfPlanned(change))
      return names.length === 0 ? [] : [`${care} ${names.join(', ').toLowerCase()}`]
    })
    .join('; ')
}

export const nameOfPlanned = ({ label, unit }: { readonly label: string; readonly unit: string }): string =>
  unit === '' ? label : `${label}, ${unit}`
