import type { Desk, OpenBooks } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import { counted } from '../units/date-words.ts'
import { type BeginCount, type BegunCount, begunCountSchema, type CountScope } from './count-contract.ts'
import { countableHeaps } from './count-facts-store.ts'
import { findPlace } from './places-store.ts'
import {
  findOpenCountByName,
  insertCount,
  insertCountLines,
  linesOfOpenCounts,
  type NewCountLine,
} from './stock-counts-store.ts'
import { heapKey, liesMuch, weekToCount } from './what-to-count-answers.ts'

/** Begins a round; in a large warehouse in a thread of its own, where all heaps are gone through and others are answered meanwhile. */
export async function beginCount(desk: Desk, input: BeginCount): Promise<Result<BegunCount>> {
  if (desk.apart === null || !(await liesMuch(desk))) return beginCountHere(desk, input)
  const begun = await desk.apart('begin-count', input)
  return begun.ok ? ok(begunCountSchema.parse(begun.value)) : begun
}

export function beginCountHere(desk: Desk, input: BeginCount): Promise<Result<BegunCount>> {
  return desk.write(async (books) => {
    const { read, tx, officeId, today: on, now: at, by } = books
    if (await findOpenCountByName(read, officeId, input.name)) return refused('COUNT_NAME_TAKEN', { name: input.name })
    const lines = await linesOfScope(books, input.scope)
    if (lines.length === 0) return refused('COUNT_NOTHING_THERE')
    const countId = await insertCount(tx, officeId, { name: input.name, on, at, by, state: 'open' })
    await insertCountLines(tx, officeId, countId, lines)
    const sentence = `Counting begun: ${input.name}, ${counted(lines.length, 'lot')}`
    await books.record({ subjectKind: 'count', subjectId: countId, verb: 'begun', sentence })
    return ok({ countId, lines: lines.length })
  })
}

/** The heaps of a round, those of other open rounds left out. */
async function linesOfScope(books: OpenBooks, scope: CountScope): Promise<NewCountLine[]> {
  if (scope.of === 'week') return (await weekToCount(books)).heaps
  const begun = new Set((await linesOfOpenCounts(books.read, books.officeId)).map(heapKey))
  const heaps = await countableHeaps(books.read, books.officeId)
  const place = scope.of === 'place' ? await findPlace(books.read, books.officeId, scope.placeId) : null
  const why = {
    all: 'Everything is counted.',
    aisle: `All of aisle ${scope.of === 'aisle' ? scope.aisle : ''} is counted.`,
    place: `All of ${place?.name ?? 'this place'} is counted.`,
  }[scope.of]
  return heaps
    .filter((heap) => scope.of !== 'aisle' || heap.aisle === scope.aisle)
    .filter((heap) => scope.of !== 'place' || heap.placeId === scope.placeId)
    .filter((heap) => !begun.has(heapKey(heap)))
    .map(({ placeId, partId, lotId }) => ({ placeId, partId, lotId, why }))
}
