import { addDays, type CalendarDate, daysBetween } from '../units/calendar-date.ts'
import { type Cents, cents, NO_MONEY } from '../units/money.ts'
import { chooseQuantity, economicBatch, priceOf, termToUse } from './choose-quantity.ts'
import type { AwaitedPieces, DraftProposal } from './draft-proposal.ts'
import { fillOrders } from './fill-orders.ts'
import { demandOfParts, grouped, type PartDemand, sumUntil, wantedWithin } from './part-demand.ts'
import { neededLines, orderLines, thereLines, total } from './reorder-lines.ts'
import { reorderPoint } from './reorder-point.ts'
import type {
  Incoming,
  PartTerm,
  ReorderInput,
  ReorderPart,
  ReorderPlan,
  ReorderProposal,
  StockLot,
} from './reorder-shapes.ts'
import { changesOf, sentenceOf, whyOf } from './reorder-words.ts'
import { type Arrival, lastDayOf, runsOutOn, type StockStory, stockByDay, weeksAhead } from './stock-ahead.ts'
import { usableStock } from './usable-stock.ts'

/** The stock is looked at so far ahead, or as far as the longest order has to cover. */
const WEEKS_AHEAD = 12
/** An order that is late, or without a day, is taken to come within so many days. */
const LATE_COMES_WITHIN = 7
/** Fewer pieces a day than this are none: not one in two thousand years. */
const HARDLY_EVER = 1e-6

/**
 * What to order of every part, with the arithmetic behind it. The level of a part is the least number that is enough, at its service
 * level, for all that may be wanted until an order made now and the next one are there; missing is what usable stock, orders and
 * drafts leave of it. The order is whole packs, at least what the supplier sells, more where a lower price pays for keeping it,
 * never more than will be used before it expires, and filled up to the supplier's least value with what is needed next.
 */
export function proposeReorders(input: ReorderInput): ReorderPlan {
  const horizon = horizonOf(input)
  const demandOf = demandOfParts(input, horizon)
  const of = holdingsOf(input)
  const drafts = input.parts.map((part) => draftOf(part, demandOf(part), of, input))
  const { quantities, orders } = fillOrders(drafts, input)
  return { proposals: drafts.map((draft, at) => proposalOf(draft, quantities[at] ?? 0, input)), orders }
}

/** Lead time plus review period of a part's supplier. */
function daysToCover(input: ReorderInput, term: PartTerm | null): number {
  return (term?.leadTimeDays ?? input.leadTimeDays) + (term?.reviewDays ?? input.reviewPeriodDays)
}

function horizonOf(input: ReorderInput): number {
  const windows = input.parts.map((part) => daysToCover(input, termToUse(part.terms)))
  return windows.reduce((most, days) => Math.max(most, days), WEEKS_AHEAD * 7 - 1)
}

interface Holdings {
  readonly stock: ReadonlyMap<number, readonly StockLot[]>
  readonly incoming: ReadonlyMap<number, readonly Incoming[]>
  readonly promised: ReadonlyMap<number, number>
  readonly drafted: ReadonlyMap<number, number>
}

function holdingsOf(input: ReorderInput): Holdings {
  return {
    stock: grouped(input.stock),
    incoming: grouped(input.incoming),
    promised: sums(input.promised),
    drafted: sums(input.drafted),
  }
}

function draftOf(part: ReorderPart, demand: PartDemand, of: Holdings, input: ReorderInput): DraftProposal {
  const term = termToUse(part.terms)
  const days = daysToCover(input, term)
  const arrivesIn = term?.leadTimeDays ?? input.leadTimeDays
  const covers = addDays(input.today, days)
  const promised = of.promised.get(part.partId) ?? 0
  const drafted = of.drafted.get(part.partId) ?? 0
  const lots = of.stock.get(part.partId) ?? []
  const incoming = of.incoming.get(part.partId) ?? []
  const need = needByDay(part, demand, promised)
  const stock = usableStock(lots, runningSum(need), input.today, days)
  const awaited = awaitedWithin(incoming, input.today, covers)
  const on = stock.usable + awaited.pieces + drafted
  const wanted = demand.isKnown ? wantedWithin(demand, days, part.serviceLevelPercent, on - promised) : null
  const booked = sumUntil(demand.booked, days)
  const point = wanted ? null : pointOf(part, days)
  const needed = neededLines({ part, booked, covers, days, wanted, point, locale: input.locale })
  const level = total(needed)
  const there = thereLines({ promised, drafted, stock, awaited, covers, locale: input.locale })
  const missing = level + total(there)
  const batch = wanted ? null : economicBatch(term, part.usedADay.mean * 365, costsOf(input))
  const story: StockStory = {
    today: input.today,
    lots,
    arrivals: arrivalsOf(incoming, drafted, arrivesIn, part.shelfMonths, input.today),
    need,
  }
  const later = incoming.reduce((sum, each) => sum + each.quantity, 0) - awaited.pieces
  const most = mostUsed(part, need, lastDayOf(input.today, arrivesIn, part.shelfMonths), on + later)
  const chosen = chooseQuantity({
    need: missing > 0 ? Math.max(missing, batch?.quantity ?? 0) : 0,
    mustHave: Math.max(booked, part.leastToKeep ?? 0) + promised - on,
    term,
    most,
    holdingShare: input.holdingPercent / 100,
    daysCovered: days,
    dailyUse: paceOf(part),
  })
  const { left } = stockByDay(story)
  return {
    ...{ part, term, days, arrivesIn, covers, booked, level, wanted, stock, awaited },
    ...{ needed, there, missing, batch, most, chosen, story, left },
  }
}

const costsOf = (input: ReorderInput) => ({ orderCost: input.orderCost, holdingShare: input.holdingPercent / 100 })

/** Pieces a day in the long run: what due dates ask for, or what was used of late where that is more. */
function paceOf(part: ReorderPart): number {
  const pace = Math.max(part.usedADay.mean, part.comingADay)
  return pace < HARDLY_EVER ? 0 : pace
}

/** What an order made now can hold so that the last piece is used on its last day; null when it keeps for ever. */
function mostUsed(part: ReorderPart, need: Float64Array, lastDay: number | null, there: number): number | null {
  if (lastDay === null) return null
  const used = Math.max(paceOf(part) * lastDay, sumUntil(need, lastDay))
  return Math.max(0, Math.floor(used + 1e-9) - there)
}

function pointOf(part: ReorderPart, days: number) {
  return reorderPoint({
    dailyUse: part.usedADay.mean,
    dailyDeviation: part.usedADay.deviation,
    leadDays: days,
    leadDeviation: 0,
    serviceLevelPercent: part.serviceLevelPercent,
  })
}

/** Pieces to be expected to be needed by day: promises today, then what is booked and likely, or the pace of late. */
function needByDay(part: ReorderPart, demand: PartDemand, promised: number): Float64Array {
  let booked = 0
  let before = 0
  return demand.booked.map((own, day) => {
    booked += own
    // A part without due dates: what is booked is part of its usual use.
    const by = Math.max(booked, part.usedADay.mean * day)
    const need = demand.isKnown ? own + (demand.expected[day] ?? 0) : by - before
    before = by
    return day === 0 ? need + promised : need
  })
}

function runningSum(days: Float64Array): (day: number) => number {
  let sum = 0
  const sums = days.map((each) => {
    sum += each
    return sum
  })
  return (day) => sums[Math.min(day, sums.length - 1)] ?? 0
}

function awaitedWithin(incoming: readonly Incoming[], today: CalendarDate, covers: CalendarDate): AwaitedPieces {
  const of = (fits: (each: Incoming) => boolean): number =>
    incoming.filter(fits).reduce((sum, each) => sum + each.quantity, 0)
  const late = incoming.filter(({ expectedOn }) => expectedOn !== null && expectedOn < today)
  return {
    pieces: of(({ expectedOn }) => expectedOn === null || expectedOn <= covers),
    later: of(({ expectedOn }) => expectedOn !== null && expectedOn > covers),
    late: late.reduce((sum, each) => sum + each.quantity, 0),
    daysLate: late.reduce((most, { expectedOn }) => Math.max(most, expectedOn ? daysBetween(expectedOn, today) : 0), 0),
  }
}

function arrivalsOf(
  incoming: readonly Incoming[],
  drafted: number,
  arrivesIn: number,
  shelfMonths: number | null,
  today: CalendarDate,
): Arrival[] {
  const arrival = (day: number, quantity: number): Arrival => ({
    day,
    quantity,
    expires: lastDayOf(today, day, shelfMonths),
  })
  const arrivals = incoming.map(({ expectedOn, quantity }) => {
    const day = expectedOn === null ? -1 : daysBetween(today, expectedOn)
    return arrival(day < 0 ? LATE_COMES_WITHIN : day, quantity)
  })
  return drafted > 0 ? [...arrivals, arrival(arrivesIn, drafted)] : arrivals
}

function proposalOf(draft: DraftProposal, order: number, input: ReorderInput): ReorderProposal {
  const { part, term, covers, level, missing, stock, wanted, story, left, chosen, arrivesIn } = draft
  const manner = { locale: input.locale, currency: input.currency }
  const price = priceOf(term, order)
  const isOpened = order > 0 || missing > 0
  const arrival = { day: arrivesIn, quantity: order, expires: lastDayOf(input.today, arrivesIn, part.shelfMonths) }
  return {
    partId: part.partId,
    term,
    covers,
    level,
    usable: stock.usable,
    short: Math.max(0, missing),
    order,
    price,
    cost: costOf(order, price),
    runsOutOn: runsOutOn(left, input.today),
    lines: [...draft.needed, ...draft.there, ...orderLines(draft, order, manner)],
    sentence: sentenceOf(draft, order, manner),
    why: whyOf(draft, order, manner),
    wanted: isOpened ? wanted : null,
    weeks: isOpened ? weeksAhead(story, order > 0 ? arrival : null) : [],
    prices: chosen.quantity === order ? chosen.choices : [],
    changes: isOpened ? changesOf(draft, order, manner) : [],
  }
}

function costOf(order: number, price: Cents): Cents {
  return order === 0 ? NO_MONEY : cents(order * price)
}

function sums(quantities: readonly { readonly partId: number; readonly quantity: number }[]): Map<number, number> {
  const result = new Map<number, number>()
  for (const { partId, quantity } of quantities) result.set(partId, (result.get(partId) ?? 0) + quantity)
  return result
}
