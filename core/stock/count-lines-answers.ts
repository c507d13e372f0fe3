import type { Desk, OpenBooks } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import { counted } from '../units/date-words.ts'
import type { LotId, PartId, PlaceId } from '../units/ids.ts'
import { placeInUse } from './book-movement-answers.ts'
import { balanceAt, findLotByNumber, insertLot } from './movements-store.ts'
import { openCount } from './open-count-answers.ts'
import { findPart, type PartRow } from './parts-store.ts'
import {
  bumpCount,
  type CountLineRow,
  deleteUncounted,
  findLineOfCount,
  insertCountLines,
  linesOfCount,
  linesOfOpenCounts,
  setCounted,
} from './stock-counts-store.ts'

const isCount = (typed: number): boolean => Number.isSafeInteger(typed) && typed >= 0

interface WriteDown {
  readonly countId: number
  readonly lineId: number
  /** What the window knows as counted. */
  readonly seen: number | null
  readonly counted: number | null
  readonly note: string
}

/** Keeps one count at once, with what the books say at this moment beside it. Two who count the same heap hear of each other. */
export function writeDown(desk: Desk, input: WriteDown): Promise<Result<{ counted: number | null }>> {
  return desk.write(async (books) => {
    const open = await openCount(books, input.countId)
    if (!open.ok) return open
    if (input.counted !== null && !isCount(input.counted))
      return refused('STOCK_COUNT_NOT_WHOLE', { counted: input.counted })
    const line = await findLineOfCount(books.read, books.officeId, input.countId, input.lineId)
    if (!line) return refused('RECORD_GONE', { what: 'This line' })
    if (line.counted !== input.seen && line.counted !== input.counted) return otherCount(line)
    await keepCount(books, line, input.counted, input.note)
    await bumpCount(books.tx, books.officeId, input.countId)
    return ok({ counted: input.counted })
  })
}

function otherCount(line: CountLineRow): Result<never> {
  const { lot, place, countedBy } = line
  if (line.counted === null) return refused('COUNT_TAKEN_AWAY', { lot, place })
  return refused('COUNT_WRITTEN_DOWN', { lot, place, by: countedBy, counted: line.counted })
}

async function keepCount(
  books: OpenBooks,
  heap: Pick<CountLineRow, 'lineId' | 'lotId' | 'placeId'>,
  pieces: number | null,
  note: string,
): Promise<void> {
  const { tx, read, officeId, now: at, by } = books
  if (pieces === null) return setCounted(tx, officeId, heap.lineId, null)
  const booksSaid = await balanceAt(read, officeId, heap.lotId, heap.placeId)
  await setCounted(tx, officeId, heap.lineId, { pieces, booksSaid, at, by, note })
}

interface AddFound {
  readonly countId: number
  readonly placeId: PlaceId
  readonly partId: PartId
  readonly lot: string
  readonly expiresOn: CalendarDate | null
  readonly newLot: boolean
  readonly counted: number
  readonly note: string
}

/** Pieces of a lot that should not be there are counted like all others. */
export function addFound(desk: Desk, input: AddFound): Promise<Result<{ lineId: number }>> {
  return desk.write(async (books) => {
    const { read, tx, officeId, now: at, by } = books
    const open = await openCount(books, input.countId)
    if (!open.ok) return open
    if (!isCount(input.counted)) return refused('STOCK_COUNT_NOT_WHOLE', { counted: input.counted })
    const place = await placeInUse(books, input.placeId)
    if (!place.ok) return place
    const lotId = await lotFound(books, input)
    if (!lotId.ok) return lotId
    const heap = { placeId: input.placeId, lotId: lotId.value }
    const free = await inNoRound(books, input.countId, heap, { lot: input.lot, place: place.value.name })
    if (!free.ok) return free
    const booksSaid = await balanceAt(read, officeId, heap.lotId, heap.placeId)
    const line = { ...heap, partId: input.partId, why: 'Found there while counting.', note: input.note }
    await insertCountLines(tx, officeId, input.countId, [
      { ...line, counted: { pieces: input.counted, booksSaid, at, by } },
    ])
    await bumpCount(tx, officeId, input.countId)
    const lines = await linesOfCount(read, officeId, input.countId)
    const added = lines.find((each) => each.placeId === heap.placeId && each.lotId === heap.lotId)
    return added ? ok({ lineId: added.lineId }) : refused('RECORD_GONE', { what: 'This line' })
  })
}

async function inNoRound(
  books: OpenBooks,
  countId: number,
  heap: { readonly placeId: PlaceId; readonly lotId: LotId },
  words: { readonly lot: string; readonly place: string },
): Promise<Result<void>> {
  const lines = await linesOfOpenCounts(books.read, books.officeId)
  const other = lines.find((line) => line.placeId === heap.placeId && line.lotId === heap.lotId)
  if (!other) return ok(undefined)
  return refused(other.countId === countId ? 'COUNT_LINE_HERE' : 'COUNT_LINE_ELSEWHERE', { ...words, name: other.name })
}

/** The lot by its number; one that is in no book is written down only when somebody says that it is new. */
async function lotFound(books: OpenBooks, input: AddFound): Promise<Result<LotId>> {
  const part = await findPart(books.read, books.officeId, input.partId)
  if (!part) return refused('RECORD_GONE', { what: 'This part' })
  if (input.lot === '') return refused('STOCK_LOT_NAMELESS')
  const known = await findLotByNumber(books.read, books.officeId, input.partId, input.lot)
  if (known) return ok(known.lotId)
  return input.newLot ? newLot(books, part, input) : refused('COUNT_LOT_UNKNOWN', { lot: input.lot, part: part.name })
}

async function newLot(books: OpenBooks, part: PartRow, input: AddFound): Promise<Result<LotId>> {
  if (input.expiresOn === null && part.shelfMonths !== null)
    return refused('STOCK_EXPIRY_MISSING', { part: part.name, months: part.shelfMonths, lot: input.lot })
  return ok(
    await insertLot(books.tx, books.officeId, {
      partId: part.partId,
      lotNumber: input.lot,
      expiresOn: input.expiresOn,
      receivedOn: books.today,
      cost: part.cost,
    }),
  )
}

/** What was not counted is taken out of the round, and stays as the books say. */
export function leaveOut(desk: Desk, input: { countId: number }): Promise<Result<{ left: number }>> {
  return desk.write(async (books) => {
    const open = await openCount(books, input.countId)
    if (!open.ok) return open
    const lines = await linesOfCount(books.read, books.officeId, input.countId)
    if (lines.every((line) => line.counted === null)) return refused('COUNT_EMPTY')
    const left = await deleteUncounted(books.tx, books.officeId, input.countId)
    await bumpCount(books.tx, books.officeId, input.countId)
    return ok({ left })
  })
}

/** Counts that look odd are forgotten, and the lines are counted once more, as blindly as before; the log keeps the first count. */
export function countAgain(
  desk: Desk,
  input: { countId: number; lineIds: readonly number[] },
): Promise<Result<{ sentence: string }>> {
  return desk.write(async (books) => {
    const open = await openCount(books, input.countId)
    if (!open.ok) return open
    const asked = new Set(input.lineIds)
    const lines = (await linesOfCount(books.read, books.officeId, input.countId)).filter(
      (line) => asked.has(line.lineId) && line.counted !== null,
    )
    if (lines.length === 0) return refused('RECORD_GONE', { what: 'This line' })
    for (const line of lines) await setCounted(books.tx, books.officeId, line.lineId, null)
    await bumpCount(books.tx, books.officeId, input.countId)
    const first = lines.map((line) => `${line.counted ?? 0} of lot ${line.lot} in ${line.place}`).join(', ')
    const sentence = `${counted(lines.length, 'lot')} of ${open.value.name} to be counted again.`
    const details = `counted first: ${first}`
    await books.record({ subjectKind: 'count', subjectId: input.countId, verb: 'again', sentence, details })
    return ok({ sentence })
  })
}
