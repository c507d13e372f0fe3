import { type CustomerName, type KeptNames, keptNamesOf } from '../customers/customer-names.ts'
import type { StageKind } from '../installations/stage-kinds.ts'
import { type Finding, isRefusal, note, refusal } from './finding.ts'
import { gatherUnits, type ListUnit } from './list-units.ts'
import { addressKey, nameKey, normalPhone } from './normal-forms.ts'
import { numberRefused, type OwnedRow } from './number-refused.ts'
import type { ListRow } from './read-row.ts'
import type { ListAddress } from './read-where.ts'

/** A household of the list, from one row or several. */
export interface ListHousehold {
  readonly lines: readonly number[]
  readonly reference: string
  readonly name: CustomerName
  readonly names: KeptNames
  readonly contact: string
  readonly phones: readonly string[]
  readonly emails: readonly string[]
  readonly address: ListAddress
  /** Where mail goes, when not to the house. */
  readonly mail: ListAddress | null
  readonly noMail: boolean
  readonly people: number | null
  readonly hardness: number | null
  readonly tds: number | null
  readonly note: string
  readonly units: readonly ListUnit[]
  readonly notes: readonly Finding[]
}

/** A row that is not taken, and why. */
export interface RefusedRow {
  readonly line: number
  readonly findings: readonly Finding[]
  /** Which of its kind in its household the row's stage is, where there are several; else null. */
  readonly rank: number | null
}

export interface GroupedRows {
  readonly households: readonly ListHousehold[]
  readonly refused: readonly RefusedRow[]
}

interface Gathering {
  readonly rows: ListRow[]
  readonly name: CustomerName
}

/**
 * Rows that tell of the same household become one: the same customer number at the same address, or the same name at the same
 * address; a row without any name, address or telephone goes on with the household above. Rows with a refusal are set aside,
 * and with them what goes on from them.
 */
export function groupRows(rows: readonly ListRow[], usualStages: readonly StageKind[]): GroupedRows {
  const gathered: Gathering[] = []
  const byKey = new Map<string, Gathering>()
  const refused: Omit<RefusedRow, 'rank'>[] = []
  const owned: OwnedRow[] = []
  let current: Gathering | null = null
  let refusedLine: number | null = null
  let owner = ''
  for (const row of rows) {
    const continues = row.goesOn || (row.name === null && current !== null && goesOnWith(current, row))
    if (!continues) owner = keyOf(row)
    const findings = refusalsOf(row, continues, current === null ? belongsTo(row.line, refusedLine) : null)
    if (findings.length > 0) {
      refused.push({
        line: row.line,
        findings: [...findings, ...row.findings.filter((finding) => !isRefusal(finding))],
      })
      if (!continues) {
        current = byKey.get(keyOf(row)) ?? null
        refusedLine = row.line
      }
      owned.push({ owner, row, isRefused: true })
      continue
    }
    if (!continues && row.name !== null) current = gatheringOf(row, row.name, current, byKey, gathered)
    if (current === null) continue
    current.rows.push(row)
    owned.push({ owner, row, isRefused: false })
  }
  const ranks = numberRefused(owned)
  return {
    households: gathered.map((gathering) => householdOf(gathering, usualStages)),
    refused: refused.map((row) => ({ ...row, rank: ranks.get(row.line) ?? null })),
  }
}

/** Why a row is not taken; `orphaned` is the reason when it goes on with a household that is not there. */
function refusalsOf(row: ListRow, continues: boolean, orphaned: Finding | null): Finding[] {
  const findings = row.findings.filter(isRefusal)
  if (continues && orphaned !== null) findings.push(orphaned)
  if (!continues && row.name === null) {
    findings.push(
      refusal(row.line, '', 'Nobody is named in this row.', 'Write the name of the household or the business.'),
    )
  }
  return findings
}

function belongsTo(line: number, refusedLine: number | null): Finding {
  return refusedLine === null
    ? refusal(line, '', 'No household stands above this row.', 'Write the name of the household in it.')
    : refusal(
        line,
        '',
        `The row goes on with the household of line ${refusedLine}, which is not taken.`,
        `Correct line ${refusedLine}; bring both again.`,
      )
}

/** A row without a name goes on with the household above when nothing in it speaks of another one. */
function goesOnWith(current: Gathering, row: ListRow): boolean {
  const first = current.rows[0]
  if (first === undefined) return false
  const sameReference = row.reference === '' || row.reference === first.reference
  const place = addressKey(row.address.line1, row.address.town, row.address.postalCode)
  const samePlace =
    place === '' || place === addressKey(first.address.line1, first.address.town, first.address.postalCode)
  return sameReference && samePlace
}

function keyOf(row: ListRow): string {
  const place = addressKey(row.address.line1, row.address.town, row.address.postalCode)
  if (row.reference !== '') return `reference ${row.reference.toLowerCase()} ${place}`
  const name = row.name === null ? '' : nameKey(keptNamesOf(row.name).letterName)
  if (place !== '') return `${name} at ${place}`
  const phone = row.phones.map(normalPhone).find((digits) => digits !== '') ?? ''
  return phone === '' ? `${name} alone` : `${name} on ${phone}`
}

function gatheringOf(
  row: ListRow,
  name: CustomerName,
  current: Gathering | null,
  byKey: Map<string, Gathering>,
  gathered: Gathering[],
): Gathering {
  const key = keyOf(row)
  const known = byKey.get(key)
  // Two people of one name without address or telephone may be two: only neighbouring rows count as one household.
  if (known !== undefined && (known === current || !key.endsWith(' alone'))) return known
  const begun: Gathering = { rows: [], name }
  byKey.set(key, begun)
  gathered.push(begun)
  return begun
}

const LONGEST_NOTE = 4000

function householdOf({ rows, name }: Gathering, usualStages: readonly StageKind[]): ListHousehold {
  const notes: Finding[] = rows.flatMap((row) => row.findings)
  const kept = [...new Set(rows.flatMap((row) => row.notes))]
  const one = <T>(what: string, read: (row: ListRow) => T | null): T | null => oneOf(rows, what, read, notes, kept)
  const text = (read: (row: ListRow) => string): string => rows.map(read).find((value) => value !== '') ?? ''
  return {
    lines: rows.map((row) => row.line),
    reference: text((row) => row.reference),
    name,
    names: keptNamesOf(name),
    contact: text((row) => row.contact),
    phones: differentPhones(rows),
    emails: [...new Set(rows.flatMap((row) => row.emails))],
    address: fullestAddress(rows),
    mail: rows.find((row) => row.mail !== null)?.mail ?? null,
    noMail: rows.some((row) => row.noMail === true),
    people: one('people', (row) => row.people),
    hardness: one('mg/L of hardness', (row) => row.hardness),
    tds: one('mg/L of dissolved solids', (row) => row.tds),
    units: gatherUnits(rows, usualStages, notes),
    note: kept.join('\n').slice(0, LONGEST_NOTE),
    notes,
  }
}

/** The first row's value; another one further down is kept in the note, and said. */
function oneOf<T>(
  rows: readonly ListRow[],
  what: string,
  read: (row: ListRow) => T | null,
  notes: Finding[],
  kept: string[],
): T | null {
  let first: T | null = null
  for (const row of rows) {
    const value = read(row)
    if (value === null || value === first) continue
    if (first === null) {
      first = value
      continue
    }
    notes.push(
      note(
        row.line,
        '',
        `${String(value)} ${what} here, ${String(first)} further up; the first stands, the other is kept in the note.`,
      ),
    )
    kept.push(`Line ${row.line} of the list: ${String(value)} ${what}`)
  }
  return first
}

function differentPhones(rows: readonly ListRow[]): string[] {
  const byDigits = new Map<string, string>()
  for (const row of rows)
    for (const phone of row.phones) if (!byDigits.has(normalPhone(phone))) byDigits.set(normalPhone(phone), phone)
  return [...byDigits.values()]
}

function fullestAddress(rows: readonly ListRow[]): ListAddress {
  const fill = (part: keyof ListAddress): string =>
    rows.map((row) => row.address[part]).find((value) => value !== '') ?? ''
  return {
    line1: fill('line1'),
    line2: fill('line2'),
    town: fill('town'),
    region: fill('region'),
    postalCode: fill('postalCode'),
    country: fill('country'),
  }
}
