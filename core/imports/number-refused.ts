import type { ListRow } from './read-row.ts'
import type { ListStage } from './read-stages.ts'
import { isOneOfItsKind, isSameStage } from './same-stage.ts'

/** A row with the household it speaks of, whether it is taken or not. `owner` is the same for rows of one household. */
export interface OwnedRow {
  readonly owner: string
  readonly row: ListRow
  readonly isRefused: boolean
}

/**
 * Which of its kind the stage of each refused row is, by the line: the second carbon filter of its household, say, so that it comes
 * in as that when the row is brought again, and again as that when it is brought twice. Only where the household has several rows
 * of the kind, the list does not number them itself, and they are not the dates of one filter changed over and over.
 */
export function numberRefused(rows: readonly OwnedRow[]): Map<number, number> {
  const groups = new Map<string, { taken: ListStage[]; refused: { line: number; stage: ListStage }[] }>()
  for (const { owner, row, isRefused } of rows) {
    const [stage] = row.stages
    if (stage === undefined || stage.nth !== null || stage.rank !== null || isOneOfItsKind(stage.kind)) continue
    const key = `${owner}/${row.unit}/${stage.kind}`
    const group = groups.get(key) ?? { taken: [], refused: [] }
    groups.set(key, group)
    if (isRefused) group.refused.push({ line: row.line, stage })
    else group.taken.push(stage)
  }
  const numbers = new Map<number, number>()
  for (const { taken, refused } of groups.values()) {
    const isSeveral = taken.length + refused.length > 1
    const isOneOverAndOver = taken.some((stage, at) => taken.slice(0, at).some((other) => isSameStage(other, stage)))
    if (!isSeveral || isOneOverAndOver) continue
    let number = taken.length
    for (const { line, stage } of refused) {
      if (stage.changedOn !== null && taken.some((other) => isSameStage(other, stage))) continue
      number += 1
      numbers.set(line, number)
    }
  }
  return numbers
}
