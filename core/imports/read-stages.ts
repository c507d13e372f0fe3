import type { StageKind } from '../installations/stage-kinds.ts'
import { STAGE_KIND_WORDS } from '../installations/stage-kinds.ts'
import { addMonths, type CalendarDate } from '../units/calendar-date.ts'
import { shortDate } from '../units/date-words.ts'
import { stageNamed } from './column-words.ts'
import { type Finding, note, refusal } from './finding.ts'
import { readDate } from './judge-dates.ts'
import type { ListManner } from './list-manner.ts'
import { readMonths, readNumber } from './read-measures.ts'
import type { ColumnPlaces, RowCells } from './row-cells.ts'

/** A stage as one row tells it; what it does not tell is null or empty. */
export interface ListStage {
  readonly kind: StageKind
  /** Which of several of its kind, 1 for the first; null where the list does not say. */
  readonly nth: number | null
  /** Which of its kind in the unit a refused row is that is brought again; null in any other list. */
  readonly rank: number | null
  readonly place: number | null
  /** The list's own word, kept where it says more than the kind. */
  readonly label: string
  readonly changedOn: CalendarDate | null
  readonly dueOn: CalendarDate | null
  readonly months: number | null
  readonly part: string
}

export interface DateCell {
  readonly cell: string
  readonly column: string
  readonly index: number
  readonly about: 'past' | 'due'
}

const OLDEST_YEARS = 60

/** Reads a date cell and says what is wrong with it: unreadable, in the other order, still to come, or too long ago. */
export function readDateCell(
  cells: RowCells,
  place: DateCell,
  manner: ListManner,
  findings: Finding[],
): CalendarDate | null {
  const order = manner.dateOrders.get(place.index) ?? 'month-first'
  const read = readDate(place.cell, order, manner.today)
  const { line } = cells
  const { cell, column } = place
  if (read.kind === 'blank') return null
  if (read.kind === 'unreadable') {
    findings.push(refusal(line, column, `"${cell}" is not a date.`, 'Write it as 2026-11-09, or leave the cell blank.'))
    return null
  }
  if (read.kind === 'other-order') {
    const words = order === 'month-first' ? 'month' : 'day'
    findings.push(
      refusal(
        line,
        column,
        `"${cell}" is no date when the ${words} comes first, as in the rest of the column.`,
        'Write it as 2026-11-09.',
      ),
    )
    return null
  }
  if (place.about === 'past' && read.date > manner.today) {
    const written = shortDate(read.date, order === 'month-first' ? 'en-US' : 'en-GB')
    findings.push(
      refusal(
        line,
        column,
        `${written} is still to come.`,
        'Correct the year, or move the date to a column for what is due.',
      ),
    )
    return null
  }
  if (read.date < addMonths(manner.today, -12 * OLDEST_YEARS) || read.date > addMonths(manner.today, 12 * 20)) {
    findings.push(
      refusal(line, column, `"${cell}" is too far away to be meant.`, 'Correct the year, or leave the cell blank.'),
    )
    return null
  }
  if (read.monthOnly) findings.push(note(line, column, `"${cell}" names no day; the first of the month is taken.`))
  return read.date
}

/** The one stage that a row of a stage-a-row list tells; null when its stage cell is blank. */
export function readStageOfRow(
  cells: RowCells,
  places: ColumnPlaces,
  manner: ListManner,
  findings: Finding[],
): ListStage | null {
  const word = cells.of('stage')
  if (word === '') return null
  const named = stageNamed(word)
  if (named === null)
    findings.push(
      note(
        cells.line,
        cells.nameOf('stage'),
        `"${word}" is no stage known here; it comes in as "Other stage" under its own name.`,
      ),
    )
  const date = (field: 'stage-changed-on' | 'stage-due-on', about: DateCell['about']): CalendarDate | null => {
    const index = places.fields.get(field)
    if (index === undefined) return null
    return readDateCell(cells, { cell: cells.of(field), column: cells.nameOf(field), index, about }, manner, findings)
  }
  const changedOn = date('stage-changed-on', 'past')
  return {
    kind: named?.kind ?? 'other',
    nth: named?.nth ?? null,
    rank: named?.nth == null ? wholeNumber(cells.of('stage-rank')) : null,
    place: wholeNumber(cells.of('stage-place')),
    label: labelFor(named?.kind ?? 'other', word),
    changedOn,
    dueOn: changedOn === null ? date('stage-due-on', 'due') : null,
    months: monthsOf(cells, cells.of('stage-months'), cells.nameOf('stage-months'), findings),
    part: cells.of('stage-part'),
  }
}

function wholeNumber(cell: string): number | null {
  const number = readNumber(cell)
  return number !== null && Number.isInteger(number) && number > 0 ? number : null
}

/** The stages that have columns of their own in the row; one whose cells are all blank is not there. */
export function readStagesOfColumns(
  cells: RowCells,
  places: ColumnPlaces,
  manner: ListManner,
  findings: Finding[],
): ListStage[] {
  const byStage = new Map<
    string,
    {
      kind: StageKind
      nth: number
      changedOn: CalendarDate | null
      dueOn: CalendarDate | null
      months: number | null
      part: string
    }
  >()
  for (const { index, kind, nth, fact } of places.stages) {
    const cell = cells.at(index)
    if (cell === '' || NOT_THERE.test(cell)) continue
    const column = places.columns[index] ?? ''
    const key = `${kind}/${nth}`
    const stage = byStage.get(key) ?? { kind, nth, changedOn: null, dueOn: null, months: null, part: '' }
    byStage.set(key, stage)
    if (fact === 'part') stage.part = cell
    else if (fact === 'months') stage.months = monthsOf(cells, cell, column, findings)
    else if (THERE_WITHOUT_DATE.test(cell))
      findings.push(note(cells.line, column, `"${cell}" is no date; the stage comes in without one.`))
    else if (fact === 'changed-on')
      stage.changedOn = readDateCell(cells, { cell, column, index, about: 'past' }, manner, findings)
    else stage.dueOn = readDateCell(cells, { cell, column, index, about: 'due' }, manner, findings)
  }
  return [...byStage.values()].map((stage) => ({
    ...stage,
    dueOn: stage.changedOn === null ? stage.dueOn : null,
    rank: null,
    place: null,
    label: '',
  }))
}

const NOT_THERE = /^(?:-+|n\/?a|none|no|nein)$/i
const THERE_WITHOUT_DATE = /^(?:yes|x|y|unknown|\?+|ja)$/i

export function monthsOf(cells: RowCells, cell: string, column: string, findings: Finding[]): number | null {
  if (cell === '') return null
  const months = readMonths(cell)
  if (months === null)
    findings.push(note(cells.line, column, `"${cell}" is no number of months; the office's own interval is used.`))
  return months
}

/** The list's word where it adds to the kind: "Sediment 5 micron" does, "Sed" and "carbon filter 2" do not. */
function labelFor(kind: StageKind, word: string): string {
  if (kind === 'other') return word.slice(0, 80)
  const plain = word
    .toLowerCase()
    .replaceAll(/[^a-z\d]+/g, ' ')
    .trim()
  const known = STAGE_KIND_WORDS[kind].name.toLowerCase()
  const bare = plain.replaceAll(/\b(?:filter|cartridge|stage|no|[1-4]|1st|2nd|3rd|first|second|third)\b/g, '').trim()
  return bare.length <= 4 || known.startsWith(bare) || bare === known ? '' : word.slice(0, 80)
}
