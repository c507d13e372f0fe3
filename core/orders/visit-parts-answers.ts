import type { z } from 'zod'
import type { Desk } from '../answering.ts'
import { ok, type Result } from '../result.ts'
import { readSettings } from '../settings/settings-store.ts'
import { listSubstitutes } from '../stock/parts-store.ts'
import { awaitedDeliveries } from '../stock/pull-needs-store.ts'
import type { PartId } from '../units/ids.ts'
import type { PartsOfDay, partsForVisitSchema } from './order-shapes.ts'
import { missingOn, missingWords, type PartSupply, type Supply } from './parts-of-visit.ts'
import {
  bookedDays,
  bookedNeeds,
  type NeededPart,
  namesOfParts,
  partsOfEveryVisit,
  partsOfStages,
  usableHeaps,
} from './visit-parts-store.ts'

/** For each day what of the visit's parts would be missing, in words; nothing where all of it is there. */
export async function partsForVisit(
  desk: Desk,
  input: z.infer<typeof partsForVisitSchema>,
): Promise<Result<PartsOfDay[]>> {
  const { read, officeId, today } = desk
  const { locale } = await readSettings(read, officeId)
  const supplies = await suppliesFor(desk, input)
  return ok(
    input.days.map((on) => ({
      on,
      sentences: supplies.flatMap((supply) => {
        const missing = missingOn(supply, on, today)
        return missing === null ? [] : [missingWords(missing, on, today, locale)]
      }),
    })),
  )
}

async function suppliesFor(
  { read, officeId }: Desk,
  { siteId, visitId, stageIds, days }: z.infer<typeof partsForVisitSchema>,
): Promise<PartSupply[]> {
  const last = days.toSorted().at(-1)
  if (last === undefined) return []
  const always = await partsOfEveryVisit(read, officeId)
  const parts = together([...(await partsOfStages(read, officeId, siteId, stageIds)), ...always])
  if (parts.length === 0) return []
  const substitutes = await listSubstitutes(read, officeId)
  const standInsOf = (part: NeededPart): readonly PartId[] => (part.ownOnly ? [] : (substitutes.get(part.partId) ?? []))
  const partIds = [...new Set(parts.flatMap((part) => [part.partId, ...standInsOf(part)]))]
  const names = await namesOfParts(read, officeId, partIds)
  const heaps = await usableHeaps(read, officeId, partIds)
  const booked = { until: last, but: visitId }
  const needs = await bookedNeeds(read, officeId, partIds, booked)
  const visits = always.length === 0 ? [] : await bookedDays(read, officeId, booked)
  const used = always.flatMap(({ partId, needed }) =>
    visits.map((day) => ({ partId, on: day.on, quantity: day.visits * needed })),
  )
  const deliveries = await awaitedDeliveries(read, officeId)
  const supplyOf = (partId: PartId): Supply => ({
    name: names.get(partId) ?? '',
    stock: heaps.filter((heap) => heap.partId === partId),
    promised: [...needs, ...used].filter((need) => need.partId === partId),
    deliveries: deliveries.filter((delivery) => delivery.partId === partId),
  })
  return parts.map((part) => ({ ...part, ...supplyOf(part.partId), standIns: standInsOf(part).map(supplyOf) }))
}

/** A part that a stage holds and every visit uses besides is needed for both. */
function together(parts: readonly NeededPart[]): NeededPart[] {
  const found = new Map<PartId, NeededPart>()
  for (const part of parts) {
    const known = found.get(part.partId)
    found.set(part.partId, known ? { ...known, needed: known.needed + part.needed } : part)
  }
  return [...found.values()]
}
