/** Pieces wanted, and the heaps they may come from, by number; the first heap is liked best. */
export interface Want {
  readonly heaps: readonly number[]
  readonly quantity: number
}

/** What one kind of want gets of each of its heaps. */
interface Flow {
  readonly heaps: readonly number[]
  /** What a piece of each heap costs; only the differences matter. */
  readonly costs: readonly number[]
  readonly pieces: number[]
}

/** Where a path came from: the kind of want whose piece moves over, and the heap that this piece comes to. */
interface Step {
  readonly flow: number
  readonly at: number
}

/**
 * Pieces shared out so that everybody gets all they want, for as long as that can be: whole pieces along augmenting paths. Wants of the
 * same kind are one; a piece that somebody has moves to another of its heaps where that makes room, and moves no further than it must:
 * every path is one of least cost, so the whole sharing costs least (successive shortest paths).
 */
export class ReachFlow {
  readonly #left: number[]
  readonly #flows: Flow[] = []
  readonly #kinds = new Map<string, number>()
  readonly #atHeap: number[][]

  /** `pieces` lie in the heaps. */
  constructor(pieces: readonly number[]) {
    this.#left = [...pieces]
    this.#atHeap = pieces.map(() => [])
  }

  /** The number of a kind of want; kinds differ by name, and `costs` go with the heaps. Without costs all heaps are alike. */
  kind(name: string, heaps: readonly number[], costs: readonly number[] = heaps.map(() => 0)): number {
    const known = this.#kinds.get(name)
    if (known !== undefined) return known
    const number = this.#flows.length
    this.#flows.push({ heaps, costs, pieces: heaps.map(() => 0) })
    this.#kinds.set(name, number)
    for (const heap of heaps) this.#atHeap[heap]?.push(number)
    return number
  }

  /** Gives up to so many pieces to a kind of want; how many it got. Nobody else has fewer than before. */
  give(kind: number, quantity: number): number {
    let given = 0
    while (given < quantity) {
      const moved = this.#augment(kind, quantity - given)
      if (moved === 0) break
      given += moved
    }
    return given
  }

  /** Takes pieces back from a kind of want. */
  takeBack(kind: number, quantity: number): void {
    const flow = this.#flows[kind]
    if (!flow) return
    let left = quantity
    for (let index = flow.heaps.length - 1; index >= 0 && left > 0; index -= 1) {
      const back = Math.min(left, flow.pieces[index] ?? 0)
      flow.pieces[index] = (flow.pieces[index] ?? 0) - back
      const heap = flow.heaps[index] ?? 0
      this.#left[heap] = (this.#left[heap] ?? 0) + back
      left -= back
    }
  }

  /** Gives all of several wants, or none of them. */
  giveAll(wants: readonly { readonly kind: number; readonly quantity: number }[]): boolean {
    for (const [index, want] of wants.entries()) {
      const given = this.give(want.kind, want.quantity)
      if (given === want.quantity) continue
      this.takeBack(want.kind, given)
      for (const before of wants.slice(0, index)) this.takeBack(before.kind, before.quantity)
      return false
    }
    return true
  }

  /** What a kind of want has of each of its heaps. */
  has(kind: number): readonly number[] {
    return this.#flows[kind]?.pieces ?? []
  }

  /** What is left in a heap. */
  left(heap: number): number {
    return this.#left[heap] ?? 0
  }

  /** Moves pieces along the cheapest path from a want to a heap with pieces left; how many went. */
  #augment(kind: number, most: number): number {
    const heaps = this.#left.length
    const cost = new Float64Array(heaps).fill(Number.POSITIVE_INFINITY)
    const step: (Step | undefined)[] = new Array(heaps)
    const queue: number[] = []
    const reach = (heap: number, at: number, flow: number, price: number): void => {
      if (price >= (cost[heap] ?? 0)) return
      cost[heap] = price
      step[heap] = { flow, at }
      if (!queue.includes(heap)) queue.push(heap)
    }
    const from = this.#flows[kind]
    from?.heaps.forEach((heap, index) => {
      reach(heap, -1, kind, from.costs[index] ?? 0)
    })
    for (let next = queue.shift(); next !== undefined; next = queue.shift()) {
      if (this.left(next) > 0) continue // what lies there is taken; nobody has to move on
      for (const number of this.#atHeap[next] ?? []) {
        const flow = this.#flows[number]
        const here = flow?.heaps.indexOf(next) ?? -1
        if (!flow || (flow.pieces[here] ?? 0) === 0) continue
        for (const [index, heap] of flow.heaps.entries())
          if (heap !== next)
            reach(heap, next, number, (cost[next] ?? 0) + (flow.costs[index] ?? 0) - (flow.costs[here] ?? 0))
      }
    }
    let best = -1
    for (let heap = 0; heap < heaps; heap += 1)
      if (this.left(heap) > 0 && (cost[heap] ?? 0) < (best < 0 ? Number.POSITIVE_INFINITY : (cost[best] ?? 0)))
        best = heap
    return best < 0 ? 0 : this.#move(step, best, most)
  }

  #move(step: readonly (Step | undefined)[], end: number, most: number): number {
    let moved = Math.min(most, this.left(end))
    for (let heap = end; ; ) {
      const { flow, at } = step[heap] as Step
      if (at < 0) break
      moved = Math.min(moved, this.#pieces(flow, at))
      heap = at
    }
    for (let heap = end; ; ) {
      const { flow, at } = step[heap] as Step
      this.#change(flow, heap, moved)
      if (at < 0) break
      this.#change(flow, at, -moved)
      heap = at
    }
    this.#left[end] = this.left(end) - moved
    return moved
  }

  #pieces(number: number, heap: number): number {
    const flow = this.#flows[number]
    return flow?.pieces[flow.heaps.indexOf(heap)] ?? 0
  }

  #change(number: number, heap: number, by: number): void {
    const flow = this.#flows[number]
    const index = flow?.heaps.indexOf(heap) ?? -1
    if (flow && index >= 0) flow.pieces[index] = (flow.pieces[index] ?? 0) + by
  }
}
