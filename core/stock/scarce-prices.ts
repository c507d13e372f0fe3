import type { Want } from './reach-flow.ts'

/** What is short, and who wants it. Heaps and visits are called by their number. */
export interface ScarceQuestion {
  /** Pieces in each heap. */
  readonly pieces: readonly number[]
  readonly visits: readonly { readonly worth: number; readonly wants: readonly Want[] }[]
}

const ALMOST = 1e-9
/** What is smaller than this came of rounding. */
const TINY = 1e-11

/**
 * The linear relaxation of which visits to serve, where a visit may be served in part: most worth, no heap overdrawn. A table in the
 * form x_B = b - A x_N, worked on by the dual simplex with bounded variables: it begins with every visit served, which is best but
 * overdraws, and each turn of the table puts one overdrawn row right. Whatever it has come to, the prices of the pieces that can be read off
 * give a bound that holds by itself, so nothing rests on its rounding.
 */
export class ScarcePrices {
  /** Cells of the table that were worked over so far: what the search counts its effort in. */
  effort = 0
  readonly #visits: number
  readonly #heaps: number
  readonly #rows: number
  readonly #cols: number
  readonly #table: Float64Array
  readonly #at: Float64Array
  readonly #gain: Float64Array
  /** Which variable stands in each row and column: visits, then pieces on their way, then what is left of heaps and kinds. */
  readonly #rowOf: Int32Array
  readonly #colOf: Int32Array
  /** The most each variable may be; none for what is not bounded, 0 for what is settled. */
  readonly #most: Float64Array
  /** Whether a variable is measured from its most downwards. */
  readonly #turned: Uint8Array

  constructor(question: ScarceQuestion | ScarcePrices) {
    if (question instanceof ScarcePrices) {
      this.effort = question.effort
      this.#visits = question.#visits
      this.#heaps = question.#heaps
      this.#rows = question.#rows
      this.#cols = question.#cols
      this.#table = question.#table.slice()
      this.#at = question.#at.slice()
      this.#gain = question.#gain.slice()
      this.#rowOf = question.#rowOf.slice()
      this.#colOf = question.#colOf.slice()
      this.#most = question.#most.slice()
      this.#turned = question.#turned.slice()
      return
    }
    const kinds = kindsOf(question)
    const ways = kinds.flatMap((kind, index) => kind.heaps.map((heap) => ({ heap, kind: index })))
    this.#visits = question.visits.length
    this.#heaps = question.pieces.length
    this.#rows = this.#heaps + kinds.length
    this.#cols = this.#visits + ways.length
    this.#table = new Float64Array(this.#rows * this.#cols)
    this.#at = new Float64Array(this.#rows)
    this.#gain = new Float64Array(this.#cols)
    this.#rowOf = Int32Array.from({ length: this.#rows }, (_, row) => this.#cols + row)
    this.#colOf = Int32Array.from({ length: this.#cols }, (_, col) => col)
    this.#most = new Float64Array(this.#cols + this.#rows).fill(Number.POSITIVE_INFINITY).fill(1, 0, this.#visits)
    this.#turned = new Uint8Array(this.#cols + this.#rows).fill(1, 0, this.#visits)
    question.pieces.forEach((pieces, heap) => {
      this.#at[heap] = pieces
    })
    const kindOf = new Map(kinds.map((kind, index) => [kind.heaps.join(), index]))
    question.visits.forEach(({ worth, wants }, visit) => {
      this.#gain[visit] = -worth
      for (const { heaps, quantity } of wants) {
        const [only = 0] = heaps
        const row = heaps.length === 1 ? only : this.#heaps + (kindOf.get(heaps.join()) ?? 0)
        this.#add(row, visit, -quantity)
        this.#at[row] = (this.#at[row] ?? 0) - quantity
      }
    })
    ways.forEach(({ heap, kind }, index) => {
      this.#add(heap, this.#visits + index, 1)
      this.#add(this.#heaps + kind, this.#visits + index, -1)
    })
  }

  #add(row: number, col: number, by: number): void {
    const cell = row * this.#cols + col
    this.#table[cell] = (this.#table[cell] ?? 0) + by
  }

  /** Cells of the table. */
  get size(): number {
    return this.#table.length
  }

  /** Settles a visit as served or not. */
  settle(visit: number, served: boolean): void {
    const turned = this.#turned[visit] === 1
    const isAtTarget = turned === served
    const col = this.#colOf.indexOf(visit)
    if (col >= 0) {
      if (!isAtTarget) this.#turnCol(col, 1)
    } else if (!isAtTarget) this.#turnRow(this.#rowOf.indexOf(visit))
    this.#most[visit] = 0
  }

  /** Works the table until no row is overdrawn; false when what is settled cannot be. After too many turns it stays as it is. */
  work(): boolean {
    for (let turn = 4 * (this.#rows + this.#cols); turn > 0; turn -= 1) {
      const row = this.#worstRow()
      if (row < 0) return true
      const value = this.#at[row] ?? 0
      if (value > 0) this.#turnRow(row)
      const col = this.#bestCol(row)
      if (col < 0) return false
      this.#pivot(row, col)
    }
    return true
  }

  /** How far each visit is served, 0 to 1. */
  shares(): Float64Array {
    const shares = new Float64Array(this.#visits)
    for (let visit = 0; visit < this.#visits; visit += 1) {
      const row = this.#rowOf.indexOf(visit)
      const value = row < 0 ? 0 : (this.#at[row] ?? 0)
      shares[visit] = this.#turned[visit] === 1 ? 1 - value : value
    }
    return shares
  }

  /** What a piece of each heap is worth at the margin, never below zero. */
  prices(): Float64Array {
    const prices = new Float64Array(this.#heaps)
    for (let col = 0; col < this.#cols; col += 1) {
      const heap = (this.#colOf[col] ?? 0) - this.#cols
      if (heap >= 0 && heap < this.#heaps) prices[heap] = Math.max(0, -(this.#gain[col] ?? 0))
    }
    return prices
  }

  /** The row that is furthest below zero or above its most; -1 when none is. */
  #worstRow(): number {
    let worst = -1
    let most = 1e-7
    for (let row = 0; row < this.#rows; row += 1) {
      const value = this.#at[row] ?? 0
      const over = Math.max(-value, value - (this.#most[this.#rowOf[row] ?? 0] ?? 0))
      if (over > most) {
        most = over
        worst = row
      }
    }
    return worst
  }

  /** The column that can raise a row at the least cost; -1 when none can. */
  #bestCol(row: number): number {
    let best = -1
    let least = Number.POSITIVE_INFINITY
    for (let col = 0; col < this.#cols; col += 1) {
      const cell = this.#table[row * this.#cols + col] ?? 0
      if (cell > -1e-7 || this.#most[this.#colOf[col] ?? 0] === 0) continue
      const ratio = Math.min(0, this.#gain[col] ?? 0) / cell
      const bestCell = best < 0 ? 0 : (this.#table[row * this.#cols + best] ?? 0)
      if (ratio < least - ALMOST || (ratio < least + ALMOST && cell < bestCell - ALMOST)) {
        least = Math.min(least, ratio)
        best = col
      }
    }
    return best
  }

  #pivot(row: number, col: number): void {
    const { cols, table, at, gain } = { cols: this.#cols, table: this.#table, at: this.#at, gain: this.#gain }
    const first = row * cols
    const pivot = table[first + col] ?? 1
    table[first + col] = 1
    const filled: number[] = []
    for (let each = 0; each < cols; each += 1) {
      const cell = (table[first + each] ?? 0) / pivot
      table[first + each] = Math.abs(cell) < TINY ? 0 : cell
      if (table[first + each] !== 0) filled.push(each)
    }
    at[row] = (at[row] ?? 0) / pivot
    for (let other = 0; other < this.#rows; other += 1) {
      const start = other * cols
      const factor = table[start + col] ?? 0
      if (other === row || factor === 0) continue
      table[start + col] = 0
      for (const each of filled) table[start + each] = (table[start + each] ?? 0) - factor * (table[first + each] ?? 0)
      at[other] = (at[other] ?? 0) - factor * (at[row] ?? 0)
      this.effort += filled.length
    }
    const factor = gain[col] ?? 0
    gain[col] = 0
    for (const each of filled) gain[each] = (gain[each] ?? 0) - factor * (table[first + each] ?? 0)
    const leaves = this.#rowOf[row] ?? 0
    this.#rowOf[row] = this.#colOf[col] ?? 0
    this.#colOf[col] = leaves
    this.effort += this.#rows + cols
  }

  /** Measures the variable of a row from its other end. */
  #turnRow(row: number): void {
    const variable = this.#rowOf[row] ?? 0
    const first = row * this.#cols
    for (let col = 0; col < this.#cols; col += 1) this.#table[first + col] = -(this.#table[first + col] ?? 0)
    this.#at[row] = (this.#most[variable] ?? 0) - (this.#at[row] ?? 0)
    this.#turned[variable] = 1 - (this.#turned[variable] ?? 0)
  }

  /** Moves the variable of a column to its other end, and measures it from there. */
  #turnCol(col: number, width: number): void {
    for (let row = 0; row < this.#rows; row += 1) {
      const cell = row * this.#cols + col
      const value = this.#table[cell] ?? 0
      this.#at[row] = (this.#at[row] ?? 0) - value * width
      this.#table[cell] = -value
    }
    this.#gain[col] = -(this.#gain[col] ?? 0)
    const variable = this.#colOf[col] ?? 0
    this.#turned[variable] = 1 - (this.#turned[variable] ?? 0)
  }
}

/** The kinds of wants that may come from more than one heap. */
function kindsOf(question: ScarceQuestion): Want[] {
  const kinds = new Map<string, Want>()
  for (const visit of question.visits)
    for (const want of visit.wants) if (want.heaps.length > 1) kinds.set(want.heaps.join(), want)
  return [...kinds.values()]
}
