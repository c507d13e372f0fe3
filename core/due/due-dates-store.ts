import { sql } from 'kysely'
import type { DialectName, WriteDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { InstallationId, OfficeId, SiteId } from '../units/ids.ts'
import type { StageDue } from './due-facts.ts'

/*
 * The plus before an office's id keeps the planner from walking the whole office for every line; both databases read it as nothing.
 */

/** Lines to a statement: few enough that each stays small, many enough that its cost is spread. */
const LINES = 5_000

/** Writes due dates of stages, thousands to a statement. Versions stay: a due date is reckoned, not edited. */
export async function writeStageDues(
  tx: WriteDb,
  dialect: DialectName,
  officeId: OfficeId,
  dues: readonly StageDue[],
): Promise<void> {
  for (let from = 0; from < dues.length; from += LINES) {
    const lines = JSON.stringify(
      dues.slice(from, from + LINES).map((due) => [due.stageId, due.dueOn, due.rule, due.reason]),
    )
    await sql`
      update stages set due_on = line.due_on, due_rule = line.due_rule, due_reason = line.due_reason
      from (select ${cell(dialect, 0, 'bigint')} as id, ${cell(dialect, 1, 'text')} as due_on, ${cell(dialect, 2, 'text')} as due_rule,
                   ${cell(dialect, 3, 'text')} as due_reason from ${linesOf(dialect, lines)}) as line
      where stages.id = line.id and +stages.office_id = ${officeId}`.execute(tx)
  }
}

/** Writes the earliest due date of installations. */
export async function writeInstallationDues(
  tx: WriteDb,
  dialect: DialectName,
  officeId: OfficeId,
  dues: readonly (readonly [InstallationId, CalendarDate | null])[],
): Promise<void> {
  for (let from = 0; from < dues.length; from += LINES) {
    const lines = JSON.stringify(dues.slice(from, from + LINES))
    await sql`
      update installations set due_on = line.due_on
      from (select ${cell(dialect, 0, 'bigint')} as id, ${cell(dialect, 1, 'text')} as due_on from ${linesOf(dialect, lines)}) as line
      where installations.id = line.id and +installations.office_id = ${officeId}`.execute(tx)
  }
}

/** Sets the earliest due date of households from their installations; only those that change are touched. */
export async function writeSiteDues(
  tx: WriteDb,
  dialect: DialectName,
  officeId: OfficeId,
  siteIds: readonly SiteId[],
): Promise<void> {
  for (let from = 0; from < siteIds.length; from += LINES) {
    const lines = JSON.stringify(siteIds.slice(from, from + LINES).map((siteId) => [siteId]))
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

function linesOf(dialect: DialectName, lines: string) {
  return dialect === 'sqlite' ? sql`json_each(${lines})` : sql`json_array_elements(${lines}::json)`
}

function cell(dialect: DialectName, at: number, type: 'bigint' | 'text') {
  if (dialect === 'sqlite') return sql`value ->> ${sql.lit(at)}`
  return sql`(value ->> ${sql.lit(at)})::${sql.raw(type)}`
}
