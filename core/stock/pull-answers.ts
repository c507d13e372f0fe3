import { implement } from '@orpc/server'
import { answer, type Desk, type OpenBooks } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import { readSettings } from '../settings/settings-store.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import { counted, shortDate, weekdayAndDate } from '../units/date-words.ts'
import type { PullId, PullLineId, VanId, VisitId } from '../units/ids.ts'
import { bookMovement, lotOrGone } from './book-movement-answers.ts'
import { type LineSeen, lineOfPull, openPull, promise, unfitForPull } from './open-pull-answers.ts'
import { planDay, readDay } from './plan-pull-answers.ts'
import { pullContract } from './pull-contract.ts'
import { elsewhere, findings, found } from './pull-findings-answers.ts'
import { scan } from './pull-scan-answers.ts'
import { piecesOf } from './pull-shapes.ts'
import {
  linesOfPulls,
  type PullLineRow,
  type PullRow,
  replaceShortages,
  setPullState,
  setStopQuantity,
  stopsOfLines,
  tickLine,
} from './pulls-store.ts'
import { sharePieces } from './share-pieces.ts'
import { day, nextDay } from './show-pull-answers.ts'

interface PullDone {
  readonly pullId: PullId
  readonly pieces: number
  readonly van: string
}

interface Begin {
  readonly on: CalendarDate
  readonly vanIds: readonly VanId[]
  readonly evenIfShort: readonly VisitId[]
}

/**
 * Promises lots to vans. What lies where and what is promised is read again inside the transaction, all vans of the day are planned
 * together, and only the asked ones are written down; two people who press at once get one after the other.
 */
function begin(desk: Desk, input: Begin): Promise<Result<PullDone[]>> {
  return desk.write(async (books) => {
    const { locale } = await readSettings(books.read, books.officeId)
    if (input.on < books.today) return refused('PULL_DATE_PAST', { date: shortDate(input.on, locale) })
    const seen = await readDay(books, input.on)
    const plan = planDay(seen, input.evenIfShort)
    const done: PullDone[] = []
    for (const vanId of new Set(input.vanIds)) {
      const van = seen.vans.find((each) => each.vanId === vanId)
      if (!van) return refused('RECORD_GONE', { what: 'This van' })
      const planned = plan.vans.find((each) => each.vanId === vanId)
      const lines = planned ? [...planned.lines, ...planned.aboard] : []
      if (lines.length === 0)
        return refused('PULL_NOTHING_TO_PULL', { van: van.name, date: weekdayAndDate(input.on, locale) })
      const pullId = await promise(books, input.on, vanId, planned?.lines ?? [], planned?.aboard ?? [])
      const sentence = `${counted(piecesOf(lines), 'piece')} promised to ${van.name} for ${weekdayAndDate(input.on, locale)}`
      await books.record({ subjectKind: 'pull', subjectId: pullId, verb: 'begun', sentence })
      done.push({ pullId, pieces: piecesOf(lines), van: van.name })
    }
    return ok(done)
  })
}

interface Tick {
  readonly pullId: PullId
  readonly lineId: PullLineId
  readonly pulled: number | null
  readonly seen?: LineSeen | undefined
}

/** Ticks so many pieces of a line, once: who ticks what is ticked so already hears that it is. */
function tick(desk: Desk, input: Tick): Promise<Result<{ pulled: number | null }>> {
  return desk.write(async (books) => {
    const asIs = await lineOfPull(books, { pullId: input.pullId, lineId: input.lineId })
    if (!asIs.ok) return asIs
    const { line, pull } = asIs.value
    if (line.pulled === input.pulled) return ok({ pulled: input.pulled })
    const found = await lineOfPull(books, input)
    if (!found.ok) return found
    if (input.pulled !== null && input.pulled > line.quantity)
      return refused('PULL_TICK_TOO_MANY', { quantity: line.quantity, pulled: input.pulled })
    const bad = (input.pulled ?? 0) > 0 ? await unfitForPull(books, pull, line) : null
    if (bad) return bad
    const at = input.pulled === null ? null : books.now
    await tickLine(books.tx, books.officeId, input.lineId, {
      pulled: input.pulled,
      at,
      by: at ? books.by : '',
    })
    return ok({ pulled: input.pulled })
  })
}

/** Moves what was ticked to the van, in one piece; what was not is promised to nobody any more. */
function confirm(desk: Desk, input: { pullId: PullId }): Promise<Result<PullDone & { released: number }>> {
  return desk.write(async (books) => {
    const opened = await openPull(books, input.pullId)
    if (!opened.ok) return opened
    const pull = opened.value
    const lines = await linesOfPulls(books.read, books.officeId, [pull.pullId])
    const fromBins = lines.filter((line) => line.placeId !== pull.vanPlaceId)
    const pieces = fromBins.reduce((sum, line) => sum + (line.pulled ?? 0), 0)
    if (pieces === 0 && fromBins.length > 0) return refused('PULL_NOTHING_TICKED', { van: pull.vanName })
    for (const line of fromBins) {
      const moved = await putAboard(books, pull, line)
      if (!moved.ok) return moved
    }
    const { tx, officeId, now, by } = books
    await setPullState(tx, officeId, pull.pullId, 'confirmed', { at: now, by })
    await writeWhoGoesWithout(books, pull)
    const sentence = `${counted(pieces, 'piece')} put on ${pull.vanName} by ${by}`
    await books.record({ subjectKind: 'pull', subjectId: pull.pullId, verb: 'put on the van', sentence })
    const released = piecesOf(fromBins) - pieces
    return ok({ pullId: pull.pullId, pieces, van: pull.vanName, released })
  })
}

async function putAboard(books: OpenBooks, pull: PullRow, line: PullLineRow): Promise<Result<void>> {
  const pulled = line.pulled ?? 0
  await shareOut(books, line, pulled)
  if (pulled === 0) return ok(undefined)
  const bad = await unfitForPull(books, pull, line)
  if (bad) return bad
  const lot = await lotOrGone(books, line.lotId)
  if (!lot.ok) return lot
  const moved = await bookMovement(books, lot.value, {
    lotId: line.lotId,
    fromPlaceId: line.placeId,
    toPlaceId: pull.vanPlaceId,
    quantity: pulled,
    reason: 'pull',
    note: '',
    pullId: pull.pullId,
  })
  return moved.ok ? ok(undefined) : moved
}

/** When fewer were pulled than asked for, the last stops go without. */
async function shareOut(books: OpenBooks, line: PullLineRow, pulled: number): Promise<void> {
  if (pulled === line.quantity) return
  const stops = await stopsOfLines(books.read, books.officeId, [line.lineId])
  for (const stop of sharePieces(stops, pulled))
    if (stop.lacks > 0) await setStopQuantity(books.tx, books.officeId, stop, stop.gets)
}

/** What the van's visits go without when it is loaded, once: what an earlier pull of the day lacked and this one has is struck. */
async function writeWhoGoesWithout(books: OpenBooks, pull: PullRow): Promise<void> {
  const { input } = await readDay(books, pull.pullOn)
  const visits = input.visits.filter((visit) => visit.vanId === pull.vanId)
  const without = visits.flatMap(({ visitId, needs }) => needs.map((need) => ({ visitId, ...need })))
  await replaceShortages(
    books.tx,
    books.officeId,
    pull.pullId,
    visits.map((visit) => visit.visitId),
    without,
  )
}

function takeBack(desk: Desk, input: { pullId: PullId }): Promise<Result<PullDone>> {
  return desk.write(async (books) => {
    const opened = await openPull(books, input.pullId)
    if (!opened.ok) return opened
    const { pullId, vanName: van } = opened.value
    const lines = await linesOfPulls(books.read, books.officeId, [pullId])
    await setPullState(books.tx, books.officeId, pullId, 'taken-back', null)
    const sentence = `The pull for ${van} was taken back`
    await books.record({ subjectKind: 'pull', subjectId: pullId, verb: 'taken back', sentence })
    return ok({ pullId, pieces: piecesOf(lines), van })
  })
}

const door = implement(pullContract).$context<Desk>()
export const pullAnswers = door.router({
  nextDay: door.nextDay.handler(answer((desk) => nextDay(desk))),
  day: door.day.handler(answer(day)),
  begin: door.begin.handler(answer(begin)),
  tick: door.tick.handler(answer(tick)),
  scan: door.scan.handler(answer(scan)),
  elsewhere: door.elsewhere.handler(answer(elsewhere)),
  found: door.found.handler(answer(found)),
  findings: door.findings.handler(answer(findings)),
  confirm: door.confirm.handler(answer(confirm)),
  takeBack: door.takeBack.handler(answer(takeBack)),
})
