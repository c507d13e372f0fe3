import type { OpenBooks } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import { readSettings } from '../settings/settings-store.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import { shortDate } from '../units/date-words.ts'
import type { PullId, PullLineId, VanId } from '../units/ids.ts'
import { agoWords } from './ago-words.ts'
import { findPart } from './parts-store.ts'
import type { PullLine } from './pull-shapes.ts'
import {
  findOpenPull,
  findPull,
  insertPull,
  insertPullLine,
  linesOfPulls,
  type PullLineRow,
  type PullRow,
} from './pulls-store.ts'

/** An open pull, or the sentence that says why it is not open any more. */
export async function openPull(books: OpenBooks, pullId: PullId): Promise<Result<PullRow>> {
  const pull = await findPull(books.read, books.officeId, pullId)
  if (!pull) return refused('RECORD_GONE', { what: 'This pull' })
  if (pull.state === 'taken-back') return refused('PULL_TAKEN_BACK')
  if (pull.state === 'confirmed') {
    const ago = pull.confirmedAt === null ? 'before' : agoWords(pull.confirmedAt, books.now)
    return refused('PULL_CONFIRMED', { van: pull.vanName, ago, by: pull.by })
  }
  return ok(pull)
}

/** What a line looked like to whoever touches it. */
export interface LineSeen {
  readonly quantity: number
  readonly pulled: number | null
}

export interface LineOfPull {
  readonly pull: PullRow
  readonly line: PullLineRow
  /** All that are to be taken from bins. */
  readonly lines: readonly PullLineRow[]
}

/** A line of an open pull as it was seen, or what happened to it since. */
export async function lineOfPull(
  books: OpenBooks,
  input: { readonly pullId: PullId; readonly lineId: PullLineId; readonly seen?: LineSeen | undefined },
): Promise<Result<LineOfPull>> {
  const opened = await openPull(books, input.pullId)
  if (!opened.ok) return opened
  const pull = opened.value
  const all = await linesOfPulls(books.read, books.officeId, [pull.pullId])
  const lines = all.filter((each) => each.placeId !== pull.vanPlaceId)
  const line = lines.find((each) => each.lineId === input.lineId)
  if (!line) return refused('PULL_LINE_GONE')
  const { seen } = input
  if (seen && (seen.quantity !== line.quantity || seen.pulled !== line.pulled)) {
    const ticked = line.pulled === null ? 'nothing is ticked' : `${line.pulled} of ${line.quantity} are ticked`
    const now = seen.quantity === line.quantity ? ticked : `it asks for ${line.quantity} now`
    return refused('PULL_LINE_CHANGED', { by: line.pulledBy === '' ? '' : ` by ${line.pulledBy}`, now })
  }
  return ok({ pull, line, lines })
}

/** The refusal of a lot that was recalled, or ends before the visits, since it was promised; null while it is good. */
export async function unfitForPull(books: OpenBooks, pull: PullRow, line: PullLineRow): Promise<Result<never> | null> {
  const part = (await findPart(books.read, books.officeId, line.partId))?.name ?? 'this part'
  const facts = { lot: line.lotNumber, part }
  if (line.recalledOn !== null) return refused('PULL_LOT_RECALLED', facts)
  if (line.expiresOn === null || line.expiresOn >= pull.pullOn) return null
  const { locale } = await readSettings(books.read, books.officeId)
  return refused('PULL_LOT_EXPIRED', { ...facts, date: shortDate(line.expiresOn, locale) })
}

/** Writes planned lines down as promised, in the van's open pull of the day or in a new one. */
export async function promise(
  books: OpenBooks,
  on: CalendarDate,
  vanId: VanId,
  lines: readonly PullLine[],
  aboard: readonly PullLine[],
): Promise<PullId> {
  const { tx, read, officeId, now, by } = books
  const open = await findOpenPull(read, officeId, on, vanId)
  const pullId = open?.pullId ?? (await insertPull(tx, officeId, { on, vanId, begunAt: now, by }))
  const before = open ? await linesOfPulls(read, officeId, [pullId]) : []
  let position = before.reduce((last, line) => Math.max(last, line.position), 0)
  for (const line of [...lines, ...aboard]) {
    position += 1
    await insertPullLine(tx, officeId, pullId, {
      position,
      askedPartId: line.insteadOf ?? line.partId,
      lotId: line.lotId,
      placeId: line.placeId,
      quantity: line.quantity,
      substitute: line.insteadOf !== null,
      forPar: line.forPar,
      aboard: aboard.includes(line),
      stops: line.totes,
    })
  }
  return pullId
}
