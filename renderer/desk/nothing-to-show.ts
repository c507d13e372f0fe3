import { counted } from '../../core/units/date-words.ts'
import type { LookAhead } from '../../core/visits/look-ahead-shapes.ts'

/** Why there is nothing to draw, and what to do; null when there is something. */
export function nothingToShow({
  weeks,
  late,
  households,
  notPlanned,
}: LookAhead): { readonly why: string; readonly todo: string } | null {
  if (late.visits > 0 || weeks.some((week) => week.planned.visits + week.booked.visits > 0)) return null
  if (households === 0)
    return {
      why: 'Nothing is known to fall due in this time.',
      todo: 'Bring in a list of households, or add one; what they are due for is drawn here week by week.',
    }
  if (notPlanned > 0)
    return {
      why: `${counted(notPlanned, 'household')} ${notPlanned === 1 ? 'has' : 'have'} due dates, and no visit is planned yet.`,
      todo: 'Planning goes on by itself and says at the foot how far it is; the weeks are drawn here once it is done.',
    }
  return {
    why: `No visit of the ${counted(households, 'household')} falls into this time.`,
    todo: 'What is due later is in the Due tray: look a year ahead there.',
  }
}
