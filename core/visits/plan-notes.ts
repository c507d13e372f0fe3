import { monthAndYear } from '../due/picture-frame.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import { dayAndMonth, distanceInWords } from '../units/date-words.ts'
import type { StageId } from '../units/ids.ts'
import type { HouseholdPlan, PlannedVisitShape } from './plan-shapes.ts'

/** What the plan does with each stage that it sees to, in a few words for under its vessel; with the next visit or a later one. */
export function notesOfPlan(
  plan: Pick<HouseholdPlan, 'visits' | 'notPlanned'>,
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
  for (const { stageId, stays } of plan.notPlanned) if (stays) notes.set(stageId, 'stays, measured at every visit')
  return notes
}

/**
 * "change sediment, carbon; sanitise tank". In a household with more than one unit, unit by unit: "The unit under the kitchen sink: change
 * sediment".
 */
export function visitInWords({ changes }: Pick<PlannedVisitShape, 'changes'>): string {
  const units = [...new Set(changes.map((change) => change.unit))]
  return units
    .map((unit) => {
      const work = workInWords(changes.filter((change) => change.unit === unit))
      return unit === '' ? work : `${unit}: ${work}`
    })
    .join('. ')
}

function workInWords(changes: PlannedVisitShape['changes']): string {
  return (['change', 'sanitise'] as const)
    .flatMap((care) => {
      const names = changes.filter((change) => change.care === care).map((change) => change.label.toLowerCase())
      return names.length === 0 ? [] : [`${care} ${names.join(', ')}`]
    })
    .join('; ')
}
