import type { ReadDb, WriteDb } from '../database/handles.ts'
import { DEFAULT_INTERVAL_RULES, type IntervalRule } from '../installations/interval-rules.ts'
import type { OfficeId } from '../units/ids.ts'

/** The office's months by stage kind, in the order of the trade's table; a kind without a row has its default. */
export async function listIntervalRules(db: ReadDb, officeId: OfficeId): Promise<IntervalRule[]> {
  const rows = await db
    .selectFrom('interval_rules')
    .select(['stage_kind', 'basis', 'months_most', 'months_least'])
    .where('office_id', '=', officeId)
    .execute()
  return DEFAULT_INTERVAL_RULES.map((usual) => {
    const own = rows.find((row) => row.stage_kind === usual.stageKind)
    if (!own || own.basis === 'none') return usual
    return { stageKind: usual.stageKind, basis: own.basis, monthsMost: own.months_most, monthsLeast: own.months_least }
  })
}

/** Writes the months of one stage kind. */
export async function writeIntervalRule(tx: WriteDb, officeId: OfficeId, rule: IntervalRule): Promise<void> {
  const columns = { basis: rule.basis, months_most: rule.monthsMost, months_least: rule.monthsLeast }
  await tx
    .insertInto('interval_rules')
    .values({ office_id: officeId, stage_kind: rule.stageKind, ...columns })
    .onConflict((conflict) => conflict.columns(['office_id', 'stage_kind']).doUpdateSet(columns))
    .execute()
}
