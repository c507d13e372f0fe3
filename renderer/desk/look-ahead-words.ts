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

/** The round number at or above: 1, 2 or 5 times a power of ten, and even, so that half of it is whole. */
export function niceCeiling(count: number): number {
  if (count <= 2) return 2
  const power = 10 ** Math.floor(Math.log10(count))
  const step = [1, 2, 4, 6, 8, 10].find((candidate) => candidate * power >= count) ?? 10
  return step * power
}
