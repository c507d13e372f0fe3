import type { PartId, VanId } from '../units/ids.ts'
import type { ParLeftOut, PullVan } from './pull-shapes.ts'

/** What a van gets to have again what it always carries. */
export interface TopUp {
  readonly vanId: VanId
  readonly partId: PartId
  readonly quantity: number
}

export interface TopUpQuestion {
  /** Room taken must hold everything that is loaded for the visits already. */
  readonly vans: readonly PullVan[]
  /** Pieces of a part that stay on a van when the visits of the day are served. */
  readonly staysOn: (vanId: VanId, partId: PartId) => number
  /** Pieces of a part in the warehouse that no visit needs. */
  readonly spare: (partId: PartId) => number
  /** Room that a piece takes, millilitres; 0 when nobody measured it. */
  readonly roomOf: (partId: PartId) => number
}

export interface TopUpAnswer {
  readonly topUps: readonly TopUp[]
  readonly leftOut: readonly (ParLeftOut & { readonly vanId: VanId })[]
  /** Room taken on each van afterwards. */
  readonly taken: ReadonlyMap<VanId, number>
}

/** One piece that is missing on a van; `filled` is how far the part was there, of its par, before it. */
interface MissingPiece {
  readonly vanId: VanId
  readonly partId: PartId
  readonly filled: number
}

/**
 * Tops vans up to what they always carry, from what no visit needs and as far as there is room: a piece at a time to the van and the part
 * that is emptiest against its par, so that no van is filled while another has none; of equals the lower van and part.
 */
export function planTopUp(question: TopUpQuestion): TopUpAnswer {
  const { vans, spare, roomOf } = question
  const left = new Map<PartId, number>()
  const taken = new Map(vans.map((van) => [van.vanId, van.takenMillilitres]))
  const roomIn = new Map(vans.map((van) => [van.vanId, van.roomMillilitres ?? Number.POSITIVE_INFINITY]))
  const got = new Map<string, TopUp>()
  const without = new Map<string, ParLeftOut & { readonly vanId: VanId }>()
  for (const { vanId, partId } of missingPieces(question)) {
    const there = left.get(partId) ?? spare(partId)
    const full = (taken.get(vanId) ?? 0) + roomOf(partId)
    const fits = full <= (roomIn.get(vanId) ?? 0) || roomOf(partId) === 0
    const key = `${vanId}/${partId}`
    if (there > 0 && fits) {
      left.set(partId, there - 1)
      taken.set(vanId, full)
      got.set(key, { vanId, partId, quantity: (got.get(key)?.quantity ?? 0) + 1 })
    } else {
      const why = there > 0 ? 'no-room' : 'none-left'
      without.set(`${key}/${why}`, { vanId, partId, why, quantity: (without.get(`${key}/${why}`)?.quantity ?? 0) + 1 })
    }
  }
  return { topUps: [...got.values()].sort(byVanAndPart), leftOut: [...without.values()].sort(byVanAndPart), taken }
}

function missingPieces({ vans, staysOn }: TopUpQuestion): MissingPiece[] {
  const missing: MissingPiece[] = []
  for (const { vanId, pars, coming } of vans)
    for (const { partId, quantity: par } of pars) {
      const onTheWay = coming.reduce((sum, each) => sum + (each.partId === partId ? each.quantity : 0), 0)
      for (let has = staysOn(vanId, partId) + onTheWay; has < par; has += 1)
        missing.push({ vanId, partId, filled: has / par })
    }
  return missing.sort((a, b) => a.filled - b.filled || byVanAndPart(a, b))
}

function byVanAndPart(
  a: { readonly vanId: VanId; readonly partId: PartId },
  b: { readonly vanId: VanId; readonly partId: PartId },
): number {
  return a.vanId - b.vanId || a.partId - b.partId
}
