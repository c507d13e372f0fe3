import type { DueFilter } from '../../core/due/due-contract.ts'
import { STAGE_KIND_WORDS, STAGE_KINDS, type StageKind } from '../../core/installations/stage-kinds.ts'
import { counted, dayAndMonth } from '../../core/units/date-words.ts'
import type { Choice } from '../design/ChoiceField.tsx'

/** How far ahead, in days: the office plans by weeks. */
export const WITHIN: readonly Choice<string>[] = [
  { id: '0', words: 'today, and late' },
  { id: '7', words: '1 week' },
  { id: '14', words: '2 weeks' },
  { id: '28', words: '4 weeks' },
  { id: '56', words: '8 weeks' },
  { id: '91', words: '13 weeks' },
  { id: '182', words: '26 weeks' },
  { id: '365', words: 'a year' },
]

export const STAGES: readonly Choice<StageKind | 'any'>[] = [
  { id: 'any', words: 'any' },
  ...STAGE_KINDS.map((kind) => ({ id: kind, words: STAGE_KIND_WORDS[kind].name.toLowerCase() })),
]

export const LETTERS: readonly Choice<DueFilter['letters']>[] = [
  { id: 'any', words: 'any' },
  { id: 'none', words: 'none yet' },
  { id: 'first', words: 'first sent' },
  { id: 'second', words: 'second sent' },
  { id: 'final', words: 'final sent' },
  { id: 'booked', words: 'visit booked' },
]

export const ALL_TOWNS = 'all'

/** What the Due tray opens with: everything of the next four weeks. */
export const USUAL_FILTER: DueFilter = { withinDays: 28, towns: [], stages: [], letters: 'any', search: '' }

/** "within 4 weeks", "today or late". */
export function withinInWords(days: number): string {
  if (days === 0) return 'due today or late'
  return `due within ${WITHIN.find((choice) => choice.id === String(days))?.words ?? `${days} days`}`
}

/** What the list holds: "42 households are due within 4 weeks", "14 households have their next visit in the week of Jan 11". */
export function titleOf(total: number, { planned, withinDays }: DueFilter, locale: string): string {
  const households = counted(total, 'household')
  const is = total === 1 ? 'is' : 'are'
  if (planned === undefined) return `${households} ${is} ${withinInWords(withinDays)}`
  if (planned === 'late') return `${households} ${is} past the grace`
  return `${households} ${total === 1 ? 'has its' : 'have their'} next visit in the week of ${dayAndMonth(planned, locale)}`
}

/** The button for letters: to the chosen ones, or, where the list is one week's, to all of them. */
export function writeWords(chosen: number, all: number | undefined): string {
  if (chosen > 0) return `Write ${counted(chosen, 'letter')}`
  return all === undefined || all === 0
    ? 'Write letters'
    : `Write to ${all === 1 ? 'this household' : `all ${all.toLocaleString('en-US')} households`}`
}
