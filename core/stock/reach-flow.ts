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
  /** Of the path looked for: what it costs to each heap, whose piece moves over there, and from which heap; -1 where it begins. */
  readonly #cost: Float64Array
  readonly #mover: Int32Array
  readonly #before: Int32Array
  readonly #waits: Uint8Array

  /** `pieces` lie in the heaps. */
  constructor(pieces: readonly number[]) {
    this.#left = [...pieces]
    this.#atHeap = pieces.map(() => [])
    this.#cost = new Float64Array(pieces.length)
    this.#mover = new Int32Array(pieces.length)
    this.#before = new Int32Array(pieces.length)
    this.#waits = new Uint8Array(pieces.length)
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
      const moved = this.#direct(kind, quantity - given) || this.#augment(kind, quantity - given)
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

  /**
   * Takes pieces that lie in a heap that is liked no less than any other: nobody has to move, and no path costs less, because moving somebody
   * over to free pieces never saves anything while the sharing is one of least cost.
   */
  #direct(kind: number, most: number): number {
    const flow = this.#flows[kind]
    if (!flow) return 0
    for (const [index, heap] of flow.heaps.entries()) {
      if ((flow.costs[index] ?? 0) > (flow.costs[0] ?? 0)) return 0
      const pieces = Math.min(most, this.left(heap))
      if (pieces === 0) continue
      flow.pieces[index] = (flow.pieces[index] ?? 0) + pieces
      this.#left[heap] = this.left(heap) - pieces
      return pieces
    }
    return 0
  }

  /** Moves pieces along the cheapest path from a want to a heap with pieces left; how many went. */
  #augment(kind: number, most: number): number {
    this.#cost.fill(Number.POSITIVE_INFINITY)
    this.#waits.fill(0)
    const queue: number[] = []
    const from = this.#flows[kind]
    from?.heaps.forEach((heap, index) => {
      this.#reach(queue, heap, -1, kind, from.costs[index] ?? 0)
    })
    let best = -1
    for (let at = 0; at < queue.length; at += 1) {
      const heap = queue[at] ?? 0
      this.#waits[heap] = 0
      // What lies there is taken; nobody has to move on.
      if (this.left(heap) === 0) this.#moveOn(queue, heap)
    }
    for (const heap of queue)
      if (
        this.left(heap) > 0 &&
        (best < 0 || this.#costs(heap) < this.#costs(best) || (this.#costs(heap) === this.#costs(best) && heap < best))
      )
        best = heap
    return best < 0 ? 0 : this.#move(best, most)
  }

  #costs(heap: number): number {
    return this.#cost[heap] ?? 0
  }

  /** Everybody who has pieces of a heap may move over to another of theirs. */
  #moveOn(queue: number[], heap: number): void {
    for (const number of this.#atHeap[heap] ?? []) {
      const flow = this.#flows[number]
      const here = flow?.heaps.indexOf(heap) ?? -1
      if (!flow || (flow.pieces[here] ?? 0) === 0) continue
      const cost = this.#costs(heap) - (flow.costs[here] ?? 0)
      for (const [index, other] of flow.heaps.entries())
        if (other !== heap) this.#reach(queue, other, heap, number, cost + (flow.costs[index] ?? 0))
    }
  }

  #reach(queue: number[], heap: number, before: number, mover: number, cost: number): void {
    if (cost >= this.#costs(heap)) return
    this.#cost[heap] = cost
    this.#mover[heap] = mover
    this.#before[heap] = before
    if (this.#waits[heap] === 1) return
    this.#waits[heap] = 1
    queue.push(heap)
  }

  #move(end: number, most: number): number {
    let moved = Math.min(most, this.left(end))
    for (
      let heap = end, before = this.#before[end] ?? -1;
      before >= 0;
      heap = before, before = this.#before[heap] ?? -1
    )
      moved = Math.min(moved, this.#pieces(this.#mover[heap] ?? 0, before))
    for (let heap = end; heap >= 0; heap = this.#before[heap] ?? -1) {
      const mover = this.#mover[heap] ?? 0
      const before = this.#before[heap] ?? -1
      this.#change(mover, heap, moved)
      if (before >= 0) this.#change(mover, before, -moved)
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
