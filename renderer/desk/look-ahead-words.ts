import type { WeekAhead } from '../../core/desk/desk-contract.ts'
import { counted, dayAndMonth } from '../../core/units/date-words.ts'

/** The look-ahead in words: what is late, the fullest week, and the whole. */
export function lookAheadInWords(weeks: readonly WeekAhead[], locale: string): string {
  const stages = weeks.reduce((sum, week) => sum + week.stages, 0)
  const visits = weeks.reduce((sum, week) => sum + week.visits, 0)
  const late = weeks.reduce((sum, week) => sum + week.lateStages, 0)
  const fullest = weeks.reduce<WeekAhead | null>(
    (most, week) => (week.stages - week.lateStages > (most ? most.stages - most.lateStages : 0) ? week : most),
    null,
  )
  return [
    `${counted(stages, 'stage')} and ${counted(visits, 'booked visit')} in ${counted(weeks.length, 'week')}.`,
    late > 0 ? `${counted(late, 'stage')} late already.` : '',
    fullest
      ? `The fullest week begins ${dayAndMonth(fullest.monday, locale)}, with ${counted(fullest.stages - fullest.lateStages, 'stage')}.`
      : '',
  ]
    .filter((sentence) => sentence !== '')
    .join(' ')
}

/** The round number at or above, even so that half of it is whole: 2, 4, 6, 8, 10, 12, 16, 20, 30, 40, 50, 60, 80, 100, 120 ... */
export function niceCeiling(count: number): number {
  if (count <= 2) return 2
  const power = 10 ** Math.floor(Math.log10(count))
  const rounds = [1, 1.2, 1.6, 2, 3, 4, 5, 6, 8, 10].map((step) => step * power)
  return Math.round(rounds.find((round) => round >= count && Number.isInteger(round / 2)) ?? 10 * power)
}
