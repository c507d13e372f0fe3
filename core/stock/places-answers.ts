import type { Desk, OpenBooks } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import { counted } from '../units/date-words.ts'
import type { PartId, PlaceId, TechnicianId, VanId } from '../units/ids.ts'
import {
  findPlace,
  findPlaceByName,
  insertPlace,
  insertVan,
  listDrivers,
  listPlaces,
  listVans,
  type PlaceRow,
  piecesByPlace,
  updatePlace,
  updateVan,
} from './places-store.ts'
import type { PlaceLine } from './stock-contract.ts'
import { listVanPars, replaceVanPars } from './van-room-store.ts'
import { placeOfNewBin } from './walk.ts'
import { binsInWalk } from './walk-store.ts'

export async function places(
  desk: Desk,
): Promise<Result<{ places: PlaceLine[]; drivers: { technicianId: TechnicianId; name: string }[] }>> {
  const { read, officeId, today } = desk
  const pieces = await piecesByPlace(read, officeId)
  const pars = await listVanPars(read, officeId)
  const vans = new Map((await listVans(read, officeId)).map((van) => [van.placeId, van]))
  const rows = (await listPlaces(read, officeId)).map((place) => {
    const van = vans.get(place.placeId)
    return {
      ...place,
      pieces: pieces.get(place.placeId) ?? 0,
      van: van
        ? {
            vanId: van.vanId,
            technicianId: van.technicianId,
            technician: van.technicianName,
            roomMillilitres: van.roomMillilitres,
            pars: pars.filter((each) => each.vanId === van.vanId).map(({ partId, par }) => ({ partId, par })),
            version: van.version,
          }
        : null,
    }
  })
  return ok({ places: rows, drivers: await listDrivers(read, officeId, today) })
}

interface SaveBin {
  readonly placeId: PlaceId | null
  readonly version: number | null
  readonly kind: 'bin' | 'quarantine' | 'transit'
  readonly name: string
  readonly aisle: string
  readonly walkOrder: number
  readonly inUse: boolean
}

export function saveBin(desk: Desk, input: SaveBin): Promise<Result<{ placeId: PlaceId }>> {
  return desk.write(async (books) => {
    const { placeId, kind, name, aisle, walkOrder } = input
    const free = await nameIsFree(books, name, placeId)
    if (!free.ok) return free
    if (placeId === null) {
      const inWalk =
        walkOrder > 0 || kind !== 'bin' ? walkOrder : placeOfNewBin(await binsInWalk(books.read, books.officeId), aisle)
      return ok({ placeId: await insertPlace(books.tx, books.officeId, { kind, name, aisle, walkOrder: inWalk }) })
    }
    const before = await findPlace(books.read, books.officeId, placeId)
    if (!before) return refused('RECORD_GONE', { what: 'This bin' })
    const changed = { ...before, name, aisle, walkOrder, version: input.version ?? 0 }
    const saved = await savePlace(books, before, { ...changed, closedOn: input.inUse ? null : books.today })
    return saved.ok ? ok({ placeId }) : saved
  })
}

/** Saves a place unless it holds pieces and would be closed, or somebody else saved it meanwhile. */
async function savePlace(books: OpenBooks, before: PlaceRow, place: PlaceRow): Promise<Result<void>> {
  const held = (await piecesByPlace(books.read, books.officeId)).get(place.placeId) ?? 0
  if (place.closedOn !== null && held > 0)
    return refused('PLACE_NOT_EMPTY', { place: before.name, pieces: counted(held, 'piece') })
  if (await updatePlace(books.tx, books.officeId, place)) {
    await books.record({
      subjectKind: 'place',
      subjectId: place.placeId,
      verb: 'changed',
      sentence: `${place.name} changed`,
    })
    return ok(undefined)
  }
  return refused('RECORD_CHANGED', { what: before.name, changes: `it is now ${before.name}` })
}

async function nameIsFree(books: OpenBooks, name: string, own: PlaceId | null): Promise<Result<void>> {
  const namesake = await findPlaceByName(books.read, books.officeId, name)
  return namesake && namesake.placeId !== own ? refused('BIN_CODE_TAKEN', { code: name }) : ok(undefined)
}

interface SaveVan {
  readonly vanId: VanId | null
  readonly version: number | null
  readonly name: string
  readonly technicianId: TechnicianId | null
  readonly roomMillilitres: number | null
  /** What it carries otherwise than the parts say. */
  readonly pars: readonly { readonly partId: PartId; readonly par: number }[]
  readonly inUse: boolean
}

/** A van is a place that somebody drives; nobody drives two. */
export function saveVan(desk: Desk, input: SaveVan): Promise<Result<{ vanId: VanId }>> {
  return desk.write(async (books) => {
    const { tx, officeId, today } = books
    const vans = await listVans(books.read, officeId)
    const before = vans.find((van) => van.vanId === input.vanId) ?? null
    if (input.vanId !== null && !before) return refused('RECORD_GONE', { what: 'This van' })
    const other = vans.find(
      (van) => van.technicianId === input.technicianId && van.vanId !== input.vanId && van.closedOn === null,
    )
    if (input.technicianId !== null && other)
      return refused('VAN_TECHNICIAN_HAS_ONE', { technician: other.technicianName ?? '', van: other.name })
    const free = await nameIsFree(books, input.name, before?.placeId ?? null)
    if (!free.ok) return free
    const { name, technicianId, roomMillilitres, pars } = input
    if (!before) {
      const placeId = await insertPlace(tx, officeId, { kind: 'van', name, aisle: '', walkOrder: 0 })
      const vanId = await insertVan(tx, officeId, { name, placeId, technicianId, roomMillilitres })
      await replaceVanPars(tx, officeId, vanId, pars)
      return ok({ vanId })
    }
    const closedOn = input.inUse ? null : today
    const place = await findPlace(books.read, officeId, before.placeId)
    if (!place) return refused('RECORD_GONE', { what: 'This van' })
    const saved = await savePlace(books, place, { ...place, name, closedOn })
    if (!saved.ok) return saved
    const { vanId } = before
    const changed = { vanId, name, technicianId, roomMillilitres, closedOn, version: input.version ?? 0 }
    if (await updateVan(tx, officeId, changed)) {
      await replaceVanPars(tx, officeId, vanId, pars)
      return ok({ vanId })
    }
    return refused('RECORD_CHANGED', {
      what: before.name,
      changes: `it is driven by ${before.technicianName ?? 'nobody'}`,
    })
  })
}
