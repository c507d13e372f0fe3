import type { Desk } from '../answering.ts'
import { ok, type Result } from '../result.ts'
import { readSettings } from '../settings/settings-store.ts'
import { addDays, type CalendarDate, weekdayOf } from '../units/calendar-date.ts'
import type { PartId, VisitId } from '../units/ids.ts'
import { losingVisitRows, type TellLosers } from './losing-visits.ts'
import { type DaySeen, planDayToLookAt, readDay } from './plan-pull-answers.ts'
import type { PullDay, PullLineRow, ShortageRow, VanPullRow } from './pull-contract.ts'
import { awaitedDeliveries, type Delivery, visitsOfDay } from './pull-needs-store.ts'
import { isFittable, type PullLine, piecesOf, type Shortage, type VanPull } from './pull-shapes.ts'
import {
  type PullLineRow as KeptLine,
  linesOfPulls,
  type PullRow,
  pullsOfDay,
  type StopRow,
  stopsOfLines,
} from './pulls-store.ts'

/** How far ahead one looks for a day with visits. */
const LOOK_AHEAD_DAYS = 14

/** Today while one of its pulls is still open; else the next day with visits from tomorrow on; without any, the next working day. */
export async function nextDay(desk: Desk): Promise<Result<{ on: CalendarDate; visits: number; vans: number }>> {
  const isOpenToday = (await pullsOfDay(desk.read, desk.officeId, desk.today)).some((pull) => pull.state === 'open')
  for (let days = isOpenToday ? 0 : 1; days <= LOOK_AHEAD_DAYS; days += 1) {
    const on = addDays(desk.today, days)
    const visits = (await visitsOfDay(desk.read, desk.officeId, on)).filter((visit) => visit.state === 'booked')
    const vans = new Set(visits.flatMap((visit) => (visit.vanId === null ? [] : [visit.vanId])))
    if (visits.length > 0) return ok({ on, visits: visits.length, vans: vans.size })
  }
  const { workdays } = await readSettings(desk.read, desk.officeId)
  let on = addDays(desk.today, 1)
  for (let days = 2; days <= 7 && !workdays.includes(String(weekdayOf(on))); days += 1) on = addDays(desk.today, days)
  return ok({ on, visits: 0, vans: 0 })
}

/** A day's pulls as the warehouse sees them. */
export async function day(desk: Desk, input: { on: CalendarDate }): Promise<Result<PullDay>> {
  return ok(await pullDay(desk, input.on))
}

/** The same for the screen, the paper and the night's work. */
export async function pullDay(desk: Pick<Desk, 'read' | 'officeId' | 'today'>, on: CalendarDate): Promise<PullDay> {
  const { read, officeId, today } = desk
  const seen = await readDay(desk, on)
  // Nobody tops a van up for a day that is over.
  const plan = await planDayToLookAt(on < today ? { ...seen, input: { ...seen.input, vans: [] } } : seen)
  const pulls = await pullsOfDay(read, officeId, on)
  const lines = await linesOfPulls(
    read,
    officeId,
    pulls.map((pull) => pull.pullId),
  )
  const stops = await stopsOfLines(
    read,
    officeId,
    lines.map((line) => line.lineId),
  )
  const words = wordsOf(seen)
  const deliveries = await awaitedDeliveries(read, officeId)
  const { locale } = await readSettings(read, officeId)
  const losers = losingVisitRows(plan.losers, tellLosers(seen, words, deliveries, stops, locale))
  const vanOf = new Map(seen.visits.map((visit) => [visit.visitId, visit.vanId]))
  const vanIds = new Set([...seen.toServe.map((visit) => visit.vanId), ...pulls.map((pull) => pull.vanId)])
  const vans = seen.vans
    .filter((van) => vanIds.has(van.vanId))
    .map((van) => {
      const own = pulls.filter((pull) => pull.vanId === van.vanId)
      const planned = plan.vans.find((each) => each.vanId === van.vanId) ?? null
      const kept = { pulls: own, lines, stops, placeId: van.placeId }
      return {
        ...vanRow(seen, words, planned, kept, deliveries),
        losers: losers.filter((loser) => vanOf.get(loser.visitId) === van.vanId),
        vanId: van.vanId,
        van: van.name,
        technician: van.technicianName,
      }
    })
  return {
    on,
    isPast: on < today,
    proved: plan.proved,
    vans,
    withoutVan: seen.visits
      .filter((visit) => visit.vanId === null && visit.state === 'booked')
      .map(({ visitId, household, technicianName: technician }) => ({ visitId, household, technician })),
    withoutPart: withoutPart(seen),
  }
}

function withoutPart(seen: DaySeen): PullDay['withoutPart'] {
  return seen.tasks
    .filter((task) => task.kind === 'change' && task.partId === null)
    .flatMap((task) => {
      const visit = seen.visits.find((each) => each.visitId === task.visitId)
      if (!visit) return []
      const what = task.stageLabel || task.description
      return [{ visitId: visit.visitId, siteId: visit.siteId, household: visit.household, what }]
    })
}

interface Words {
  readonly part: (partId: PartId) => { partId: PartId; number: string; name: string }
  readonly household: (visitId: VisitId) => string
}

function wordsOf(seen: DaySeen): Words {
  const households = new Map(seen.visits.map((visit) => [visit.visitId, visit.household]))
  return {
    part: (partId) => {
      const part = seen.parts.get(partId)
      return { partId, number: part?.number ?? '', name: part?.name ?? '' }
    },
    household: (visitId) => households.get(visitId) ?? '',
  }
}

function tellLosers(
  seen: DaySeen,
  words: Words,
  deliveries: readonly Delivery[],
  stops: readonly StopRow[],
  locale: string,
): TellLosers {
  const sites = new Map(seen.visits.map((visit) => [visit.visitId, visit.siteId]))
  const visits = new Map(seen.toServe.map((visit) => [visit.visitId, visit]))
  return {
    part: words.part,
    visit: (visitId) => {
      const visit = visits.get(visitId)
      const siteId = sites.get(visitId)
      return visit && siteId !== undefined ? { ...visit, siteId } : null
    },
    nextDelivery: (partId) => nextDeliveryOf(deliveries, partId),
    held: (visitId) => piecesOf(stops.filter((stop) => stop.visitId === visitId)),
    locale,
  }
}

function nextDeliveryOf(deliveries: readonly Delivery[], partId: PartId): ShortageRow['nextDelivery'] {
  const next = deliveries.find((delivery) => delivery.partId === partId)
  return next
    ? { on: next.expectedOn, quantity: next.quantity, orderNumber: next.orderNumber, supplier: next.supplierName }
    : null
}

interface Kept {
  readonly pulls: readonly PullRow[]
  readonly lines: readonly KeptLine[]
  readonly stops: readonly StopRow[]
  readonly placeId: number
}

type Body = Omit<VanPullRow, 'vanId' | 'van' | 'technician' | 'losers'>

/** What a van's list shows: the open pull; without one what was put on it; without that the plan. */
function vanRow(
  seen: DaySeen,
  words: Words,
  planned: VanPull | null,
  kept: Kept,
  deliveries: readonly Delivery[],
): Body {
  const open = kept.pulls.find((pull) => pull.state === 'open') ?? null
  const confirmed = kept.pulls.filter((pull) => pull.state === 'confirmed')
  const shown = open ? [open] : confirmed
  const pull = shown.at(-1) ?? null
  const ids = new Set(shown.map((each) => each.pullId))
  const keptLines = kept.lines.filter((line) => ids.has(line.pullId))
  const plannedPieces = planned ? piecesOf(planned.lines) + piecesOf(planned.aboard) : 0
  const vanVisits = seen.visits.filter((visit) => visit.vanId === (planned?.vanId ?? pull?.vanId))
  const state = open
    ? 'open'
    : pull
      ? 'ready'
      : plannedPieces > 0 || (planned?.shortages.length ?? 0) > 0
        ? 'not-begun'
        : 'nothing'
  const rows = (aboard: boolean): PullLineRow[] =>
    pull
      ? keptLines
          .filter((line) => (line.placeId === kept.placeId) === aboard)
          .filter((line) => open !== null || (line.pulled ?? 0) > 0)
          .map((line) => keptRow(line, kept.stops, words))
      : (aboard ? (planned?.aboard ?? []) : (planned?.lines ?? [])).map((line) => plannedRow(line, words))
  return {
    stops: vanVisits.length,
    state,
    pullId: pull?.pullId ?? null,
    begunAt: pull?.begunAt ?? null,
    confirmedAt: pull?.confirmedAt ?? null,
    by: pull?.by ?? null,
    lines: rows(false),
    aboard: rows(true),
    shortages: shortageRows(seen, words, planned?.shortages ?? [], deliveries),
    room: planned?.room ?? null,
    parLeftOut: (planned?.parLeftOut ?? []).map(({ partId, quantity, why }) => ({
      part: words.part(partId),
      quantity,
      why,
    })),
    more: pull ? plannedPieces : 0,
  }
}

function keptRow(line: KeptLine, stops: readonly StopRow[], words: Words): PullLineRow {
  return {
    lineId: line.lineId,
    placeId: line.placeId,
    bin: line.binCode,
    part: words.part(line.partId),
    insteadOf: line.askedPartId === line.partId ? null : words.part(line.askedPartId),
    lotId: line.lotId,
    lot: line.lotNumber,
    expiresOn: line.expiresOn,
    quantity: line.quantity,
    pulled: line.pulled,
    forPar: line.forPar,
    pulledBy: line.pulledBy,
    pulledAt: line.pulledAt,
    totes: stops
      .filter((stop) => stop.lineId === line.lineId)
      .map(({ visitId, stop, quantity }) => ({ visitId, stop, quantity, household: words.household(visitId) })),
  }
}

function plannedRow(line: PullLine, words: Words): PullLineRow {
  return {
    lineId: null,
    placeId: line.placeId,
    bin: line.binCode,
    part: words.part(line.partId),
    insteadOf: line.insteadOf === null ? null : words.part(line.insteadOf),
    lotId: line.lotId,
    lot: line.lotNumber,
    expiresOn: line.expiresOn,
    quantity: line.quantity,
    pulled: null,
    forPar: line.forPar,
    pulledBy: '',
    pulledAt: null,
    totes: line.totes.map((tote) => ({ ...tote, household: words.household(tote.visitId) })),
  }
}

/** What is not there, by part, with the stops that lack it, what lies there unfit, and when more comes. */
function shortageRows(
  seen: DaySeen,
  words: Words,
  shortages: readonly Shortage[],
  deliveries: readonly Delivery[],
): ShortageRow[] {
  const missing = shortages.flatMap((each) => (each.missing > 0 ? [{ ...each, quantity: each.missing }] : []))
  return [...new Set(missing.map((each) => each.partId))].map((partId) => {
    const own = missing.filter((each) => each.partId === partId)
    const unfit = seen.input.stock.filter(
      (lot) => lot.partId === partId && lot.vanId === null && !isFittable(lot, seen.on),
    )
    return {
      part: words.part(partId),
      quantity: piecesOf(own),
      totes: own.map(({ visitId, stop, quantity }) => ({
        visitId,
        stop,
        quantity,
        household: words.household(visitId),
      })),
      unfit: unfit.reduce((sum, lot) => sum + lot.onHand, 0),
      nextDelivery: nextDeliveryOf(deliveries, partId),
    }
  })
}
