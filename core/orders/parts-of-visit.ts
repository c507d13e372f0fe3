import type { CalendarDate } from '../units/calendar-date.ts'
import { dayAndMonth, distanceInWords } from '../units/date-words.ts'
import type { PartId } from '../units/ids.ts'

/** What is known of a part that a visit would need. */
export interface PartSupply extends Supply {
  readonly partId: PartId
  /** Pieces the visit itself needs. */
  readonly needed: number
  /** What may be fitted in its place, in the dealer's order; none where a stage asks for its own part. */
  readonly standIns: readonly Supply[]
}

/** A part, what lies of it, what is promised and what is to come. */
export interface Supply {
  readonly name: string
  /** Heaps in bins and on vans; recalled lots left out. */
  readonly stock: readonly { readonly expiresOn: CalendarDate | null; readonly quantity: number }[]
  /** What other booked visits need, by their day. */
  readonly promised: readonly { readonly on: CalendarDate; readonly quantity: number }[]
  readonly deliveries: readonly AwaitedPieces[]
}

export interface AwaitedPieces {
  readonly orderNumber: string
  readonly supplierName: string
  readonly expectedOn: CalendarDate | null
  readonly quantity: number
}

/** Why a part would be missing on a day. */
export interface PartMissing {
  readonly partId: PartId
  readonly name: string
  /** Usable on that day, and what visits up to it need of that. */
  readonly onHand: number
  readonly promised: number
  /** Pieces that the visit would go without. */
  readonly short: number
  /** The first stand-in of which as many are free on that day. */
  readonly standIn: string | null
  /** Past their day: nobody knows when they come. */
  readonly late: readonly AwaitedPieces[]
  /** Expected on the day or after it, the next first. */
  readonly after: readonly AwaitedPieces[]
}

/**
 * Whether the part is there for a visit on a day: what is usable then, and what is expected before that day, against what visits up to
 * it need. A delivery on the very day comes too late, for vans are pulled the day before; one that is late counts for nothing. Null
 * when it is there.
 */
export function missingOn(supply: PartSupply, on: CalendarDate, today: CalendarDate): PartMissing | null {
  const { partId, name, needed, standIns } = supply
  const { onHand, promised, late, inTime, after } = standingOn(supply, on, today)
  const short = Math.min(needed, promised + needed - onHand - inTime)
  if (short <= 0) return null
  const standIn = standIns.find((each) => {
    const there = standingOn(each, on, today)
    return there.onHand + there.inTime - there.promised >= short
  })
  return { partId, name, onHand, promised, short, standIn: standIn?.name ?? null, late, after }
}

/** A part as it stands before a day. */
function standingOn(supply: Supply, on: CalendarDate, today: CalendarDate) {
  const isLate = (delivery: AwaitedPieces): boolean => delivery.expectedOn === null || delivery.expectedOn < today
  const due = supply.deliveries.filter((delivery) => !isLate(delivery))
  const inTime = due.filter((delivery) => delivery.expectedOn !== null && delivery.expectedOn < on)
  return {
    onHand: sum(supply.stock.filter((heap) => heap.expiresOn === null || heap.expiresOn >= on)),
    promised: sum(supply.promised.filter((need) => need.on <= on)),
    inTime: sum(inTime),
    late: supply.deliveries.filter(isLate),
    after: due.filter((delivery) => !inTime.includes(delivery)),
  }
}

function sum(rows: readonly { readonly quantity: number }[]): number {
  return rows.reduce((all, row) => all + row.quantity, 0)
}

/**
 * "Membrane, 75 gal/day: 2 on hand, 3 promised; order PO-2026-0014 from Orrin Supply was expected Nov 20, 8 days late."
 * What is late comes first, then the next delivery that is on time. Where another part stands in, only that is said.
 */
export function missingWords(missing: PartMissing, on: CalendarDate, today: CalendarDate, locale: string): string {
  const there = missing.onHand === 0 ? 'none on hand' : `${missing.onHand} on hand`
  const promised = missing.promised === 0 ? '' : `, ${missing.promised} promised`
  if (missing.standIn !== null) return `${missing.name}: ${there}${promised}; ${missing.standIn} stands in for it.`
  const [next] = missing.after
  const said = [
    ...missing.late.map((delivery) => lateWords(delivery, today, locale)),
    ...(next ? [afterWords(next, on, locale)] : []),
  ]
  return `${missing.name}: ${there}${promised}; ${said.length > 0 ? said.join('; ') : 'none is on order'}.`
}

function lateWords(
  { orderNumber, supplierName, expectedOn }: AwaitedPieces,
  today: CalendarDate,
  locale: string,
): string {
  const order = `order ${orderNumber} from ${supplierName}`
  return expectedOn === null
    ? `${order} has no day`
    : `${order} was expected ${dayAndMonth(expectedOn, locale)}, ${distanceInWords(expectedOn, today)}`
}

function afterWords(
  { orderNumber, supplierName, expectedOn }: AwaitedPieces,
  on: CalendarDate,
  locale: string,
): string {
  const when = expectedOn === on ? 'on the day of this visit, too late to be pulled for it' : 'after this visit'
  return `order ${orderNumber} from ${supplierName} comes ${dayAndMonth(expectedOn ?? on, locale)}, ${when}`
}
