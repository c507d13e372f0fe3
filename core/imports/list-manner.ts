import type { CalendarDate } from '../units/calendar-date.ts'
import type { ListSheet } from './find-sheet.ts'
import { type DateColumn, type DateOrder, judgeDateColumn, orderForOpenColumn } from './judge-dates.ts'
import { type ColumnUse, stageColumnParts } from './list-fields.ts'
import type { ListMapping } from './list-mapping.ts'
import { type HardnessUnit, hardnessUnitNamed, hardnessUnitOfColumn } from './read-measures.ts'

/** What the office itself does, where a list does not say. */
export interface OfficeManner {
  readonly locale: string
  readonly measures: 'us' | 'metric'
  readonly country: string
  readonly today: CalendarDate
}

/** How a whole list writes its dates, its hardness and its postal codes, judged from whole columns. */
export interface ListManner {
  readonly dateOrders: ReadonlyMap<number, DateOrder>
  readonly hardnessUnit: HardnessUnit
  readonly unitedStates: boolean
  readonly today: CalendarDate
  /** What was judged, aloud: one sentence a finding. */
  readonly said: readonly string[]
  /** Whether some date column could be read either way, so that the screen offers the choice. */
  readonly openDates: boolean
}

const ORDER_WORDS: Readonly<Record<DateOrder, string>> = { 'month-first': 'month first', 'day-first': 'day first' }

function isDateUse(use: ColumnUse): boolean {
  const fact = stageColumnParts(use)?.fact
  if (fact !== undefined) return fact === 'changed-on' || fact === 'due-on'
  return use === 'installed-on' || use === 'filters-changed-on' || use === 'stage-changed-on' || use === 'stage-due-on'
}

/** Judges the manner of a list from its whole columns, and says aloud what was judged. */
export function judgeManner(sheet: ListSheet, mapping: ListMapping, office: OfficeManner): ListManner {
  const said: string[] = []
  const dates = judgeDates(sheet, mapping, office, said)
  return {
    ...dates,
    hardnessUnit: judgeHardness(sheet, mapping, office, said),
    unitedStates: writesUnitedStatesCodes(sheet, mapping, office),
    today: office.today,
    said,
  }
}

function judgeDates(
  sheet: ListSheet,
  mapping: ListMapping,
  office: OfficeManner,
  said: string[],
): { dateOrders: ReadonlyMap<number, DateOrder>; openDates: boolean } {
  const columns = mapping.uses.flatMap((use, index) =>
    isDateUse(use) ? [{ index, judged: judgeDateColumn(cellsOf(sheet, index)) }] : [],
  )
  const all = columns.map(({ judged }) => judged)
  const dateOrders = new Map<number, DateOrder>()
  for (const { index, judged } of columns) {
    const order = judged.order ?? mapping.dateOrder ?? orderForOpenColumn(all, office.locale)
    dateOrders.set(index, order)
    const sentence = dateSentence(sheet.columns[index] ?? '', judged, order, mapping.dateOrder !== null, all)
    if (sentence !== '') said.push(sentence)
    if (judged.hasSerials) {
      said.push(
        `"${sheet.columns[index] ?? ''}" holds day numbers of a spreadsheet; they are counted from the end of 1899.`,
      )
    }
  }
  return { dateOrders, openDates: all.some((column) => column.grounds === 'open') }
}

function dateSentence(
  name: string,
  judged: DateColumn,
  order: DateOrder,
  chosen: boolean,
  all: readonly DateColumn[],
): string {
  const words = ORDER_WORDS[order]
  if (judged.grounds === 'shown') return `"${name}" writes the ${words}, as ${judged.example} shows.`
  if (judged.grounds === 'mixed') {
    return `"${name}" mixes both orders; it is read ${words}, as most of it is, and the rows that cannot be are refused.`
  }
  if (judged.grounds === 'none') return ''
  if (chosen) return `"${name}" is read ${words}, as you chose.`
  const like = all.some((column) => column.grounds === 'shown')
    ? 'as the other dates of this list are'
    : "as the office's country does"
  return `Every date in "${name}" could be read either way; it is read ${words}, ${like}.`
}

function judgeHardness(sheet: ListSheet, mapping: ListMapping, office: OfficeManner, said: string[]): HardnessUnit {
  const index = mapping.uses.indexOf('hardness')
  const name = sheet.columns[index] ?? ''
  const judged = hardnessUnitOfColumn(name, index < 0 ? [] : [...cellsOf(sheet, index)], office.measures)
  const unit = mapping.hardnessUnit ?? judged
  if (index >= 0 && hardnessUnitNamed(name) === null) said.push(`Bare numbers in "${name}" are taken as ${unit}.`)
  return unit
}

/** Whether most codes are US ones, or what a spreadsheet left of them; the office's country decides an open case. */
function writesUnitedStatesCodes(sheet: ListSheet, mapping: ListMapping, office: OfficeManner): boolean {
  const atHome =
    /^(?:us|usa|united states.*)$/i.test(office.country.trim()) || (office.country === '' && office.locale === 'en-US')
  const index = mapping.uses.indexOf('postal-code')
  if (index < 0) return atHome
  const cells = [...cellsOf(sheet, index)].map((cell) => cell.trim().replace(/^'/, '')).filter((cell) => cell !== '')
  const digits = cells.filter((cell) => /^\d{3,5}(?:-?\d{4})?$/.test(cell)).length
  return atHome && digits * 2 >= cells.length
}

function* cellsOf(sheet: ListSheet, index: number): Iterable<string> {
  for (const row of sheet.rows) yield row.cells[index] ?? ''
}
