import type { Asking, Desk, OpenBooks } from '../answering.ts'
import type { ReadDb } from '../database/handles.ts'
import { ok, type Result, refused } from '../result.ts'
import { readSettings } from '../settings/settings-store.ts'
import { counted, dayAndMonth } from '../units/date-words.ts'
import { addCents, type Cents, NO_MONEY } from '../units/money.ts'
import { bookMovement, lotOrGone } from './book-movement-answers.ts'
import type { ComparedLine } from './count-contract.ts'
import { type CountedHeap, countDifference, movementOfDifference } from './count-difference.ts'
import { balanceAt } from './movements-store.ts'
import { openCount } from './open-count-answers.ts'
import { promisedPieces } from './pull-needs-store.ts'
import {
  type CountLineRow,
  type CountRow,
  endCount,
  findCount,
  linesOfCount,
  pullsHolding,
  setLineMovement,
} from './stock-counts-store.ts'
import { heapKey } from './what-to-count-answers.ts'

interface Compared {
  readonly lines: ComparedLine[]
  readonly agree: number
  readonly over: Cents
  readonly under: Cents
  readonly sentence: string
}

/** What was counted beside what the books said when it was; only when everything is counted, so that the count stays blind. */
export async function compare(desk: Desk, input: { countId: number }): Promise<Result<Compared>> {
  const count = await findCount(desk.read, desk.officeId, input.countId)
  if (!count) return refused('COUNT_GONE')
  const rows = await linesOfCount(desk.read, desk.officeId, input.countId)
  const uncounted = rows.filter((row) => row.counted === null)
  if (count.state === 'open' && uncounted.length > 0)
    return refused('COUNT_NOT_FINISHED', { left: counted(uncounted.length, 'lot is', 'lots are') })
  const { locale } = await readSettings(desk.read, desk.officeId)
  const lines = await comparedLines(desk, count, rows, locale)
  const values = lines.map((line) => line.value)
  const agree = lines.filter((line) => line.difference === 0).length
  return ok({
    lines,
    agree,
    over: addCents(NO_MONEY, ...values.filter((value) => value > 0)),
    under: addCents(NO_MONEY, ...values.filter((value) => value < 0)),
    sentence: agreeWords(lines.length, agree),
  })
}

function agreeWords(lines: number, agree: number): string {
  if (lines === 0) return 'Nothing was counted.'
  if (agree === lines) return `All ${counted(lines, 'count')} agree with the books.`
  return `${agree} of ${counted(lines, 'count')} agree with the books, ${lines - agree} differ.`
}

type Asked = Pick<Asking, 'officeId'> & { readonly read: ReadDb }

/** After the round ended its lines stand as they were approved; what moved since is another matter. */
async function comparedLines(
  { read, officeId }: Asked,
  count: CountRow,
  rows: readonly CountLineRow[],
  locale: string,
): Promise<ComparedLine[]> {
  const isOpen = count.state === 'open'
  const promised = isOpen ? await promisedPieces(read, officeId) : []
  const holding = isOpen ? await pullsHolding(read, officeId) : []
  const lines: ComparedLine[] = []
  for (const row of rows) {
    if (row.counted === null || row.booksSaid === null) continue
    const of = (heap: { readonly placeId: number; readonly lotId: number }) => heapKey(heap) === heapKey(row)
    const heap: CountedHeap = {
      lotId: row.lotId,
      placeId: row.placeId,
      counted: row.counted,
      booksSaid: row.booksSaid,
      booksNow: isOpen ? await balanceAt(read, officeId, row.lotId, row.placeId) : row.booksSaid,
      promised: promised.filter(of).reduce((sum, each) => sum + each.quantity, 0),
      cost: row.cost,
    }
    const { lacking, ...difference } = countDifference(heap)
    const pulls = holding
      .filter(of)
      .map((pull) => `${pull.van} for ${dayAndMonth(pull.on, locale)}: ${counted(pull.quantity, 'piece')}`)
    lines.push({
      ...named(row),
      ...difference,
      booksSaid: row.booksSaid,
      promised: heap.promised,
      pulls: lacking > 0 ? pulls : [],
    })
  }
  return lines
}

function named(row: CountLineRow) {
  const { lineId, placeId, place, partId, number, part, lotId, lot, countedBy, note } = row
  return { lineId, placeId, place, partId, number, part, lotId, lot, countedBy, note, counted: row.counted ?? 0 }
}

interface Approved {
  readonly sentence: string
  readonly movements: number
  readonly warnings: string[]
}

/**
 * Writes every difference as a movement, all of them or none. The books of this moment are read again: what moved since the count is kept,
 * and a heap from which more left than was there is counted again before anything is written.
 */
export function approve(
  desk: Desk,
  input: { countId: number; version: number; note: string },
): Promise<Result<Approved>> {
  return desk.write(async (books) => {
    const open = await openCount(books, input.countId)
    if (!open.ok) return open
    const { name, version } = open.value
    if (version !== input.version)
      return refused('RECORD_CHANGED', { what: `The round ${name}`, changes: 'counts were written down or taken away' })
    const rows = await linesOfCount(books.read, books.officeId, input.countId)
    const left = rows.filter((row) => row.counted === null).length
    if (left > 0) return refused('COUNT_NOT_FINISHED', { left: counted(left, 'lot is', 'lots are') })
    if (rows.length === 0) return refused('COUNT_EMPTY')
    const { locale } = await readSettings(books.read, books.officeId)
    const lines = await comparedLines(books, open.value, rows, locale)
    let movements = 0
    for (const row of rows) {
      const line = lines.find((each) => each.lineId === row.lineId)
      const booked = line ? await bookDifference(books, row, line, input.note) : ok(0)
      if (!booked.ok) return booked
      movements += booked.value
    }
    await endCount(books.tx, books.officeId, input.countId, { state: 'approved', at: books.now, by: books.by })
    const sentence = `The round ${name} is approved: ${counted(movements, 'difference')} in ${counted(rows.length, 'count')}.`
    await books.record({
      subjectKind: 'count',
      subjectId: input.countId,
      verb: 'approved',
      sentence,
      details: input.note,
    })
    return ok({ sentence, movements, warnings: lines.flatMap(warningOf) })
  })
}

/** Writes one difference down; how many movements that took. */
async function bookDifference(
  books: OpenBooks,
  row: CountLineRow,
  line: ComparedLine,
  note: string,
): Promise<Result<number>> {
  const heap = { ...line, booksNow: line.booksSaid + line.movedSince, cost: row.cost }
  const movement = movementOfDifference(heap, { place: row.place, lot: row.lot })
  if (!movement.ok) return movement
  if (movement.value === null) return ok(0)
  const lot = await lotOrGone(books, row.lotId)
  if (!lot.ok) return lot
  const words = [`counted ${line.counted} by ${row.countedBy}`, row.note, note].filter((word) => word !== '').join('; ')
  const booked = await bookMovement(books, lot.value, { ...movement.value, reason: 'count', note: words })
  if (!booked.ok) return booked
  await setLineMovement(books.tx, books.officeId, row.lineId, booked.value)
  return ok(1)
}

/** A pull that counts on pieces which are not there is named, so that somebody looks at it. */
function warningOf(line: ComparedLine): string[] {
  if (line.pulls.length === 0) return []
  const lacking = line.promised - Math.max(0, line.willBe)
  return [
    `${line.part}, lot ${line.lot} in ${line.place}: ${lacking} of ${counted(line.promised, 'promised piece')} not there. ${line.pulls.join('; ')}.`,
  ]
}
