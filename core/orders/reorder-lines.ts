import type { CalendarDate } from '../units/calendar-date.ts'
import { counted, shortDate, spanInWords } from '../units/date-words.ts'
import { type Cents, formatCents } from '../units/money.ts'
import { priceOf, quantityInPacks } from './choose-quantity.ts'
import type { AwaitedPieces, DraftProposal } from './draft-proposal.ts'
import type { Wanted } from './proposal-shapes.ts'
import type { ReorderPoint } from './reorder-point.ts'
import type { ArithmeticLine, ReorderPart } from './reorder-shapes.ts'
import type { UsableStock } from './usable-stock.ts'

export interface MoneyManner {
  readonly locale: string
  readonly currency: string
}

export function total(lines: readonly { readonly pieces: number }[]): number {
  return lines.reduce((sum, line) => sum + line.pieces, 0)
}

interface NeededFacts {
  readonly part: ReorderPart
  readonly booked: number
  readonly covers: CalendarDate
  readonly days: number
  readonly wanted: Wanted | null
  /** Asked where nothing is known to come. */
  readonly point: ReorderPoint | null
  readonly locale: string
}

/** Up to the level: what is booked, what is likely beside it, and the reserve that makes it enough. */
export function neededLines(facts: NeededFacts): ArithmeticLine[] {
  const { part, booked, covers, locale, wanted, point } = facts
  const lines: ArithmeticLine[] = []
  if (booked > 0)
    lines.push({ kind: 'booked', words: `for visits booked until ${shortDate(covers, locale)}`, pieces: booked })
  if (wanted) lines.push(...likelyLines(part, wanted, booked))
  else if (point) lines.push(...pastLines(facts, point))
  const level = total(lines)
  const least = part.leastToKeep ?? 0
  if (least > level)
    lines.push({ kind: 'least-to-keep', words: `up to the ${least} you always keep`, pieces: least - level })
  return lines
}

function likelyLines(part: ReorderPart, wanted: Wanted, booked: number): ArithmeticLine[] {
  if (wanted.possible === 0) return []
  const likely = Math.min(Math.floor(wanted.expected + 1e-9), wanted.level - booked)
  const reserve = wanted.level - booked - likely
  const expected = figure(wanted.expected)
  const words =
    part.perVisitQuantity > 0
      ? `likely until then: ${part.perVisitQuantity} at every visit, ${expected} in all`
      : `likely until then: ${expected} of the ${counted(wanted.possible, 'piece')} that may be asked for`
  const lines: ArithmeticLine[] = [{ kind: 'likely', words, pieces: likely }]
  if (reserve > 0)
    lines.push({
      kind: 'reserve',
      words: `in reserve: ${wanted.level} are enough ${casesInWords(wanted.enoughAtLevel)}`,
      pieces: reserve,
    })
  return lines
}

function pastLines({ part, booked, days }: NeededFacts, point: ReorderPoint): ArithmeticLine[] {
  const lines: ArithmeticLine[] = []
  const expected = Math.ceil(point.expectedUse - 1e-9)
  const reserve = Math.max(Math.ceil(point.point - 1e-9), booked) - Math.max(expected, booked)
  if (expected > booked) {
    const beside = booked > 0 ? ', beside what is booked' : ''
    const words = `used of late: ${figure(part.usedADay.mean)} a day for ${counted(days, 'day')}${beside}`
    lines.push({ kind: 'past-use', words, pieces: expected - booked })
  }
  if (reserve > 0)
    lines.push({
      kind: 'reserve',
      words: `in reserve, enough in ${figure(part.serviceLevelPercent)} of 100 such spells`,
      pieces: reserve,
    })
  return lines
}

interface ThereFacts {
  readonly promised: number
  readonly drafted: number
  readonly stock: UsableStock
  readonly awaited: AwaitedPieces
  readonly covers: CalendarDate
  readonly locale: string
}

/** What is promised, and what is there or on its way. */
export function thereLines({ promised, drafted, stock, awaited, covers, locale }: ThereFacts): ArithmeticLine[] {
  const lines: ArithmeticLine[] = []
  if (promised > 0) lines.push({ kind: 'promised', words: 'promised to pulls that are open', pieces: promised })
  const without = [
    stock.expiring > 0 && stock.firstExpiry
      ? `${stock.expiring} more expire before they are needed, from ${shortDate(stock.firstExpiry, locale)}`
      : '',
    stock.lost > 0 ? `${stock.lost} more expired or recalled` : '',
  ].filter(Boolean)
  const words = ['on hand and good when it will be needed', ...without].join('; ')
  lines.push({ kind: 'on-hand', words, pieces: stock.usable === 0 ? 0 : -stock.usable })
  if (awaited.pieces + awaited.later > 0)
    lines.push({
      kind: 'on-order',
      words: awaitedWords(awaited, covers, locale),
      pieces: awaited.pieces === 0 ? 0 : -awaited.pieces,
    })
  if (drafted > 0) lines.push({ kind: 'drafted', words: 'in an order not sent yet', pieces: -drafted })
  return lines
}

function awaitedWords({ late, daysLate, later }: AwaitedPieces, covers: CalendarDate, locale: string): string {
  const words = ['ordered and awaited']
  if (late > 0) words.push(`${late} of them ${late === 1 ? 'is' : 'are'} ${spanInWords(daysLate)} late`)
  if (later > 0) words.push(`${later} more come after ${shortDate(covers, locale)}`)
  return words.join('; ')
}

/** From what is missing to what is ordered. */
export function orderLines(draft: DraftProposal, order: number, manner: MoneyManner): ArithmeticLine[] {
  const { missing, batch, chosen, term, part } = draft
  const lines: ArithmeticLine[] = []
  let sum = missing
  const upTo = (kind: ArithmeticLine['kind'], pieces: number, words: string): void => {
    if (pieces !== sum) lines.push({ kind, words, pieces: pieces - sum })
    sum = pieces
  }
  if (missing > 0) {
    if (batch && batch.quantity > missing)
      upTo('batch', batch.quantity, batchWords(batch.quantity, manner, batch.yearlyCost))
    upTo('packs', chosen.plain, packWords(Math.max(missing, batch?.quantity ?? 0), draft))
    if (chosen.quantity > chosen.plain && term)
      upTo('cheaper', chosen.quantity, cheaperWords(chosen.quantity, chosen.plain, draft, manner))
    if (chosen.quantity < chosen.plain)
      upTo('shelf', chosen.quantity, `more would expire unused: it keeps ${counted(part.shelfMonths ?? 0, 'month')}`)
  }
  if (order !== chosen.quantity)
    upTo('ahead', order, 'needed next, ordered along to reach the least order of the supplier')
  return lines
}

function batchWords(quantity: number, manner: MoneyManner, yearly: Cents): string {
  return `ordered ${quantity} at a time, which costs least: ${formatCents(yearly, manner.currency, manner.locale)} a year`
}

function packWords(need: number, { term, chosen }: DraftProposal): string {
  if (!term) return 'rounded up'
  if (quantityInPacks(need, term.packSize, 0) < chosen.plain)
    return `to reach the ${term.minimumQuantity} that are sold at least`
  return `to fill ${counted(chosen.plain / term.packSize, 'pack')} of ${term.packSize}`
}

function cheaperWords(quantity: number, plain: number, { term }: DraftProposal, manner: MoneyManner): string {
  const money = (amount: Cents): string => formatCents(amount, manner.currency, manner.locale)
  return `because from ${quantity} on a piece costs ${money(priceOf(term, quantity))} instead of ${money(priceOf(term, plain))}`
}

/** "in 95 of 100 cases"; more nines where they matter. */
export function casesInWords(share: number): string {
  if (share >= 0.99995) return 'in practically all cases'
  const percent = share * 100
  return `in ${percent >= 99 ? percent.toFixed(1) : Math.floor(percent)} of 100 cases`
}

/** "14.3"; whole numbers bare. */
export function figure(value: number): string {
  const text = value.toFixed(value > 0 && value < 1 ? 2 : 1)
  return text.replace(/\.0+$/, '')
}
