import type { OpenBooks } from '../answering.ts'
import { readSettings } from '../settings/settings-store.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { VisitId } from '../units/ids.ts'
import { checkPromises } from './check-promises.ts'
import { type LineAnew, linesFromHand, type PiecesInHand, withPiecesInHand } from './in-hand.ts'
import type { LackInWords } from './losing-words.ts'
import { balanceAt } from './movements-store.ts'
import { type DaySeen, planDay, readDay } from './plan-pull-answers.ts'
import type { FindingDone } from './pull-contract.ts'
import { addToTote, removeLine } from './pull-findings-store.ts'
import { awaitedDeliveries, type Delivery, promisedPieces } from './pull-needs-store.ts'
import type { Lack, PickList, PullLine } from './pull-shapes.ts'
import {
  insertPullLine,
  linesOfPulls,
  type PullLineRow,
  type PullRow,
  setLineQuantity,
  stopsOfLines,
} from './pulls-store.ts'
import { whyWithout } from './without-words.ts'

/** A line of an open pull that does not get all it asks for, with the good pieces of it that there are and those that are ticked. */
export interface LostLine {
  readonly pull: PullRow
  readonly line: PullLineRow
  readonly left: number
  readonly ticked: number
}

type Outcome = Pick<FindingDone, 'instead' | 'without' | 'putBack'>

/**
 * Plans anew what lines have lost, and writes it down: what is left of them stays with their vans, other lots and stand-ins are promised
 * for the rest, and who cannot be served goes without. Nothing is promised twice afterwards, or everything is taken back.
 */
export async function reallocate(books: OpenBooks, lost: readonly LostLine[]): Promise<Outcome> {
  const outcome: Outcome = { instead: [], without: [], putBack: 0 }
  for (const each of lost.filter(({ line }) => line.forPar))
    await setLineQuantity(books.tx, books.officeId, each.line.lineId, each.left, each.ticked || null)
  const forStops = lost.filter(({ line }) => !line.forPar)
  const days = [...new Set(forStops.map((each) => each.pull.pullOn))].sort()
  for (const on of days) {
    const ofDay = forStops.filter((each) => each.pull.pullOn === on)
    const done = await planDayAnew(books, on, ofDay)
    outcome.instead.push(...done.instead)
    outcome.without.push(...done.without)
    outcome.putBack += done.putBack
  }
  return outcome
}

async function planDayAnew(books: OpenBooks, on: CalendarDate, lost: readonly LostLine[]): Promise<Outcome> {
  const { tx, read, officeId } = books
  const before = await readDay(books, on)
  const stops = await stopsOfLines(
    read,
    officeId,
    lost.map(({ line }) => line.lineId),
  )
  const hit = new Set(stops.map((stop) => stop.visitId))
  for (const { line } of lost) await removeLine(tx, officeId, line.lineId)
  const seen = await readDay(books, on)
  const inHand = lost.map(handOf)
  const day = { ...seen, input: withPiecesInHand(seen.input, inHand) }
  const plan = planDay(day, lackingAlready(before, hit))
  const deliveries = await awaitedDeliveries(read, officeId)
  const { locale } = await readSettings(read, officeId)
  const without = withoutOf({ deliveries, locale }, seen, plan, lost, hit)
  const outcome: Outcome = { instead: [], without, putBack: 0 }
  for (const pull of pullsOf(lost)) {
    const van = plan.vans.find((each) => each.vanId === pull.vanId)
    const lines = [...(van?.lines ?? []), ...(van?.aboard ?? [])].flatMap((line) => linesFor(line, hit))
    const hands = inHand.filter((hand) => hand.vanId === pull.vanId)
    const anew = linesFromHand(lines, hands)
    for (const each of anew) await addLine(books, pull, each, lost)
    outcome.instead.push(...insteadOf(seen, anew))
    outcome.putBack += sum(hands.map((hand) => hand.ticked)) - sum(anew.map((each) => each.ticked))
    await judge(
      books,
      anew.map((each) => each.line),
    )
  }
  return outcome
}

const sum = (numbers: readonly number[]): number => numbers.reduce((all, each) => all + each, 0)

const pullsOf = (lost: readonly LostLine[]): PullRow[] => [
  ...new Map(lost.map(({ pull }) => [pull.pullId, pull])).values(),
]

function handOf({ pull, line, left, ticked }: LostLine): PiecesInHand {
  const { lotId, lotNumber, partId, expiresOn, placeId, binCode, walkOrder } = line
  const { vanId, vanPlaceId } = pull
  const lot = { lotId, lotNumber, partId, expiresOn, recalled: line.recalledOn !== null }
  return { vanId, vanPlaceId, ...lot, placeId, binCode, walkOrder, pieces: left, ticked }
}

/** Visits that lacked something before, and were pulled for all the same: they go on getting what there is. */
function lackingAlready(before: DaySeen, hit: ReadonlySet<VisitId>): VisitId[] {
  return before.input.visits
    .filter((visit) => hit.has(visit.visitId) && visit.needs.length > 0)
    .map((visit) => visit.visitId)
}

/** What of a planned line is for the visits that lost something. */
function linesFor(line: PullLine, hit: ReadonlySet<VisitId>): PullLine[] {
  const totes = line.totes.filter((tote) => hit.has(tote.visitId))
  return line.forPar || totes.length === 0
    ? []
    : [{ ...line, totes, quantity: sum(totes.map((tote) => tote.quantity)) }]
}

function insteadOf(seen: DaySeen, anew: readonly LineAnew[]): Outcome['instead'] {
  return anew
    .filter((each) => each.inHand === null)
    .map(({ line }) => {
      const part = seen.parts.get(line.partId)
      const named = { partId: line.partId, number: part?.number ?? '', name: part?.name ?? '' }
      return { bin: line.binCode, part: named, lot: line.lotNumber, quantity: line.quantity }
    })
}

/** What the reasons are told with. */
interface Telling {
  readonly deliveries: readonly Delivery[]
  readonly locale: string
}

function withoutOf(
  telling: Telling,
  seen: DaySeen,
  plan: PickList,
  lost: readonly LostLine[],
  hit: ReadonlySet<VisitId>,
): Outcome['without'] {
  const asked = new Set(lost.map(({ line }) => line.askedPartId))
  const households = new Map(seen.visits.map((visit) => [visit.visitId, visit.household]))
  return plan.vans
    .flatMap((van) => van.shortages)
    .filter((short) => hit.has(short.visitId) && asked.has(short.partId))
    .map((short) => {
      const part = seen.parts.get(short.partId)
      const loser = plan.losers.find((each) => each.visitId === short.visitId)
      const lack = loser?.lacks.find((each) => each.partId === short.partId)
      return {
        stop: short.stop,
        household: households.get(short.visitId) ?? '',
        part: { partId: short.partId, number: part?.number ?? '', name: part?.name ?? '' },
        quantity: short.quantity,
        why: whyWithout(short, lack === undefined ? null : lackInWords(telling, seen, lack), telling.locale),
      }
    })
}

function lackInWords({ deliveries }: Telling, seen: DaySeen, lack: Lack): LackInWords {
  const part = seen.parts.get(lack.partId)
  const next = deliveries.find((delivery) => delivery.partId === lack.partId)
  return {
    part: `${part?.name ?? ''} ${part?.number ?? ''}`,
    missing: lack.missing,
    servedInstead: seen.toServe.filter((visit) => lack.servedInstead.some((each) => each.visitId === visit.visitId)),
    nextDelivery: next ? { on: next.expectedOn, quantity: next.quantity, orderNumber: next.orderNumber } : null,
  }
}

/** Adds a line to a pull, or its pieces to the one that asks for the same there. */
async function addLine(books: OpenBooks, pull: PullRow, anew: LineAnew, lost: readonly LostLine[]): Promise<void> {
  const { line, inHand, ticked } = anew
  const was =
    inHand === null
      ? undefined
      : lost.find((each) => each.line.lotId === inHand.lotId && each.pull.pullId === pull.pullId)
  const isAboard = line.placeId === pull.vanPlaceId
  await addToPull(books, pull, {
    line,
    isAboard,
    ticked:
      ticked > 0 ? { pulled: ticked, at: was?.line.pulledAt ?? books.now, by: was?.line.pulledBy || books.by } : null,
  })
}

interface LineToAdd {
  readonly line: PullLine
  readonly isAboard: boolean
  readonly ticked: { readonly pulled: number; readonly at: string; readonly by: string } | null
}

/** One line a bin, lot and part asked for, however often pieces are added to it. */
export async function addToPull(books: OpenBooks, pull: PullRow, add: LineToAdd): Promise<void> {
  const { tx, read, officeId } = books
  const { line, ticked } = add
  const askedPartId = line.insteadOf ?? line.partId
  const lines = await linesOfPulls(read, officeId, [pull.pullId])
  const same = lines.find(
    (each) =>
      each.lotId === line.lotId &&
      each.placeId === line.placeId &&
      each.askedPartId === askedPartId &&
      each.forPar === line.forPar,
  )
  if (!same) {
    const position = lines.reduce((last, each) => Math.max(last, each.position), 0) + 1
    const { lotId, placeId, quantity, forPar, totes: stops } = line
    const substitute = line.insteadOf !== null
    const row = {
      position,
      askedPartId,
      lotId,
      placeId,
      quantity,
      substitute,
      forPar,
      aboard: add.isAboard,
      ticked,
      stops,
    }
    return insertPullLine(tx, officeId, pull.pullId, row)
  }
  const more = add.isAboard ? line.quantity : (ticked?.pulled ?? 0)
  const pulled = same.pulled === null && more === 0 ? null : (same.pulled ?? 0) + more
  await setLineQuantity(tx, officeId, same.lineId, same.quantity + line.quantity, pulled)
  for (const tote of line.totes) await addToTote(tx, officeId, same.lineId, tote)
}

/** Looks at every heap that was touched: nothing may be promised twice. */
export async function judge(books: OpenBooks, touched: readonly Pick<PullLine, 'lotId' | 'placeId'>[]): Promise<void> {
  const promised = await promisedPieces(books.read, books.officeId)
  const heaps = []
  for (const { lotId, placeId } of touched) {
    const ofIt = promised.filter((row) => row.lotId === lotId && row.placeId === placeId)
    const onHand = await balanceAt(books.read, books.officeId, lotId, placeId)
    heaps.push({ lotId, placeId, onHand, promised: sum(ofIt.map((row) => row.quantity)) })
  }
  const complaints = checkPromises(heaps)
  if (complaints.length > 0) throw new Error(`Promised twice: ${complaints.join('; ')}`)
}
