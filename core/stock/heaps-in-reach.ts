import type { PartId, VanId } from '../units/ids.ts'
import {
  isFittable,
  needsOfVisit,
  type PickListInput,
  type PullVisit,
  type StockAtPlace,
  type VisitNeed,
} from './pull-shapes.ts'
import type { Want } from './reach-flow.ts'

/** What is left of a lot at a place while the list is made. */
export interface Shelf {
  readonly stock: StockAtPlace
  left: number
}

/** The pieces of one part on one van, or in the warehouse, that may be fitted that day, the first to expire first. */
export interface Heap {
  readonly partId: PartId
  readonly vanId: VanId | null
  readonly shelves: Shelf[]
  left: number
}

/** What a visit needs of a part, and the heaps it may come from, what is liked best first. */
export interface NeedInReach extends Want {
  readonly need: VisitNeed
  /** What a piece of each heap costs: own parts before others, the dealer's order, the van before the warehouse. */
  readonly costs: readonly number[]
}

/** Any own part goes before any other: more than all ranks together. */
const STANDS_IN = 1_000_000

/** What lies where, by part and van, and what each visit may draw on. A visit never draws on another van. */
export class HeapsInReach {
  readonly heaps: Heap[] = []
  readonly #numbers = new Map<string, number>()
  readonly #substitutes: ReadonlyMap<PartId, readonly PartId[]>
  /** What every visit uses. */
  readonly #always: PickListInput['parts']

  constructor(input: PickListInput) {
    this.#always = input.parts.filter((part) => part.perVisitQuantity > 0)
    this.#substitutes = new Map(input.parts.map((part) => [part.partId, part.substitutes]))
    for (const stock of [...input.stock].sort(byFirstExpiry)) {
      const left = stock.onHand - stock.promised
      if (left <= 0 || !isFittable(stock, input.fittedOn)) continue
      const heap = this.#heapOf(stock.partId, stock.vanId)
      heap.shelves.push({ stock, left })
      heap.left += left
    }
  }

  /** The number of the heap of a part on a van or in the warehouse; null when nothing lies there. */
  find(partId: PartId, vanId: VanId | null): number | null {
    return this.#numbers.get(`${partId}/${vanId ?? 'warehouse'}`) ?? null
  }

  /** What lies there now. */
  left(partId: PartId, vanId: VanId | null): number {
    const number = this.find(partId, vanId)
    return number === null ? 0 : (this.heaps[number]?.left ?? 0)
  }

  substitutesOf(partId: PartId): readonly PartId[] {
    return this.#substitutes.get(partId) ?? []
  }

  /** What a visit needs, with the heaps that each need may come from. */
  needsOf(visit: PullVisit): NeedInReach[] {
    return needsOfVisit(visit, this.#always).map((need) => {
      const others = need.ownPartOnly ? [] : this.substitutesOf(need.partId)
      const ways = [need.partId, ...others].flatMap((partId, rank) =>
        [visit.vanId, null].flatMap((vanId, further) => {
          const heap = this.find(partId, vanId)
          return heap === null ? [] : [{ heap, cost: (rank === 0 ? 0 : STANDS_IN + 2 * rank) + further }]
        }),
      )
      return { need, quantity: need.quantity, heaps: ways.map(({ heap }) => heap), costs: ways.map(({ cost }) => cost) }
    })
  }

  /** Takes pieces of a heap, the lot that expires first first; `each` is told of every lot. At most what lies there. */
  take(heap: number, quantity: number, each: (stock: StockAtPlace, pieces: number) => void): number {
    const from = this.heaps[heap]
    let wanted = Math.min(quantity, from?.left ?? 0)
    if (!from || wanted <= 0) return 0
    from.left -= wanted
    const taken = wanted
    for (const shelf of from.shelves) {
      const pieces = Math.min(wanted, shelf.left)
      if (pieces === 0) continue
      shelf.left -= pieces
      wanted -= pieces
      each(shelf.stock, pieces)
      if (wanted === 0) break
    }
    return taken
  }

  #heapOf(partId: PartId, vanId: VanId | null): Heap {
    const key = `${partId}/${vanId ?? 'warehouse'}`
    const known = this.heaps[this.#numbers.get(key) ?? -1]
    if (known) return known
    const heap: Heap = { partId, vanId, shelves: [], left: 0 }
    this.#numbers.set(key, this.heaps.length)
    this.heaps.push(heap)
    return heap
  }
}

/** First expired first out; lots that never expire last; then the nearer bin. */
export function byFirstExpiry(a: StockAtPlace, b: StockAtPlace): number {
  return (
    compare(a.expiresOn ?? '9999-12-31', b.expiresOn ?? '9999-12-31') ||
    a.walkOrder - b.walkOrder ||
    compare(a.binCode, b.binCode) ||
    a.lotId - b.lotId ||
    a.placeId - b.placeId
  )
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}
