import { z } from 'zod'
import { type StageKind, stageKindSchema } from '../installations/stage-kinds.ts'
import { columnWords } from './column-words.ts'
import { DATE_ORDERS } from './judge-dates.ts'
import { type ColumnUse, isColumnUse, labelOfUse, mayRepeat, stageColumnParts } from './list-fields.ts'
import { HARDNESS_UNITS } from './read-measures.ts'

export const columnUseSchema = z.custom<ColumnUse>((value) => typeof value === 'string' && isColumnUse(value))

/** What each column of a list is, and the little that the cells cannot say themselves. */
export const listMappingSchema = z.object({
  /** One use a column, in the list's order. */
  uses: z.array(columnUseSchema).max(400),
  /** For date columns that could be read either way; null goes by the other columns and the office's country. */
  dateOrder: z.enum(DATE_ORDERS).nullable(),
  /** For a hardness column of bare numbers; null goes by the column. */
  hardnessUnit: z.enum(HARDNESS_UNITS).nullable(),
  /** What a unit is made up of where the list names no stages; empty: no stages then. */
  usualStages: z.array(stageKindSchema).max(20),
})
export type ListMapping = z.infer<typeof listMappingSchema>

/** The usual make-up of a household unit, feed to tap (handbook knowledge of the trade: common practice, no source). */
export const USUAL_STAGES: readonly StageKind[] = ['sediment', 'carbon', 'membrane', 'tank', 'post-carbon']

/** A mapping under which lists with the same columns are remembered: by the names, whatever their order. */
export function columnsKey(columns: readonly string[]): string {
  const own = new Set(REFUSED_COLUMNS.map(columnWords))
  return columns
    .map(columnWords)
    .filter((words) => !own.has(words))
    .sort()
    .join('\n')
}

/** What stands beside the list's own columns when refused rows are saved out; brought again, all but the last are passed over. */
export const REFUSED_COLUMNS = [
  'Line in the list',
  'What is wrong',
  'What to do about it',
  'Which of its kind',
] as const

/** What one of those columns is when it is brought again: only the number of a stage among its kind is of use. */
export function useOfRefusedColumn(name: string, isStageARow: boolean): ColumnUse | null {
  const words = columnWords(name)
  if (!REFUSED_COLUMNS.some((own) => columnWords(own) === words)) return null
  return isStageARow && words === 'which of its kind' ? 'stage-rank' : 'ignore'
}

/** What is kept of a mapping: each column's use by its name, so that columns may come in another order next time. */
export const rememberedMappingSchema = z.object({
  uses: z.record(z.string(), columnUseSchema),
  dateOrder: listMappingSchema.shape.dateOrder,
  hardnessUnit: listMappingSchema.shape.hardnessUnit,
  usualStages: listMappingSchema.shape.usualStages,
})
export type RememberedMapping = z.infer<typeof rememberedMappingSchema>

export function toRemember(columns: readonly string[], mapping: ListMapping): RememberedMapping {
  const uses: Record<string, ColumnUse> = {}
  for (const [index, name] of columns.entries()) uses[name] = mapping.uses[index] ?? 'ignore'
  return { uses, dateOrder: mapping.dateOrder, hardnessUnit: mapping.hardnessUnit, usualStages: mapping.usualStages }
}

export function fromRemembered(columns: readonly string[], kept: RememberedMapping): ListMapping {
  const byWords = new Map(Object.entries(kept.uses).map(([name, use]) => [columnWords(name), use]))
  const isStageARow = Object.values(kept.uses).includes('stage')
  const uses = columns.map(
    (name) => useOfRefusedColumn(name, isStageARow) ?? kept.uses[name] ?? byWords.get(columnWords(name)) ?? 'ignore',
  )
  return { uses, dateOrder: kept.dateOrder, hardnessUnit: kept.hardnessUnit, usualStages: kept.usualStages }
}

/** What keeps a mapping from being used, as sentences; empty when nothing does. */
export function mappingGaps(columns: readonly string[], mapping: ListMapping): string[] {
  const gaps: string[] = []
  const uses = new Set(mapping.uses)
  const has = (...wanted: ColumnUse[]): boolean => wanted.some((use) => uses.has(use))
  if (mapping.uses.length !== columns.length) gaps.push('The list has other columns than when it was looked at.')
  if (!has('name', 'first-name', 'last-name', 'company', 'contact')) {
    gaps.push('No column holds a name. Say which one does: a whole name, a first and a last name, or a business.')
  }
  const seen = new Map<ColumnUse, string>()
  for (const [index, use] of mapping.uses.entries()) {
    const name = columns[index] ?? ''
    const earlier = seen.get(use)
    if (earlier !== undefined && !mayRepeat(use))
      gaps.push(`"${earlier}" and "${name}" are both "${labelOfUse(use)}". Leave one of them out.`)
    seen.set(use, name)
  }
  if (
    !has('stage') &&
    has('stage-changed-on', 'stage-due-on', 'stage-months', 'stage-part', 'stage-place', 'stage-rank')
  ) {
    gaps.push('A column tells about one stage a row, but none says which stage. Choose the column that does.')
  }
  return gaps
}

/** What a mapping leaves unsaid, in words: good to know, and no hindrance. */
export function mappingRemarks(mapping: ListMapping): string[] {
  const uses = new Set(mapping.uses)
  const remarks: string[] = []
  if (!uses.has('street') && !uses.has('address')) {
    remarks.push(
      'No column holds a street: letters cannot be addressed, and households are told apart by name and telephone only.',
    )
  }
  const anyStage = uses.has('stage') || mapping.uses.some((use) => stageColumnParts(use) !== null)
  if (!anyStage && mapping.usualStages.length === 0) {
    remarks.push('No column tells about stages: households come in without units, and nothing of theirs falls due yet.')
  }
  if (anyStage && uses.has('stage-due-on') && uses.has('stage-changed-on')) {
    remarks.push(
      'Due dates are reckoned from the dates of change; the dates in the due column serve only where there is none.',
    )
  }
  return remarks
}
