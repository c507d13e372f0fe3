import type { ReorderPlan, ReorderProposal, SupplierOrder } from './reorder-shapes.ts'

export interface GatheredOrder extends SupplierOrder {
  readonly proposals: readonly ReorderProposal[]
}

/** The proposals of each supplier's order, and those of what is missing but cannot be ordered sensibly; in the order of the plan. */
export function gatherOrders({ proposals, orders }: ReorderPlan): GatheredOrder[] {
  const shown = proposals.filter((proposal) => proposal.order > 0 || proposal.short > 0)
  return orders.map((order) => ({
    ...order,
    proposals: shown.filter((proposal) => (proposal.term?.supplierId ?? null) === order.supplierId),
  }))
}
