import { addDays, type CalendarDate } from '../units/calendar-date.ts'
import { counted, shortDate } from '../units/date-words.ts'
import type { PartId, SupplierId } from '../units/ids.ts'
import { type Cents, cents } from '../units/money.ts'
import { type DailyPace, reorderPoint } from './reorder-point.ts'

/** On what terms a supplier sells a part. */
export interface PartTerm {
  readonly supplierId: SupplierId
  readonly leadTimeDays: number
  /** How often one orders there; null for the office's own review period. */
  readonly reviewDays: number | null
  readonly packSize: number
  /** The least number of pieces sold at once; 0 when any number goes. */
  readonly minimumQuantity: number
  /** A piece. */
  readonly price: Cents
  readonly preferred: boolean
}

export interface ReorderPart {
  readonly partId: PartId
  readonly name: string
  readonly perVisitQuantity: number
  /** Pieces the office never wants to plan below; null when it left that to the arithmetic. */
  readonly leastToKeep: number | null
  readonly serviceLevelPercent: number
  readonly terms: readonly PartTerm[]
  /** Pieces used a day in the recent past; only asked where neither due dates nor visits speak. */
  readonly usedADay: DailyPace
}

/** Pieces that a due date calls for. A visit that is booked has its own date; the rest have the stage's due date. */
export interface DueDemand {
  readonly partId: PartId
  readonly on: CalendarDate
  readonly quantity: number
  readonly booked: boolean
}

export interface StockLot {
  readonly partId: PartId
  readonly expiresOn: CalendarDate | null
  readonly recalled: boolean
  readonly quantity: number
}

export interface PartQuantity {
  readonly partId: PartId
  readonly quantity: number
}

export interface ReorderInput {
  readonly today: CalendarDate
  readonly locale: string
  readonly parts: readonly ReorderPart[]
  /** Without what is promised to an open pull: that stands under `promised`. */
  readonly demands: readonly DueDemand[]
  readonly stock: readonly StockLot[]
  readonly promised: readonly PartQuantity[]
  readonly onOrder: readonly PartQuantity[]
  readonly drafted: readonly PartQuantity[]
  readonly visitsADay: DailyPace
  readonly leadTimeDays: number
  readonly reviewPeriodDays: number
  /** Share of the stages falling due that lead to a visit, in percent. */
  readonly letterToVisitPercent: number
}

export type ArithmeticKind =
  | 'booked'
  | 'likely'
  | 'every-visit'
  | 'past-use'
  | 'reserve'
  | 'least-to-keep'
  | 'promised'
  | 'on-hand'
  | 'on-order'
  | 'drafted'
  | 'packs'

/** One line of a sum that ends in what to order. */
export interface ArithmeticLine {
  readonly kind: ArithmeticKind
  readonly words: string
  /** Pieces; below zero for what is there already. */
  readonly pieces: number
}

export interface ReorderProposal {
  readonly partId: PartId
  readonly term: PartTerm | null
  /** The last day this order has to cover: today plus lead time plus review period. */
  readonly covers: CalendarDate
  /** Pieces that will be needed until then, with the reserve; without what is promised. */
  readonly level: number
  readonly usable: number
  /** Pieces missing; 0 when there is enough. */
  readonly short: number
  /** Pieces to order: the shortfall, rounded up to whole packs and the supplier's minimum. */
  readonly order: number
  readonly cost: Cents
  /** The sum behind `order`: the lines add up to it; when nothing is to be ordered, to zero or less. */
  readonly lines: readonly ArithmeticLine[]
  readonly sentence: string
}

/**
 * `max(minimum, pack · ceil(need / pack))`, the minimum itself rounded up to whole packs; 0 when nothing is needed.
 * `quantityInPacks(13, 12, 0)` is 24.
 */
export function quantityInPacks(need: number, packSize: number, minimumQuantity: number): number {
  if (need <= 0) return 0
  const inPacks = (pieces: number) => packSize * Math.ceil(pieces / packSize)
  return Math.max(inPacks(minimumQuantity), inPacks(need))
}

/** The preferred supplier; otherwise the cheapest, then the quickest. */
export function termToUse(terms: readonly PartTerm[]): PartTerm | null {
  const best = [...terms].sort(
    (a, b) =>
      Number(b.preferred) - Number(a.preferred) ||
      a.price - b.price ||
      a.leadTimeDays - b.leadTimeDays ||
      a.supplierId - b.supplierId,
  )
  return best[0] ?? null
}

/**
 * What to order of every part, with the arithmetic behind it; one proposal a part, in the order given.
 * A first cut, and said so on the screen: a stage that falls due counts with the office's share of letters that lead to a visit,
 * rounded up over all stages of the part; how far the true number may stray from that is not weighed.
 */
export function proposeReorders(input: ReorderInput): ReorderProposal[] {
  const of = {
    demands: grouped(input.demands),
    stock: grouped(input.stock),
    promised: sums(input.promised),
    onOrder: sums(input.onOrder),
    drafted: sums(input.drafted),
  }
  return input.parts.map((part) => {
    const term = termToUse(part.terms)
    const days = (term?.leadTimeDays ?? input.leadTimeDays) + (term?.reviewDays ?? input.reviewPeriodDays)
    const covers = addDays(input.today, days)
    const needed = neededLines(part, of.demands.get(part.partId) ?? [], { input, days, covers })
    const level = total(needed)
    const there = thereLines(part, of, covers, input.locale)
    const missing = level + total(there)
    const short = Math.max(0, missing)
    const order = quantityInPacks(short, term?.packSize ?? 1, term?.minimumQuantity ?? 0)
    const lines = [...needed, ...there, ...packLine(order, short, term)]
    const usable = -(there.find((line) => line.kind === 'on-hand')?.pieces ?? 0)
    const cost = cents((term?.price ?? 0) * order)
    const sentence = sentenceOf({ part, order, short, level, covers, usable, term, locale: input.locale })
    return { partId: part.partId, term, covers, level, usable, short, order, cost, lines, sentence }
  })
}

interface Window {
  readonly input: ReorderInput
  readonly days: number
  readonly covers: CalendarDate
}

function neededLines(part: ReorderPart, demands: readonly DueDemand[], window: Window): ArithmeticLine[] {
  const lines = [...dueLines(demands, window), ...linesOfUse(part, demands.length > 0, window)]
  const least = part.leastToKeep ?? 0
  const level = total(lines)
  if (least > level)
    lines.push({ kind: 'least-to-keep', words: `up to the ${least} you keep at least`, pieces: least - level })
  return lines
}

/** What the due dates call for: booked visits in full, the rest by the share of letters that lead to a visit. */
function dueLines(demands: readonly DueDemand[], { input, covers }: Window): ArithmeticLine[] {
  const within = demands.filter((demand) => demand.on <= covers)
  const booked = total(within.filter((demand) => demand.booked).map((demand) => ({ pieces: demand.quantity })))
  const open = total(within.filter((demand) => !demand.booked).map((demand) => ({ pieces: demand.quantity })))
  const likely = shareOf(open, input.letterToVisitPercent)
  const until = shortDate(covers, input.locale)
  const lines: ArithmeticLine[] = []
  if (booked > 0) lines.push({ kind: 'booked', words: `for visits booked until ${until}`, pieces: booked })
  if (open > 0)
    lines.push({
      kind: 'likely',
      words: `likely until then: ${input.letterToVisitPercent} % of the ${counted(open, 'stage')} falling due, rounded up`,
      pieces: likely,
    })
  return lines
}

/** The expected share of so many, rounded up; a hair of floating point does not make another piece. */
export function shareOf(count: number, percent: number): number {
  return Math.max(0, Math.ceil((count * percent) / 100 - 1e-9))
}

/** What is used whatever falls due: at every visit, or by the look of the recent past. */
function linesOfUse(part: ReorderPart, hasDueDates: boolean, { input, days }: Window): ArithmeticLine[] {
  const everyVisit = part.perVisitQuantity > 0
  if (!everyVisit && hasDueDates) return []
  const pace = everyVisit ? input.visitsADay : part.usedADay
  const pieces = everyVisit ? part.perVisitQuantity : 1
  const point = reorderPoint({
    dailyUse: pace.mean * pieces,
    dailyDeviation: pace.deviation * pieces,
    leadDays: days,
    leadDeviation: 0,
    serviceLevelPercent: part.serviceLevelPercent,
  })
  const expected = Math.ceil(point.expectedUse - 1e-9)
  const reserve = Math.ceil(point.point - 1e-9) - expected
  if (expected === 0) return []
  const aDay = (pace.mean * pieces).toFixed(1)
  const words = everyVisit
    ? `${part.perVisitQuantity} at every visit: ${aDay} a day for ${counted(days, 'day')}`
    : `used of late: ${aDay} a day for ${counted(days, 'day')}`
  const lines: ArithmeticLine[] = [{ kind: everyVisit ? 'every-visit' : 'past-use', words, pieces: expected }]
  if (reserve > 0)
    lines.push({
      kind: 'reserve',
      words: `in reserve, enough in ${part.serviceLevelPercent} of 100 such spells`,
      pieces: reserve,
    })
  return lines
}

interface Holdings {
  readonly stock: ReadonlyMap<PartId, readonly StockLot[]>
  readonly promised: ReadonlyMap<PartId, number>
  readonly onOrder: ReadonlyMap<PartId, number>
  readonly drafted: ReadonlyMap<PartId, number>
}

/** What is promised, and what is there or on its way. A lot that expires before the period is over does not count. */
function thereLines(part: ReorderPart, of: Holdings, covers: CalendarDate, locale: string): ArithmeticLine[] {
  const lots = of.stock.get(part.partId) ?? []
  const isGood = (lot: StockLot) => !lot.recalled && (lot.expiresOn === null || lot.expiresOn >= covers)
  const usable = total(lots.filter(isGood).map((lot) => ({ pieces: lot.quantity })))
  const lost = total(lots.filter((lot) => !isGood(lot)).map((lot) => ({ pieces: lot.quantity })))
  const promised = of.promised.get(part.partId) ?? 0
  const onOrder = of.onOrder.get(part.partId) ?? 0
  const drafted = of.drafted.get(part.partId) ?? 0
  const lines: ArithmeticLine[] = []
  if (promised > 0) lines.push({ kind: 'promised', words: 'promised to pulls that are open', pieces: promised })
  const without = lost > 0 ? `; ${lost} more expired by then, or recalled` : ''
  lines.push({
    kind: 'on-hand',
    words: `on hand and good until ${shortDate(covers, locale)}${without}`,
    pieces: usable === 0 ? 0 : -usable,
  })
  if (onOrder > 0) lines.push({ kind: 'on-order', words: 'ordered and awaited', pieces: -onOrder })
  if (drafted > 0) lines.push({ kind: 'drafted', words: 'in an order not sent yet', pieces: -drafted })
  return lines
}

function packLine(order: number, short: number, term: PartTerm | null): ArithmeticLine[] {
  if (order === short || !term) return []
  const isMinimum = quantityInPacks(short, term.packSize, 0) < order
  const words = isMinimum
    ? `to reach the supplier’s minimum of ${term.minimumQuantity}`
    : `to fill ${counted(order / term.packSize, 'pack')} of ${term.packSize}`
  return [{ kind: 'packs', words, pieces: order - short }]
}

interface SentenceFacts {
  readonly part: ReorderPart
  readonly order: number
  readonly short: number
  readonly level: number
  readonly usable: number
  readonly covers: CalendarDate
  readonly term: PartTerm | null
  readonly locale: string
}

function sentenceOf({ part, order, short, level, usable, covers, term, locale }: SentenceFacts): string {
  const until = shortDate(covers, locale)
  if (order === 0) return `Enough of ${part.name} until ${until}: ${level} needed, ${usable} on hand.`
  const packs = term && term.packSize > 1 ? ` in ${counted(order / term.packSize, 'pack')} of ${term.packSize}` : ''
  const nobody = term ? '' : ' No supplier is set for it yet.'
  return `Order ${order}${packs}: ${short} will be missing by ${until}.${nobody}`
}

function total(lines: readonly { readonly pieces: number }[]): number {
  return lines.reduce((sum, line) => sum + line.pieces, 0)
}

function sums(quantities: readonly PartQuantity[]): Map<PartId, number> {
  const result = new Map<PartId, number>()
  for (const { partId, quantity } of quantities) result.set(partId, (result.get(partId) ?? 0) + quantity)
  return result
}

function grouped<Row extends { readonly partId: PartId }>(rows: readonly Row[]): Map<PartId, Row[]> {
  const result = new Map<PartId, Row[]>()
  for (const row of rows) {
    const group = result.get(row.partId)
    if (group) group.push(row)
    else result.set(row.partId, [row])
  }
  return result
}
