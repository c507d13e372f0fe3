import type { PartId } from '../units/ids.ts'
import { demandOfParts } from './part-demand.ts'
import { type AskedBooks, readReorderInput } from './reorder-from-books-answers.ts'

/** The twelve weeks that reorder proposals look at, today first. */
const LAST_DAY = 83

/**
 * Pieces of each part to be expected day by day, today first: what is booked, what is promised to pulls, what letters and due dates may
 * lead to, each at its chance; for parts without due dates their use of late.
 */
export async function expectedUse(asked: AskedBooks): Promise<(partId: PartId) => Float64Array> {
  const { input } = await readReorderInput(asked)
  const demandOf = demandOfParts(input, LAST_DAY)
  const parts = new Map(input.parts.map((part) => [part.partId, part]))
  const promised = new Map<PartId, number>()
  for (const { partId, quantity } of input.promised) promised.set(partId, (promised.get(partId) ?? 0) + quantity)
  return (partId) => {
    const part = parts.get(partId)
    if (!part) return new Float64Array(LAST_DAY + 1)
    const demand = demandOf(part)
    const use = demand.isKnown
      ? demand.booked.map((pieces, day) => pieces + (demand.expected[day] ?? 0))
      : demand.booked.map((pieces) => pieces + part.usedADay.mean)
    use[0] = (use[0] ?? 0) + (promised.get(partId) ?? 0)
    return use
  }
}
