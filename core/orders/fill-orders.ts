import { counted } from '../units/date-words.ts'
import type { SupplierId } from '../units/ids.ts'
import { type Cents, cents, formatCents, NO_MONEY } from '../units/money.ts'
import { priceOf } from './choose-quantity.ts'
import type { DraftProposal } from './draft-proposal.ts'
import type { ReorderInput, SupplierOrder } from './reorder-shapes.ts'
import { missingOn } from './stock-ahead.ts'
import { fillUp } from './top-up.ts'

export interface FilledOrders {
  /** Pieces of each part, in the order of the drafts. */
  readonly quantities: readonly number[]
  readonly orders: readonly SupplierOrder[]
}

/** What the proposals come to by supplier, those below the supplier's least value filled up with what is needed next. */
export function fillOrders(drafts: readonly DraftProposal[], input: ReorderInput): FilledOrders {
  const quantities = drafts.map((draft) => draft.chosen.quantity)
  const bySupplier = new Map<SupplierId | null, number[]>()
  drafts.forEach(({ term }, at) => {
    const key = term?.supplierId ?? null
    const own = bySupplier.get(key)
    if (own) own.push(at)
    else bySupplier.set(key, [at])
  })
  const orders: SupplierOrder[] = []
  for (const [supplierId, own] of inOrder(bySupplier)) {
    if (own.every((at) => quantities[at] === 0 && (drafts[at]?.missing ?? 0) <= 0)) continue
    orders.push(fillOne(supplierId, own, drafts, quantities, input))
  }
  return { quantities, orders }
}

function inOrder(groups: ReadonlyMap<SupplierId | null, number[]>): [SupplierId | null, number[]][] {
  return [...groups].sort(([a], [b]) => (a ?? Number.POSITIVE_INFINITY) - (b ?? Number.POSITIVE_INFINITY))
}

/** Fills up one supplier's order in `quantities`, when it has any piece and lacks something. */
function fillOne(
  supplierId: SupplierId | null,
  own: readonly number[],
  drafts: readonly DraftProposal[],
  quantities: number[],
  input: ReorderInput,
): SupplierOrder {
  const least = input.suppliers.find((each) => each.supplierId === supplierId)?.minimumOrder ?? NO_MONEY
  const cost = costOf(own, drafts, quantities)
  if (cost === 0 || cost >= least) return { supplierId, cost, lacks: NO_MONEY, about: '' }
  const money = (amount: Cents): string => formatCents(amount, input.currency, input.locale)
  const filled = fillUp(
    own.map((at) => partToFill(drafts[at] as DraftProposal, quantities[at] ?? 0)),
    least,
  )
  if (filled === null) {
    const lacks = cents(least - cost)
    const about = `${money(lacks)} below the least order of ${money(least)}: nothing more is needed in the weeks ahead.`
    return { supplierId, cost, lacks, about }
  }
  let more = 0
  own.forEach((at, place) => {
    const quantity = filled[place] ?? 0
    more += quantity - (quantities[at] ?? 0)
    quantities[at] = quantity
  })
  const about = `Filled up from ${money(cost)} to the least order of ${money(least)} with ${counted(more, 'piece')} needed next.`
  return { supplierId, cost: costOf(own, drafts, quantities), lacks: NO_MONEY, about }
}

function partToFill(draft: DraftProposal, quantity: number) {
  const { term, most, left, arrivesIn } = draft
  return {
    quantity,
    packSize: term?.packSize ?? 1,
    minimumQuantity: term?.minimumQuantity ?? 0,
    priceOf: (pieces: number) => priceOf(term, pieces),
    most,
    usedUpOn: (pieces: number) => missingOn(left, arrivesIn, pieces),
  }
}

function costOf(own: readonly number[], drafts: readonly DraftProposal[], quantities: readonly number[]): Cents {
  return cents(
    own.reduce((sum, at) => {
      const quantity = quantities[at] ?? 0
      return sum + (quantity === 0 ? 0 : quantity * priceOf(drafts[at]?.term ?? null, quantity))
    }, 0),
  )
}
