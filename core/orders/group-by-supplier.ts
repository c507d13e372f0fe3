import type { SupplierId } from '../units/ids.ts'
import { addCents, type Cents, cents } from '../units/money.ts'
import type { ReorderProposal } from './reorder.ts'

/** What is to be ordered of one supplier, or of nobody yet. */
export interface SupplierProposal<Row extends Pick<ReorderProposal, 'term' | 'order' | 'cost'>> {
  readonly supplierId: SupplierId | null
  readonly proposals: readonly Row[]
  readonly cost: Cents
}

/** Proposals to order something, by supplier in order of id; parts without a supplier come last. */
export function groupBySupplier<Row extends Pick<ReorderProposal, 'term' | 'order' | 'cost'>>(
  proposals: readonly Row[],
): SupplierProposal<Row>[] {
  const groups = new Map<SupplierId | null, Row[]>()
  for (const proposal of proposals) {
    if (proposal.order === 0) continue
    const supplierId = proposal.term?.supplierId ?? null
    groups.set(supplierId, [...(groups.get(supplierId) ?? []), proposal])
  }
  return [...groups]
    .sort(([a], [b]) => (a ?? Number.POSITIVE_INFINITY) - (b ?? Number.POSITIVE_INFINITY))
    .map(([supplierId, rows]) => ({ supplierId, proposals: rows, cost: addCents(...rows.map((row) => row.cost)) }))
}

/** How much an order lacks to the supplier's minimum value; 0 when it reaches it. */
export function lackToMinimum(cost: Cents, minimum: Cents): Cents {
  return cents(Math.max(0, minimum - cost))
}
