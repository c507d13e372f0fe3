import { addDays, addMonths, type CalendarDate, daysBetween } from '../units/calendar-date.ts'
import type { PartId } from '../units/ids.ts'
import { plainCumulated, plainSum } from './plain-convolution.ts'
import type { LikelyUse, PartTerm, ReorderInput, ReorderPart, ReorderPlan, ReorderProposal } from './reorder-shapes.ts'

/**
 * The judge of reorder proposals: every complaint in words, none when they are lawful. Adds up the chances by the plain convolution,
 * and counts stock, orders, packs and prices in its own ways.
 */
export function checkReorders(input: ReorderInput, plan: ReorderPlan): string[] {
  const known = judgedParts(input)
  const complaints = plan.proposals.flatMap((proposal) => {
    const judged = known(proposal.partId)
    if (judged === null) return [`Part ${proposal.partId} is nobody's.`]
    const said = [
      ...checkSum(proposal),
      ...checkLevel(judged, proposal),
      ...checkThere(input, judged, proposal),
      ...checkQuantity(input, judged, proposal),
      ...checkPrice(input, judged, proposal),
    ]
    return said.map((words) => `Part ${proposal.partId}: ${words}`)
  })
  const proposed = new Set(plan.proposals.map((proposal) => proposal.partId))
  const missing = input.parts.filter((part) => !proposed.has(part.partId))
  return [...complaints, ...missing.map((part) => `Part ${part.partId} has no proposal.`), ...checkOrders(input, plan)]
}

/** What the input says of one part, counted afresh. */
interface JudgedPart {
  readonly part: ReorderPart
  readonly term: PartTerm | null
  readonly days: number
  readonly booked: number
  readonly isKnown: boolean
  /** Chances of at most 0, 1, 2 ... pieces beside the booked ones. */
  readonly atMost: () => Float64Array
  /** Pieces needed in all until a day, promises among them. */
  readonly neededBy: (day: number) => number
  readonly promised: number
  readonly drafted: number
  readonly awaited: number
  readonly awaitedAll: number
  readonly lots: ReorderInput['stock']
}

function judgedParts(input: ReorderInput): (partId: PartId) => JudgedPart | null {
  const of = {
    parts: byPart(input.parts),
    likely: byPart(input.likely),
    booked: byPart(input.booked),
    stock: byPart(input.stock),
    promised: byPart(input.promised),
    drafted: byPart(input.drafted),
    incoming: byPart(input.incoming),
  }
  const visitSums = new Map<string, Float64Array>()
  return (partId) => {
    const part = of.parts.get(partId)?.[0]
    if (!part) return null
    const term = firstChoice(part.terms)
    const days = (term?.leadTimeDays ?? input.leadTimeDays) + (term?.reviewDays ?? input.reviewPeriodDays)
    const covers = addDays(input.today, days)
    const own = of.likely.get(partId) ?? []
    const every = part.perVisitQuantity
    const uses: LikelyUse[] = [
      ...own,
      ...(every > 0 ? input.visits.likely.map((use) => ({ ...use, partId, pieces: every, from: 0 })) : []),
    ]
    const booked = [
      ...(of.booked.get(partId) ?? []),
      ...(every > 0 ? input.visits.booked.map(({ on, visits }) => ({ on, quantity: visits * every })) : []),
    ]
    const bookedBy = (on: CalendarDate): number => add(booked.filter((use) => use.on <= on).map((use) => use.quantity))
    const promised = quantityOf(of.promised.get(partId))
    const isKnown = uses.length > 0 || every > 0
    const incoming = of.incoming.get(partId) ?? []
    return {
      ...{ part, term, days, isKnown, promised },
      booked: bookedBy(covers),
      atMost: () => {
        if (own.length > 0 || every === 0) return sumOf(uses, days)
        const key = `${days}/${every}`
        const found = visitSums.get(key) ?? sumOf(uses, days)
        visitSums.set(key, found)
        return found
      },
      neededBy: (day) => {
        const sure = bookedBy(addDays(input.today, day))
        if (!isKnown) return promised + Math.max(sure, part.usedADay.mean * day)
        return promised + sure + add(uses.map((use) => use.households * use.pieces * chanceBy(use, day)))
      },
      drafted: quantityOf(of.drafted.get(partId)),
      awaited: quantityOf(incoming.filter(({ expectedOn }) => (expectedOn ?? covers) <= covers)),
      awaitedAll: quantityOf(incoming),
      lots: of.stock.get(partId) ?? [],
    }
  }
}

function byPart<Row extends { readonly partId: PartId }>(rows: readonly Row[]): Map<PartId, Row[]> {
  const found = new Map<PartId, Row[]>()
  for (const row of rows) {
    const own = found.get(row.partId)
    if (own) own.push(row)
    else found.set(row.partId, [row])
  }
  return found
}

const add = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0)
const quantityOf = (rows: readonly { readonly quantity: number }[] | undefined): number =>
  add((rows ?? []).map((row) => row.quantity))

function firstChoice(terms: readonly PartTerm[]): PartTerm | null {
  const rank = (term: PartTerm): string =>
    [term.preferred ? 0 : 1, term.price, term.leadTimeDays, term.supplierId]
      .map((each) => String(each).padStart(16, '0'))
      .join(' ')
  return terms.reduce<PartTerm | null>((best, term) => (best === null || rank(term) < rank(best) ? term : best), null)
}

/** The visits before the stage can be taken along do not count. */
function chanceBy({ visitedBy, from }: LikelyUse, day: number): number {
  let chance = 0
  for (let each = from; each <= Math.min(day, visitedBy.length - 1); each++)
    chance += (visitedBy[each] ?? 0) - (each > 0 ? (visitedBy[each - 1] ?? 0) : 0)
  return Math.min(1, Math.max(0, chance))
}

function sumOf(uses: readonly LikelyUse[], days: number): Float64Array {
  return plainCumulated(plainSum(uses.map((use) => ({ ...use, times: use.households, chance: chanceBy(use, days) }))))
}

function checkSum(proposal: ReorderProposal): string[] {
  const sum = add(proposal.lines.map((line) => line.pieces))
  const agrees = proposal.order > 0 ? sum === proposal.order : sum <= 0
  const whole = proposal.lines.every((line) => Number.isSafeInteger(line.pieces))
  return [
    ...(agrees ? [] : [`the lines add up to ${sum}, not to ${proposal.order}.`]),
    ...(whole ? [] : ['a line speaks of broken pieces.']),
  ]
}

const HAIR = 1e-9

/** The level is enough at the service level, and a piece less is not, unless the office always keeps as many. */
function checkLevel(judged: JudgedPart, { level, covers, lines }: ReorderProposal): string[] {
  const { part, booked } = judged
  const share = part.serviceLevelPercent / 100
  const enough = judged.isKnown ? chanceOfEnough(judged.atMost(), booked) : pastEnough(judged)
  const complaints: string[] = []
  if (enough(level) < share - HAIR)
    complaints.push(`${level} are not enough in ${part.serviceLevelPercent} of 100 cases.`)
  const floor = Math.max(booked, part.leastToKeep ?? 0)
  if (level > floor && enough(level - 1) >= share + HAIR)
    complaints.push(`${level - 1} would be enough in ${part.serviceLevelPercent} of 100 cases.`)
  if (level < floor) complaints.push(`the level ${level} is below the ${floor} that must be there.`)
  const said = add(lines.filter((line) => line.kind === 'booked').map((line) => line.pieces))
  if (said !== booked) complaints.push(`${booked} are booked until ${covers}, the line says ${said}.`)
  return complaints
}

function chanceOfEnough(atMost: Float64Array, booked: number): (pieces: number) => number {
  return (pieces) => (pieces < booked ? 0 : (atMost[Math.min(pieces - booked, atMost.length - 1)] ?? 1))
}

/** The chance that so many are enough of a part that is used as of late, by the area under the bell curve. */
function pastEnough({ part, days, booked }: JudgedPart): (pieces: number) => number {
  const mean = part.usedADay.mean * days
  const deviation = part.usedADay.deviation * Math.sqrt(days)
  return (pieces) => {
    if (pieces < booked) return 0
    if (deviation === 0) return pieces >= mean - HAIR ? 1 : 0
    return bellArea((pieces - mean + HAIR) / deviation)
  }
}

/** By Simpson's rule; good to nine digits and more. */
function bellArea(z: number): number {
  const height = (x: number): number => Math.exp(-(x * x) / 2) / Math.sqrt(2 * Math.PI)
  const end = Math.max(-9, Math.min(9, z))
  const steps = 2000
  const width = end / steps
  let sum = height(0) + height(end)
  for (let step = 1; step < steps; step++) sum += height(step * width) * (step % 2 === 1 ? 4 : 2)
  return 0.5 + (sum * width) / 3
}

/**
 * What is usable by date of need. Lots that expire first are used first, so all that is ever usable is bounded, for each last day, by
 * what is needed until then and all lots that keep longer; the least of these bounds is reached.
 */
function usableOf(input: ReorderInput, { lots, days, neededBy }: JudgedPart): number {
  const covers = addDays(input.today, days)
  const good = lots.filter((lot) => !lot.recalled && (lot.expiresOn === null || lot.expiresOn >= input.today))
  const all = add(good.map((lot) => lot.quantity))
  const lastDays = [...new Set(good.flatMap(({ expiresOn }) => (expiresOn && expiresOn < covers ? [expiresOn] : [])))]
  const bounds = lastDays.map((last) => {
    const later = add(good.filter((lot) => lot.expiresOn === null || lot.expiresOn > last).map((lot) => lot.quantity))
    return Math.floor(neededBy(daysBetween(input.today, last)) + HAIR) + later
  })
  return Math.min(all, ...bounds)
}

function checkThere(input: ReorderInput, judged: JudgedPart, proposal: ReorderProposal): string[] {
  const usable = usableOf(input, judged)
  const counts = {
    promised: judged.promised,
    'on-hand': -usable,
    'on-order': -judged.awaited,
    drafted: -judged.drafted,
  }
  const said = (kind: string) => add(proposal.lines.filter((line) => line.kind === kind).map((line) => line.pieces))
  const complaints = Object.entries(counts)
    .filter(([kind, count]) => said(kind) !== count && !(count === 0 && said(kind) === 0))
    .map(([kind, count]) => `${kind} is ${count}, the line says ${said(kind)}.`)
  if (proposal.usable !== usable) complaints.push(`${usable} are usable, not ${proposal.usable}.`)
  const missing = proposal.level + judged.promised - usable - judged.awaited - judged.drafted
  if (proposal.short !== Math.max(0, missing)) complaints.push(`${proposal.short} is not what is missing.`)
  if (addDays(input.today, judged.days) !== proposal.covers)
    complaints.push(`${proposal.covers} is not ${judged.days} days away.`)
  return complaints
}

const has = (proposal: ReorderProposal, kind: string): boolean => proposal.lines.some((line) => line.kind === kind)

/** Whole packs, at least the minimum, what is missing covered, and nothing that would expire. */
function checkQuantity(input: ReorderInput, judged: JudgedPart, proposal: ReorderProposal): string[] {
  const { order, short } = proposal
  const pack = judged.term?.packSize ?? 1
  const minimum = judged.term?.minimumQuantity ?? 0
  const complaints: string[] = []
  if (order % pack !== 0) complaints.push(`${order} is no whole number of packs of ${pack}.`)
  if (order > 0 && order < minimum) complaints.push(`${order} is below the minimum of ${minimum}.`)
  if (order < short && !has(proposal, 'shelf')) complaints.push(`${order} does not cover the ${short} missing.`)
  if (order > 0 && short === 0 && !has(proposal, 'ahead')) complaints.push(`${order} are ordered and none is missing.`)
  const isPlain = !['batch', 'cheaper', 'ahead'].some((kind) => has(proposal, kind))
  if (isPlain && order - pack >= Math.max(short, minimum)) complaints.push(`a pack less than ${order} would do.`)
  const most = mostOf(input, judged, proposal.usable)
  if (most !== null && order > most && order > leastForMust(judged, proposal.usable))
    complaints.push(`${order} would not all be used before they expire, at most ${most} would.`)
  return complaints
}

const paceOf = ({ usedADay, comingADay }: ReorderPart): number => {
  const pace = Math.max(usedADay.mean, comingADay)
  return pace < 1e-6 ? 0 : pace
}

/** Pieces of an order made now that are used before they expire. */
function mostOf(input: ReorderInput, judged: JudgedPart, usable: number): number | null {
  const { part, term } = judged
  if (part.shelfMonths === null) return null
  const delivered = addDays(input.today, term?.leadTimeDays ?? input.leadTimeDays)
  const lastDay = daysBetween(input.today, addMonths(delivered, part.shelfMonths))
  const pace = paceOf(part)
  const used = Math.max(pace * lastDay, judged.neededBy(lastDay))
  return Math.max(0, Math.floor(used + HAIR) - usable - judged.awaitedAll - judged.drafted)
}

/** The least that is sold of what must be had: booked, promised, always to be kept. */
function leastForMust({ part, term, booked, promised, awaited, drafted }: JudgedPart, usable: number): number {
  const must = Math.max(booked, part.leastToKeep ?? 0) + promised - usable - awaited - drafted
  if (must <= 0) return 0
  const pack = term?.packSize ?? 1
  let pieces = pack
  while (pieces < must || pieces < (term?.minimumQuantity ?? 0)) pieces += pack
  return pieces
}

function priceFor(term: PartTerm | null, quantity: number): number {
  if (term === null) return 0
  let price: number = term.price
  let from = 0
  for (const step of term.breaks)
    if (step.from <= quantity && step.from >= from) [price, from] = [step.price, step.from]
  return price
}

/** The price is that of the quantity, and no larger quantity with a lower price would have cost less. */
function checkPrice(input: ReorderInput, judged: JudgedPart, proposal: ReorderProposal): string[] {
  const { order, price, cost, short } = proposal
  const { term, part, days } = judged
  const complaints: string[] = []
  if (order > 0 && price !== priceFor(term, order)) complaints.push(`a piece of ${order} does not cost ${price}.`)
  if (cost !== order * price) complaints.push(`${order} at ${price} do not come to ${cost}.`)
  if (term === null || short === 0 || ['shelf', 'batch', 'ahead'].some((kind) => has(proposal, kind))) return complaints
  const pace = paceOf(part)
  const most = mostOf(input, judged, proposal.usable)
  const plain = Math.ceil(Math.max(short, term.minimumQuantity) / term.packSize) * term.packSize
  const netOf = (quantity: number): number => {
    const beyond = quantity - short
    const keptDays = pace > 0 ? days + beyond / pace / 2 : days
    const kept = (beyond * priceFor(term, quantity) * (input.holdingPercent / 100) * keptDays) / 365
    const used = most === null ? beyond : Math.min(beyond, Math.max(0, most - short))
    return quantity * priceFor(term, quantity) + kept - (pace > 0 ? used * priceFor(term, plain) : 0)
  }
  for (const step of term.breaks) {
    const quantity = Math.ceil(step.from / term.packSize) * term.packSize
    if (quantity <= plain || (most !== null && quantity > most)) continue
    if (netOf(quantity) < netOf(order) - 0.001) complaints.push(`${quantity} would have cost less than ${order}.`)
  }
  return complaints
}

/** By supplier: what it comes to, and what it lacks to the least order. */
function checkOrders(input: ReorderInput, { proposals, orders }: ReorderPlan): string[] {
  const known = new Map(orders.map((order) => [order.supplierId, order]))
  const sums = new Map<PartTerm['supplierId'] | null, number>()
  for (const { term, cost, order, short } of proposals)
    if (order > 0 || short > 0) sums.set(term?.supplierId ?? null, (sums.get(term?.supplierId ?? null) ?? 0) + cost)
  const complaints = [...sums].flatMap(([supplierId, cost]) => {
    const order = known.get(supplierId)
    if (!order || order.cost !== cost) return [`The order to ${supplierId} comes to ${cost}.`]
    const least = input.suppliers.find((each) => each.supplierId === supplierId)?.minimumOrder ?? 0
    const lacks = cost === 0 ? 0 : Math.max(0, least - cost)
    return order.lacks === lacks ? [] : [`The order to ${supplierId} lacks ${lacks}, not ${order.lacks}.`]
  })
  return sums.size === orders.length ? complaints : [...complaints, 'An order is made of nothing, or one is missing.']
}
