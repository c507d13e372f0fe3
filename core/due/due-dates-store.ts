import { CompiledQuery, sql } from 'kysely'
import type { DialectName, WriteDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { InstallationId, OfficeId, SiteId } from '../units/ids.ts'
import type { ChangedStages } from './due-facts.ts'

/*
 * The plus before an office's id keeps the planner from walking the whole office for every line; both databases read it as nothing.
 */

/** Writes due dates of stages, many to a statement. Versions stay: a due date is reckoned, not edited. */
export async function writeStageDues(
  tx: WriteDb,
  dialect: DialectName,
  officeId: OfficeId,
  { ids, said, sayings, movedIds, movedTo }: ChangedStages,
): Promise<void> {
  const values: Value[] = []
  ids.forEach((stageId, index) => {
    const [dueOn, rule, reason] = sayings[said[index] ?? -1] ?? [null, 'not-dated', '']
    values.push(stageId, dueOn, rule, reason)
  })
  await writeLines(tx, dialect, officeId, 'stages', ['due_on', 'due_rule', 'due_reason'], values)
  const moved = movedIds.flatMap((stageId, index): Value[] => [stageId, movedTo[index] ?? null])
  await writeLines(tx, dialect, officeId, 'stages', ['due_on'], moved)
}

/** Writes the earliest due date of installations. */
export function writeInstallationDues(
  tx: WriteDb,
  dialect: DialectName,
  officeId: OfficeId,
  dues: readonly EarliestDue<InstallationId>[],
): Promise<void> {
  return writeLines(tx, dialect, officeId, 'installations', ['due_on'], dues.flat())
}

/** Writes the earliest due date of households where it is known already; `writeSiteDues` asks the books for it. */
export function writeKnownSiteDues(
  tx: WriteDb,
  dialect: DialectName,
  officeId: OfficeId,
  dues: readonly EarliestDue<SiteId>[],
): Promise<void> {
  return writeLines(tx, dialect, officeId, 'sites', ['due_on'], dues.flat())
}

/** A unit or a household with its earliest due date. */
export type EarliestDue<Id> = readonly [Id, CalendarDate | null]

/** Sets the earliest due date of households from their installations; only those that change are touched. */
export async function writeSiteDues(
  tx: WriteDb,
  dialect: DialectName,
  officeId: OfficeId,
  siteIds: readonly SiteId[],
): Promise<void> {
  for (let from = 0; from < siteIds.length; from += JSON_LINES) {
    const lines = JSON.stringify(siteIds.slice(from, from + JSON_LINES).map((siteId) => [siteId]))
    await sql`
      update sites set due_on = first.due_on
      from (select line.id, (select min(i.due_on) from installations i
                             where i.office_id = ${officeId} and i.site_id = line.id and i.removed_on is null) as due_on
            from (select ${cell(dialect, 0, 'bigint')} as id from ${linesOf(dialect, lines)}) as line) as first
      where sites.id = first.id and +sites.office_id = ${officeId} and sites.due_on is distinct from first.due_on`.execute(
      tx,
    )
  }
}

/** The indexes that are sorted by due date. */
const BY_DUE_DATE = ['stages_in_want', 'sites_due']

/**
 * Takes the indexes by due date away for the rest of a transaction that moves nearly every date: sorted once at the end they cost a
 * third of what half a million single moves do. Returns the statements that make them again, for `bringBackIndexes`; whatever is
 * refused or thrown in between, they are there as before. None on PostgreSQL: there the table would be closed to every reader until the end.
 */
export async function setAsideIndexes(tx: WriteDb, dialect: DialectName): Promise<string[]> {
  if (dialect !== 'sqlite') return []
  const { rows } = await sql<{ name: string; made: string }>`
    select name, sql as made from sqlite_master where type = 'index' and name in (${sql.join(BY_DUE_DATE)}) order by name`.execute(
    tx,
  )
  for (const { name } of rows) await sql`drop index ${sql.id(name)}`.execute(tx)
  return rows.map(({ made }) => made)
}

/** Makes the indexes that were set aside again, and lets SQLite learn their sizes: it forgot them with the old ones. */
export async function bringBackIndexes(tx: WriteDb, setAside: readonly string[]): Promise<void> {
  for (const made of setAside) await sql.raw(made).execute(tx)
  if (setAside.length > 0) for (const table of ['stages', 'sites']) await sql`analyze ${sql.table(table)}`.execute(tx)
}

/** Of a line: an id, then the text for each column. */
type Value = number | string | null

/** Lines to a statement of JSON: few enough that each stays small, many enough that its cost is spread. */
const JSON_LINES = 5_000

/** Lines to a statement that binds every value: its text is the same each time, so that SQLite keeps it prepared. */
const BOUND_LINES = 250

/**
 * Writes the columns of the rows that the lines name, their values one after another: an id, then a value for each column. On SQLite every value is bound; on PostgreSQL a statement carries its lines as
 * JSON, since each statement is a journey to the server.
 */
async function writeLines(
  tx: WriteDb,
  dialect: DialectName,
  officeId: OfficeId,
  table: 'stages' | 'installations' | 'sites',
  columns: readonly string[],
  values: readonly Value[],
): Promise<void> {
  const set = columns.map((column) => `${column} = line.${column}`).join(', ')
  const begin = `update ${table} set ${set} from`
  const rows = `as line where ${table}.id = line.id and +${table}.office_id =`
  const wide = columns.length + 1
  if (dialect === 'sqlite') {
    const named = ['id', ...columns].map((column, at) => `column${at + 1} as ${column}`).join(', ')
    const marks = `(${Array(wide).fill('?').join(', ')})`
    for (let from = 0; from < values.length; from += wide * BOUND_LINES) {
      const some = values.slice(from, from + wide * BOUND_LINES)
      const lines = Array(some.length / wide).fill(marks)
      some.push(officeId)
      await tx.executeQuery(
        CompiledQuery.raw(`${begin} (select ${named} from (values ${lines.join(', ')})) ${rows} ?`, some),
      )
    }
    return
  }
  const cells = columns.map((column, at) => sql`${cell(dialect, at + 1, 'text')} as ${sql.ref(column)}`)
  for (let from = 0; from < values.length; from += wide * JSON_LINES) {
    const lines = linesOf(dialect, JSON.stringify(inLines(values.slice(from, from + wide * JSON_LINES), wide)))
    await sql`${sql.raw(begin)} (select ${cell(dialect, 0, 'bigint')} as id, ${sql.join(cells)} from ${lines}) ${sql.raw(rows)} ${officeId}`.execute(
      tx,
    )
  }
}

function inLines(values: readonly Value[], wide: number): Value[][] {
  return Array.from({ length: values.length / wide }, (_, at) => values.slice(at * wide, (at + 1) * wide))
}

function linesOf(dialect: DialectName, lines: string) {
  return dialect === 'sqlite' ? sql`json_each(${lines})` : sql`json_array_elements(${lines}::json)`
}

function cell(dialect: DialectName, at: number, type: 'bigint' | 'text') {
  if (dialect === 'sqlite') return sql`value ->> ${sql.lit(at)}`
  return sql`(value ->> ${sql.lit(at)})::${sql.raw(type)}`
}
