import type { KnownHousehold } from '../../core/imports/find-likeness.ts'
import type { JudgedList } from '../../core/imports/judge-list.ts'
import { judgeList } from '../../core/imports/judge-list.ts'
import type { OfficeManner } from '../../core/imports/list-manner.ts'
import type { ListMapping } from '../../core/imports/list-mapping.ts'
import { guessColumns, mappingOfGuesses, type OpenedList, openList } from '../../core/imports/open-list.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'

export const LIST_DAY = calendarDate('2026-12-01')
export const US_OFFICE: OfficeManner = { locale: 'en-US', measures: 'us', country: 'US', today: LIST_DAY }

/** A list opened from text; a refusal is the test's own mistake. */
export function anOpenedList(text: string): OpenedList {
  const opened = openList('list.csv', text, LIST_DAY)
  if (!opened.ok) throw new Error(opened.problem.sentence)
  return opened.value
}

/** A list read as far as the judged rows, by its guesses or with some of the mapping given. */
export function aJudgedList(
  text: string,
  given: Partial<ListMapping> = {},
  office: OfficeManner = US_OFFICE,
  books: readonly KnownHousehold[] = [],
): JudgedList {
  const { sheet } = anOpenedList(text)
  return judgeList(sheet, { ...mappingOfGuesses(guessColumns(sheet, LIST_DAY)), ...given }, office, books)
}
