import type { Desk } from '../answering.ts'
import { listSubstitutes } from '../stock/parts-store.ts'
import { awaitedDeliveries } from '../stock/pull-needs-store.ts'
import type { PartId, VisitId } from '../units/ids.ts'
import type { OrderInFull } from './order-shapes.ts'
import { openPieces } from './order-standing.ts'
import type { OrderHead, OrderLine } from './orders-store.ts'
import type { Supply } from './parts-of-visit.ts'
import { namesOfParts, partsOfEveryVisit, usableHeaps } from './visit-parts-store.ts'
import { type BookedNeed, lackWords, visitsThatWait, waitingWords } from './waiting-visits.ts'
import { needsOfBookedVisits } from './waiting-visits-store.ts'

/** So many stand on the sheet of an order; who has more than that to move begins with the next. */
const MOST_SHOWN = 40

/** The visits that wait for a sent order; null when it comes in time for all. */
export async function waitingForOrder(
  desk: Desk,
  head: OrderHead,
  lines: readonly OrderLine[],
  locale: string,
): Promise<OrderInFull['waiting']> {
  const partIds = [...new Set(lines.filter((line) => openPieces(line) > 0).map((line) => line.partId))]
  if (head.state !== 'sent' || partIds.length === 0) return null
  const isLate = head.expectedOn === null || head.expectedOn < desk.today
  const waiting = await waitingVisits(desk, head.number, partIds)
  if (waiting.length === 0 && !isLate) return null
  return {
    sentence: waitingWords(waiting.length, { ...head, isLate }, locale),
    count: waiting.length,
    visits: waiting.slice(0, MOST_SHOWN).map(({ visitId, on, household, parts }) => ({
      visitId,
      on,
      household,
      lacks: parts.map(lackWords),
    })),
  }
}

async function waitingVisits({ read, officeId, today }: Desk, orderNumber: string, partIds: readonly PartId[]) {
  const substitutes = await listSubstitutes(read, officeId)
  const all = [...new Set(partIds.flatMap((partId) => [partId, ...(substitutes.get(partId) ?? [])]))]
  const always = (await partsOfEveryVisit(read, officeId)).filter((part) => all.includes(part.partId))
  const visits = await needsOfBookedVisits(read, officeId, all, always.length > 0)
  const needs = always.reduce<readonly BookedNeed[]>(
    (before, { partId, needed }) => withEveryVisit(before, visits, partId, needed),
    visits.flatMap((need) => (need.partId === null ? [] : [{ ...need, partId: need.partId }])),
  )
  const names = await namesOfParts(read, officeId, all)
  const heaps = await usableHeaps(read, officeId, all)
  const deliveries = await awaitedDeliveries(read, officeId)
  const supplyOf = (partId: PartId): Supply => ({
    name: names.get(partId) ?? '',
    stock: heaps.filter((heap) => heap.partId === partId),
    promised: needs.filter((need) => need.partId === partId),
    deliveries: deliveries.filter((delivery) => delivery.partId === partId),
  })
  const parts = partIds.map((partId) => ({
    partId,
    ...supplyOf(partId),
    standIns: (substitutes.get(partId) ?? []).map(supplyOf),
  }))
  return visitsThatWait(orderNumber, parts, needs, today)
}

type Booked = Awaited<ReturnType<typeof needsOfBookedVisits>>[number]

/** What every visit uses is needed besides what its own tasks take of the part. */
function withEveryVisit(
  needs: readonly BookedNeed[],
  visits: readonly Booked[],
  partId: PartId,
  needed: number,
): BookedNeed[] {
  const once = new Map<VisitId, Booked>(visits.map((visit) => [visit.visitId, visit]))
  const ofPart = new Map(needs.filter((need) => need.partId === partId).map((need) => [need.visitId, need]))
  return [
    ...needs.filter((need) => need.partId !== partId),
    ...[...once.values()].map((visit) => {
      const own = ofPart.get(visit.visitId)
      return { ...visit, partId, quantity: needed + (own?.quantity ?? 0), ownOnly: own?.ownOnly ?? false }
    }),
  ]
}
