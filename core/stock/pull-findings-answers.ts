import type { Desk, OpenBooks } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import type { PullId, PullLineId } from '../units/ids.ts'
import { bookMovement, lotOrGone } from './book-movement-answers.ts'
import { foundElsewhere, otherHeaps } from './found-elsewhere-answers.ts'
import { movementOfCount } from './ledger.ts'
import { balanceAt } from './movements-store.ts'
import { type LineOfPull, type LineSeen, lineOfPull } from './open-pull-answers.ts'
import type { Finding, FindingDone, Found, OtherHeap } from './pull-contract.ts'
import { findingsOfPull, insertFinding, type NewFinding, openPullsAt } from './pull-findings-store.ts'
import { promisedPieces } from './pull-needs-store.ts'
import { findPull, linesOfPulls, type PullLineRow } from './pulls-store.ts'
import { quarantineOf } from './quarantine-answers.ts'
import { judge, type LostLine, reallocate } from './reallocate-answers.ts'

interface FoundOnLine {
  readonly pullId: PullId
  readonly lineId: PullLineId
  readonly finding: Finding
  readonly seen?: LineSeen | undefined
}

/** Books what was found at the bin and promises anew what is left, in one transaction. */
export function found(desk: Desk, input: FoundOnLine): Promise<Result<FindingDone>> {
  return desk.write(async (books) => {
    const at = await lineOfPull(books, input)
    if (!at.ok) return at
    const done = await book(books, at.value, input.finding)
    if (!done.ok) return done
    await judge(books, [at.value.line])
    const details = [
      ...done.value.instead.map((each) => `${each.quantity} from ${each.bin}, lot ${each.lot}`),
      ...done.value.without.map((each) => `stop ${each.stop}, ${each.household}: ${each.quantity} missing`),
    ]
    await books.record({
      subjectKind: 'pull',
      subjectId: input.pullId,
      verb: 'found',
      sentence: done.value.sentence,
      details: details.join('; '),
    })
    return done
  })
}

function book(books: OpenBooks, at: LineOfPull, finding: Finding): Promise<Result<FindingDone>> {
  switch (finding.kind) {
    case 'short':
      return foundShort(books, at, finding.found)
    case 'damaged':
      return foundDamaged(books, at, finding.damaged, finding.what)
    case 'elsewhere':
      return foundElsewhere(books, at, finding)
  }
}

/**
 * Fewer are there: who takes what there is has emptied the bin of this lot, so it is counted as what lies in totes; lines of other
 * pulls that were promised the rest lose it, too.
 */
async function foundShort(books: OpenBooks, at: LineOfPull, foundPieces: number): Promise<Result<FindingDone>> {
  const { line, pull } = at
  if (foundPieces >= line.quantity)
    return refused('PULL_FOUND_NOT_FEWER', { quantity: line.quantity, found: foundPieces })
  const others = await othersAt(books, line)
  const counted = foundPieces + others.reduce((sum, each) => sum + each.ticked, 0)
  const quantity = await balanceAt(books.read, books.officeId, line.lotId, line.placeId)
  const movement = movementOfCount({ lotId: line.lotId, placeId: line.placeId, quantity, counted })
  if (!movement.ok) return movement
  if (movement.value) {
    const note = `${foundPieces} of ${line.quantity} found on the pull for ${pull.vanName}`
    const booked = await bookLine(books, at, { ...movement.value, reason: 'count', note })
    if (!booked.ok) return booked
  }
  await writeFinding(books, at, 'short', line.quantity - foundPieces, '')
  const outcome = await reallocate(books, [{ pull, line, left: foundPieces, ticked: foundPieces }, ...others])
  const sentence = `${foundPieces} of ${line.quantity} found: ${line.partName}, lot ${line.lotNumber}, ${line.binCode}. The books say ${counted} there now.`
  return ok({ sentence, ...outcome })
}

/** Lines of open pulls that ask for the same lot in the same bin, with what is ticked of them. */
async function othersAt(books: OpenBooks, line: PullLineRow): Promise<LostLine[]> {
  const { read, officeId } = books
  const others: LostLine[] = []
  for (const pullId of await openPullsAt(read, officeId, line.lotId, line.placeId)) {
    const pull = await findPull(read, officeId, pullId)
    if (!pull) continue
    for (const other of await linesOfPulls(read, officeId, [pullId])) {
      if (other.lotId !== line.lotId || other.placeId !== line.placeId || other.lineId === line.lineId) continue
      others.push({ pull, line: other, left: other.pulled ?? 0, ticked: other.pulled ?? 0 })
    }
  }
  return others
}

/** Some are spoilt: they go to quarantine; what is good stays with the line as far as the bin holds it. */
async function foundDamaged(
  books: OpenBooks,
  at: LineOfPull,
  damaged: number,
  what: string,
): Promise<Result<FindingDone>> {
  const { line, pull } = at
  if (damaged > line.quantity) return refused('PULL_FOUND_TOO_MANY', { quantity: line.quantity, pieces: damaged })
  const { lotId, placeId } = line
  const quarantine = await quarantineOf(books)
  const booked = await bookLine(books, at, {
    lotId,
    fromPlaceId: placeId,
    toPlaceId: quarantine.placeId,
    quantity: damaged,
    reason: 'move',
    note: `damaged${what === '' ? '' : `: ${what}`}`,
  })
  if (!booked.ok) return booked
  await writeFinding(books, at, 'damaged', damaged, what)
  const there = await balanceAt(books.read, books.officeId, lotId, placeId)
  const promised = (await promisedPieces(books.read, books.officeId))
    .filter((row) => row.lotId === lotId && row.placeId === placeId)
    .reduce((sum, row) => sum + row.quantity, -line.quantity)
  const left = Math.max(0, Math.min(line.quantity - damaged, there - promised))
  const outcome = await reallocate(books, [{ pull, line, left, ticked: Math.min(line.pulled ?? 0, left) }])
  const sentence = `${damaged} of ${line.partName}, lot ${line.lotNumber}, from ${line.binCode} set aside in ${quarantine.name}.`
  return ok({ sentence, ...outcome })
}

type OfLine = Omit<Parameters<typeof bookMovement>[2], 'pullId'>

async function bookLine(books: OpenBooks, at: LineOfPull, movement: OfLine): Promise<Result<unknown>> {
  const lot = await lotOrGone(books, movement.lotId)
  if (!lot.ok) return lot
  return bookMovement(books, lot.value, { ...movement, pullId: at.pull.pullId })
}

async function writeFinding(
  books: OpenBooks,
  { pull, line }: LineOfPull,
  kind: NewFinding['kind'],
  quantity: number,
  note: string,
): Promise<void> {
  const { lotId, placeId, partId } = line
  const about = { pullId: pull.pullId, kind, partId, lotId, placeId, quantity, note }
  await insertFinding(books.tx, books.officeId, { ...about, at: books.now, by: books.by })
}

/** Where else the part of a line lies, and nobody was promised it. */
export async function elsewhere(
  desk: Desk,
  input: { pullId: PullId; lineId: PullLineId },
): Promise<Result<OtherHeap[]>> {
  const pull = await findPull(desk.read, desk.officeId, input.pullId)
  if (!pull) return refused('RECORD_GONE', { what: 'This pull' })
  const line = (await linesOfPulls(desk.read, desk.officeId, [input.pullId])).find(
    (each) => each.lineId === input.lineId,
  )
  if (!line) return refused('PULL_LINE_GONE')
  return ok(await otherHeaps(desk, line, pull.pullOn))
}

/** What was found on a pull, for whoever looks later. */
export async function findings(desk: Desk, input: { pullId: PullId }): Promise<Result<Found[]>> {
  const rows = await findingsOfPull(desk.read, desk.officeId, input.pullId)
  return ok(
    rows.map(({ kind, partId, partNumber: number, partName: name, lotNumber: lot, placeName: place, ...row }) => ({
      ...{ kind, part: { partId, number, name }, lot, place },
      ...{ quantity: row.quantity, at: row.at, by: row.by, note: row.note },
    })),
  )
}
