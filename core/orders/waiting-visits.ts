import type { CalendarDate } from '../units/calendar-date.ts'
import { dayAndMonth } from '../units/date-words.ts'
import type { PartId, VisitId } from '../units/ids.ts'
import { missingOn, type PartSupply, type Supply } from './parts-of-visit.ts'

/** What a booked visit needs of a part. */
export interface BookedNeed {
  readonly visitId: VisitId
  readonly on: CalendarDate
  readonly household: string
  readonly partId: PartId
  readonly quantity: number
  /** Whether it takes this part and no other. */
  readonly ownOnly: boolean
}

/** A part that is awaited on the order: what lies of it and is to come, and what may stand in for it, with what visits need of that. */
export interface AwaitedPart extends Omit<PartSupply, 'needed' | 'promised'> {
  readonly standIns: readonly Supply[]
}

/** A visit that goes without unless the order comes before its day. */
export interface WaitingVisit {
  readonly visitId: VisitId
  readonly on: CalendarDate
  readonly household: string
  readonly parts: readonly { readonly name: string; readonly needed: number; readonly missing: number }[]
}

/**
 * The visits from today on that would miss a part which this order brings, the next first, by the same reckoning that warns whoever
 * books: the order is late, or comes on their day or after it. `needs` holds every booked visit that needs one of the parts, past ones
 * that nobody recorded as well, in the order of their days.
 */
export function visitsThatWait(
  orderNumber: string,
  parts: readonly AwaitedPart[],
  needs: readonly BookedNeed[],
  today: CalendarDate,
): WaitingVisit[] {
  const waiting = new Map<VisitId, WaitingVisit>()
  for (const part of parts) {
    const own = needs.filter((need) => need.partId === part.partId)
    const upTo = neededUpTo(own)
    for (const need of own.filter(({ on }) => on >= today)) {
      const promised = [{ on: need.on, quantity: (upTo.get(need.on) ?? 0) - need.quantity }]
      const standIns = need.ownOnly ? [] : part.standIns
      const missing = missingOn({ ...part, needed: need.quantity, promised, standIns }, need.on, today)
      if (missing === null || missing.standIn !== null) continue
      if (![...missing.late, ...missing.after].some((delivery) => delivery.orderNumber === orderNumber)) continue
      const { visitId, on, household } = need
      const known = waiting.get(visitId)?.parts ?? []
      const lacks = { name: part.name, needed: need.quantity, missing: missing.short }
      waiting.set(visitId, { visitId, on, household, parts: [...known, lacks] })
    }
  }
  return [...waiting.values()].sort((one, other) => (one.on < other.on ? -1 : one.on > other.on ? 1 : 0))
}

/** Pieces needed up to and with each day. */
function neededUpTo(needs: readonly BookedNeed[]): ReadonlyMap<CalendarDate, number> {
  const upTo = new Map<CalendarDate, number>()
  let all = 0
  for (const { on, quantity } of needs.toSorted((one, other) => (one.on < other.on ? -1 : one.on > other.on ? 1 : 0))) {
    all += quantity
    upTo.set(on, all)
  }
  return upTo
}

/** What the visits wait for, and what can be done. */
export function waitingWords(
  visits: number,
  order: { readonly supplier: string; readonly expectedOn: CalendarDate | null; readonly isLate: boolean },
  locale: string,
): string {
  if (visits === 0) return 'No booked visit waits for it: what is on hand is enough.'
  const [them, move] = visits === 1 ? ['it', 'the visit'] : ['them', 'visits']
  const short = `What is on hand is not enough for ${them}, and this order`
  if (order.isLate || order.expectedOn === null)
    return `${short} has not come. Ask ${order.supplier} when it comes, or move ${move}.`
  const day = dayAndMonth(order.expectedOn, locale)
  return `${short} comes ${day}, too late to be pulled for ${them}. Ask ${order.supplier} for an earlier day, or move ${move}.`
}

/** "5 of 7 pieces of Membrane, 75 gal/day are missing". */
export function lackWords({ name, needed, missing }: WaitingVisit['parts'][number]): string {
  if (needed === 1) return `${name} is missing`
  if (missing === needed) return `All ${needed} pieces of ${name} are missing`
  return `${missing} of ${needed} pieces of ${name} ${missing === 1 ? 'is' : 'are'} missing`
}
