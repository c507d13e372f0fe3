import type { CustomerName } from '../customers/customer-names.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { SheetRow } from './find-sheet.ts'
import { type Finding, note, refusal } from './finding.ts'
import type { ListField } from './list-fields.ts'
import type { ListManner } from './list-manner.ts'
import { readHardness, readPeople, readTds, readYesNo } from './read-measures.ts'
import { type ListStage, monthsOf, readDateCell, readStageOfRow, readStagesOfColumns } from './read-stages.ts'
import { type ListAddress, NO_PLACE, readPostalCode, settleTown, splitAddress } from './read-where.ts'
import { readEmails, readName, readPhones } from './read-who.ts'
import { type ColumnPlaces, RowCells } from './row-cells.ts'

/** Everything one row of a list tells. */
export interface ListRow {
  readonly line: number
  readonly reference: string
  readonly name: CustomerName | null
  readonly contact: string
  readonly phones: readonly string[]
  readonly emails: readonly string[]
  readonly address: ListAddress
  readonly mail: ListAddress | null
  readonly noMail: boolean | null
  readonly people: number | null
  readonly hardness: number | null
  readonly tds: number | null
  /** Pieces for the note, among them what could not be used elsewhere. */
  readonly notes: readonly string[]
  readonly unit: string
  readonly installedOn: CalendarDate | null
  readonly everyMonths: number | null
  readonly filtersChangedOn: CalendarDate | null
  readonly stages: readonly ListStage[]
  /** No cell says whose row this is: it goes on with the household above. */
  readonly goesOn: boolean
  readonly findings: readonly Finding[]
}

const HOUSEHOLD_FIELDS: readonly ListField[] = [
  ...([
    'reference',
    'name',
    'first-name',
    'last-name',
    'company',
    'contact',
    'phone',
    'second-phone',
    'email',
  ] as const),
  ...(['street', 'town', 'postal-code', 'address'] as const),
]

/** Reads a row by the list's mapping and manner. Never fails: what is wrong stands in the findings. */
export function readRow(row: SheetRow, places: ColumnPlaces, manner: ListManner): ListRow {
  const cells = new RowCells(row, places)
  const findings: Finding[] = []
  const notes: string[] = []
  if (row.tooLong) {
    findings.push(
      refusal(
        row.line,
        '',
        'The row has more cells than the list has columns.',
        'Put quotation marks around the cell that holds a separator.',
      ),
    )
  }
  const who = readWho(cells, findings, notes)
  const goesOn = HOUSEHOLD_FIELDS.every((field) => cells.of(field) === '')
  return {
    line: row.line,
    ...who,
    address: readAddress(cells, manner, findings),
    mail: readMail(cells),
    ...readHousehold(cells, manner, findings, notes),
    ...readUnit(cells, places, manner, findings),
    stages: readStages(cells, places, manner, findings),
    notes: [...notes, ...ownNotes(cells, places)],
    goesOn,
    findings,
  }
}

function readWho(
  cells: RowCells,
  findings: Finding[],
  notes: string[],
): Pick<ListRow, 'reference' | 'name' | 'contact' | 'phones' | 'emails'> {
  const read = readName({
    name: cells.of('name'),
    firstName: cells.of('first-name'),
    lastName: cells.of('last-name'),
    company: cells.of('company'),
    contact: cells.of('contact'),
  })
  const fields = ['phone', 'second-phone'] as const
  const phones = fields.flatMap((field) => {
    const { good, bad } = readPhones(cells.of(field))
    for (const part of bad)
      keepAside(cells, field, `"${part}" is no telephone number; it is kept in the note.`, part, findings, notes)
    return good
  })
  const emails = readEmails(cells.of('email'))
  for (const part of emails.bad)
    keepAside(cells, 'email', `"${part}" is no e-mail address; it is kept in the note.`, part, findings, notes)
  return {
    reference: cells.of('reference'),
    name: read?.name ?? null,
    contact: read?.contact ?? '',
    phones: [...new Set(phones)],
    emails: [...new Set(emails.good)],
  }
}

function keepAside(
  cells: RowCells,
  field: ListField,
  sentence: string,
  kept: string,
  findings: Finding[],
  notes: string[],
): void {
  const column = cells.nameOf(field)
  findings.push(note(cells.line, column, sentence))
  notes.push(`${column}: ${kept}`)
}

function readAddress(cells: RowCells, manner: ListManner, findings: Finding[]): ListAddress {
  const whole = cells.of('address') === '' ? NO_PLACE : splitAddress(cells.of('address'))
  const [streetFirst = '', ...streetRest] = cells.of('street').split('\n')
  const address = settleTown({
    line1: streetFirst.trim() || whole.line1,
    line2:
      [...streetRest, cells.of('street-2')]
        .map((part) => part.trim())
        .filter((part) => part !== '')
        .join(', ') || whole.line2,
    town: cells.of('town') || whole.town,
    region: cells.of('region') || whole.region,
    postalCode: cells.of('postal-code') || whole.postalCode,
    country: cells.of('country') || whole.country,
  })
  const read = readPostalCode(address.postalCode, manner.unitedStates && isHome(address.country))
  const column = cells.nameOf('postal-code') || cells.nameOf('address') || cells.nameOf('town')
  if (read.zerosRestored) {
    findings.push(
      note(cells.line, column, `"${address.postalCode}" had lost the zero in front; it is ${read.code} again.`),
    )
  }
  if (!read.fits) {
    findings.push(
      note(
        cells.line,
        column,
        `"${address.postalCode}" is no postal code of this country; it is kept as it is.`,
        'Look at the address before a letter goes there.',
      ),
    )
  }
  return { ...address, postalCode: read.code }
}

function isHome(country: string): boolean {
  return country === '' || /^(?:us|usa|u\.s\.a?\.?|united states.*)$/i.test(country)
}

function readMail(cells: RowCells): ListAddress | null {
  const mail = settleTown({
    ...NO_PLACE,
    line1: cells.of('mail-street'),
    town: cells.of('mail-town'),
    region: cells.of('mail-region'),
    postalCode: cells.of('mail-postal-code'),
  })
  return mail.line1 === '' ? null : mail.town === '' ? settleTown({ ...splitAddress(mail.line1) }) : mail
}

type HouseholdPart = Pick<ListRow, 'people' | 'hardness' | 'tds' | 'noMail'>

function readHousehold(cells: RowCells, manner: ListManner, findings: Finding[], notes: string[]): HouseholdPart {
  const measure = (field: ListField, read: (cell: string) => number | null, what: string): number | null => {
    const cell = cells.of(field)
    if (cell === '' || /^(?:-+|n\/?a|unknown|\?+)$/i.test(cell)) return null
    const value = read(cell)
    if (value === null) keepAside(cells, field, `"${cell}" is ${what}; it is kept in the note.`, cell, findings, notes)
    return value
  }
  return {
    people: measure('people', readPeople, 'no number of people from 1 to 50'),
    hardness: measure('hardness', (cell) => readHardness(cell, manner.hardnessUnit), 'no hardness'),
    tds: measure('tds', readTds, 'no figure of dissolved solids'),
    noMail: readNoMail(cells, findings),
  }
}

/** Whoever may have asked for no mail gets none: an answer that cannot be read counts as a no to mail. */
function readNoMail(cells: RowCells, findings: Finding[]): boolean | null {
  const no = cells.of('no-mail')
  const welcome = cells.of('mail-welcome')
  if (no === '' && welcome === '') return null
  const field = no === '' ? 'mail-welcome' : 'no-mail'
  if (no === '' && /\bno mail|do not|opt(?:ed)?[ -]?out|stop/i.test(welcome)) return true
  const answered = readYesNo(no === '' ? welcome : no)
  if (answered === null) {
    findings.push(
      note(
        cells.line,
        cells.nameOf(field),
        `"${no || welcome}" is neither yes nor no; no mail goes there until someone says so.`,
      ),
    )
    return true
  }
  return field === 'no-mail' ? answered : !answered
}

type UnitPart = Pick<ListRow, 'unit' | 'installedOn' | 'everyMonths' | 'filtersChangedOn'>

function readUnit(cells: RowCells, places: ColumnPlaces, manner: ListManner, findings: Finding[]): UnitPart {
  const date = (field: 'installed-on' | 'filters-changed-on'): CalendarDate | null => {
    const index = places.fields.get(field)
    if (index === undefined) return null
    return readDateCell(
      cells,
      { cell: cells.of(field), column: cells.nameOf(field), index, about: 'past' },
      manner,
      findings,
    )
  }
  return {
    unit: cells.of('unit').slice(0, 80),
    installedOn: date('installed-on'),
    everyMonths: monthsOf(cells, cells.of('every-months'), cells.nameOf('every-months'), findings),
    filtersChangedOn: date('filters-changed-on'),
  }
}

function readStages(cells: RowCells, places: ColumnPlaces, manner: ListManner, findings: Finding[]): ListStage[] {
  const own = readStageOfRow(cells, places, manner, findings)
  const spread = readStagesOfColumns(cells, places, manner, findings)
  return own === null ? spread : [own, ...spread]
}

/** Cells to keep in the note; several columns say whose words they are. */
function ownNotes(cells: RowCells, places: ColumnPlaces): string[] {
  return places.notes.flatMap((index) => {
    const cell = cells.at(index)
    if (cell === '') return []
    return [places.notes.length > 1 ? `${places.columns[index] ?? ''}: ${cell}` : cell]
  })
}
