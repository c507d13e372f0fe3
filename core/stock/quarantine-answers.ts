import type { OpenBooks } from '../answering.ts'
import type { PlaceId } from '../units/ids.ts'
import { insertPlace, listPlaces } from './places-store.ts'

/** Where pieces are set aside that nobody may fit. Set up when the office has none in use: nothing keeps a bad piece on its shelf. */
export async function quarantineOf(books: OpenBooks): Promise<{ readonly placeId: PlaceId; readonly name: string }> {
  const places = await listPlaces(books.read, books.officeId)
  const open = places.find((place) => place.kind === 'quarantine' && place.closedOn === null)
  if (open) return { placeId: open.placeId, name: open.name }
  const taken = new Set(places.map((place) => place.name))
  let name = 'quarantine'
  for (let next = 2; taken.has(name); next += 1) name = `quarantine ${next}`
  const placeId = await insertPlace(books.tx, books.officeId, { kind: 'quarantine', name, aisle: '', walkOrder: 0 })
  return { placeId, name }
}
