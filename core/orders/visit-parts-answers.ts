import type { z } from 'zod'
import type { Desk } from '../answering.ts'
import { ok, type Result } from '../result.ts'
import { readSettings } from '../settings/settings-store.ts'
import { awaitedDeliveries } from '../stock/pull-needs-store.ts'
import type { PartsOfDay, partsForVisitSchema } from './order-shapes.ts'
import { missingOn, missingWords, type PartSupply } from './parts-of-visit.ts'
import { bookedNeeds, partsOfStages, usableHeaps } from './visit-parts-store.ts'

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
  const parts = last === undefined ? [] : await partsOfStages(read, officeId, siteId, stageIds)
  if (last === undefined || parts.length === 0) return []
  const partIds = parts.map((part) => part.partId)
  const heaps = await usableHeaps(read, officeId, partIds)
  const needs = await bookedNeeds(read, officeId, partIds, { until: last, but: visitId })
  const deliveries = await awaitedDeliveries(read, officeId)
  return parts.map((part) => ({
    ...part,
    stock: heaps.filter((heap) => heap.partId === part.partId),
    promised: needs.filter((need) => need.partId === part.partId),
    deliveries: deliveries.filter((delivery) => delivery.partId === part.partId),
  }))
}
