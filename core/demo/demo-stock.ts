import type { DayNumber } from '../units/calendar-date.ts'
import { addMonths, dateOfDayNumber, dayNumberOf } from '../units/calendar-date.ts'
import { isWorkday, lastWorkdayBefore } from './demo-calendar.ts'
import { countAisles, countOpenRound } from './demo-counts.ts'
import { numberedOrders, orderAwaited } from './demo-orders.ts'
import { leaveSomeShort, loadVans } from './demo-pulls.ts'
import type { DemoFitting, DemoMovement, DemoPlace, DemoVisit, StockYears } from './demo-records.ts'
import { setAside } from './demo-set-aside.ts'
import { SCENARIO } from './scenario.ts'

interface Shelf {
  readonly lot: number
  readonly expiresOn: DayNumber | null
  left: number
}

/** Pieces bought per delivery, in packs, and the level at which the next delivery comes. */
const COVER_DAYS = 75
const LOW_DAYS = 24
/** What the buyer has let run low: it was ordered only as far as visits of the next days were booked, and is to be ordered now. */
const RUN_LOW: ReadonlySet<number> = new Set(
  ['P-1010', 'P-2050', 'P-3010'].map((number) => SCENARIO.parts.findIndex((part) => part.number === number)),
)
const LOW_AHEAD_DAYS = 3
/** The lamp is the part that runs out: the delivery that should have come is still on its way. */
const RUNS_OUT = SCENARIO.parts.findIndex((part) => part.kind === 'uv-lamp')

/**
 * The warehouse of five years: deliveries ahead of need, pieces pulled onto vans the day before and fitted the day after, first expired
 * first. Sets `lot` on the fittings of past visits. Movements come in the order of their days and never take a place below zero.
 */
export function demoStock(visits: readonly DemoVisit[], today: DayNumber): StockYears {
  const years: StockYears = { orders: [], lots: [], movements: [], pulls: [], counts: [] }
  const shelves: Shelf[][] = SCENARIO.parts.map(() => [])
  const past = visits.map((visit, place) => ({ visit, place })).filter(({ visit }) => visit.outcome === 'done')
  past.sort((a, b) => a.visit.on - b.visit.on || a.place - b.place)
  const need = needByDay(visits.filter(({ outcome }) => outcome === 'done' || outcome === 'booked'))
  let last = (past[0]?.visit.on ?? today) - 40
  for (const { visit, place } of past) {
    for (let day = last + 1; day <= visit.on - 1; day += 1)
      if (isWorkday(day)) deliver(day, need, shelves, years, today)
    last = Math.max(last, visit.on - 1)
    takeOut(visit, place, shelves, years)
  }
  for (let day = last + 1; day < today; day += 1) if (isWorkday(day)) deliver(day, need, shelves, years, today)
  loadToday(visits, shelves, years, today)
  breakLamps(shelves, years, today)
  stockVans(shelves, years, today)
  orderAwaited(years, RUNS_OUT, today)
  leaveSomeShort(visits, years, today)
  loadVans(visits, years, today)
  years.movements.sort(inOrder)
  countAisles(years, today)
  setAside(years, today)
  runShort(visits, years, today)
  years.movements.sort(inOrder)
  countOpenRound(years, today)
  return { ...years, orders: numberedOrders(years.orders) }
}

const REASONS: readonly DemoMovement['reason'][] = ['receive', 'move', 'pull', 'scrap', 'fit', 'count']

const inOrder = (a: DemoMovement, b: DemoMovement): number =>
  a.on - b.on || REASONS.indexOf(a.reason) - REASONS.indexOf(b.reason)

function needByDay(visits: readonly DemoVisit[]): { readonly on: DayNumber; readonly part: number }[] {
  return visits.flatMap((visit) =>
    [...visit.fittings, ...visit.consumables].flatMap((fitting) =>
      fitting.part === null ? [] : [{ on: visit.on, part: fitting.part }],
    ),
  )
}

function deliver(
  day: DayNumber,
  need: readonly { readonly on: DayNumber; readonly part: number }[],
  shelves: readonly Shelf[][],
  years: StockYears,
  today: DayNumber,
): void {
  for (const [supplier] of SCENARIO.suppliers.entries()) {
    const lines: { part: number; quantity: number }[] = []
    for (const [part, words] of SCENARIO.parts.entries()) {
      if (words.supplier !== supplier || (part === RUNS_OUT && day > today - 30)) continue
      const onShelf = (shelves[part] ?? []).reduce(
        (sum, shelf) => sum + (usable(shelf, day + COVER_DAYS) ? shelf.left : 0),
        0,
      )
      if (onShelf >= wanted(need, part, day, LOW_DAYS, today)) continue
      const quantity =
        Math.max(1, Math.ceil((wanted(need, part, day, COVER_DAYS, today) - onShelf) / words.pack)) * words.pack
      lines.push({ part, quantity })
    }
    if (lines.length > 0) receive(day, supplier, lines, shelves, years)
  }
}

const usable = (shelf: Shelf, day: DayNumber): boolean => shelf.expiresOn === null || shelf.expiresOn > day

/** What the coming days took in the end; past today, as much as the same days took before. */
function wanted(
  need: readonly { on: DayNumber; part: number }[],
  part: number,
  day: DayNumber,
  days: number,
  today: DayNumber,
): number {
  const isLow = RUN_LOW.has(part)
  const from = day + days > today && !isLow ? Math.min(day, today - days) : day
  const until = isLow ? Math.min(day + days, today + LOW_AHEAD_DAYS) : from + days
  let count = 0
  for (const piece of need) if (piece.part === part && piece.on > from && piece.on <= until) count += 1
  return count + 2
}

function receive(
  day: DayNumber,
  supplier: number,
  lines: readonly { part: number; quantity: number }[],
  shelves: readonly Shelf[][],
  years: StockYears,
): void {
  const order = years.orders.length
  const leadDays = SCENARIO.suppliers[supplier]?.leadTimeDays ?? 10
  years.orders.push({
    supplier,
    number: '',
    sentOn: day - leadDays,
    expectedOn: day,
    receivedOn: day,
    lines: lines.map((line) => ({ ...line, received: line.quantity, charged: null })),
  })
  for (const { part, quantity } of lines) {
    const lot = years.lots.length
    const shelfMonths = SCENARIO.parts[part]?.shelfMonths ?? 0
    const expiresOn = shelfMonths > 0 ? dayNumberOf(addMonths(dateOfDayNumber(day - 40), shelfMonths)) : null
    years.lots.push({ part, code: lotCode(day, lot), receivedOn: day, expiresOn, quantity, order, charged: null })
    shelves[part]?.push({ lot, expiresOn, left: quantity })
    years.movements.push({ on: day, lot, quantity, from: 'outside', to: 'bin', reason: 'receive', visit: null, order })
  }
}

/** "2608-114": year and month of receipt, and a running number. */
function lotCode(day: DayNumber, lot: number): string {
  const date = dateOfDayNumber(day)
  return `${date.slice(2, 4)}${date.slice(5, 7)}-${String(100 + (lot % 900)).padStart(3, '0')}`
}

function takeOut(visit: DemoVisit, place: number, shelves: readonly Shelf[][], years: StockYears): void {
  for (const fitting of [...visit.fittings, ...visit.consumables]) {
    if (fitting.part === null) continue
    const shelf = firstExpired(shelves[fitting.part] ?? [], visit.on)
    if (!shelf) continue
    shelf.left -= 1
    setLot(fitting, shelf.lot)
    const common = { lot: shelf.lot, quantity: 1, visit: place, order: null }
    years.movements.push({
      ...common,
      on: lastWorkdayBefore(visit.on),
      from: 'bin',
      to: visit.technician,
      reason: 'pull',
    })
    years.movements.push({ ...common, on: visit.on, from: visit.technician, to: 'outside', reason: 'fit' })
  }
}

/** The vans of today were loaded on the last working day, each where everything was there for all of its visits; nothing is fitted yet. */
function loadToday(
  visits: readonly DemoVisit[],
  shelves: readonly Shelf[][],
  years: StockYears,
  today: DayNumber,
): void {
  for (const [technician] of SCENARIO.technicians.entries()) {
    const stops = visits
      .map((visit, place) => ({ visit, place }))
      .filter(({ visit }) => visit.outcome === 'booked' && visit.on === today && visit.technician === technician)
    const pieces = stops.flatMap(({ visit, place }) =>
      [...visit.fittings, ...visit.consumables].flatMap((fitting) =>
        fitting.part === null ? [] : [{ fitting, place }],
      ),
    )
    const onShelf = (part: number) =>
      (shelves[part] ?? []).reduce((all, shelf) => all + (usable(shelf, today) ? shelf.left : 0), 0)
    const wants = (part: number) => pieces.filter(({ fitting }) => fitting.part === part).length
    if (SCENARIO.parts.some((_, part) => wants(part) > onShelf(part))) continue
    for (const { fitting, place } of pieces) {
      const shelf = firstExpired(shelves[fitting.part ?? -1] ?? [], today)
      if (!shelf) continue
      shelf.left -= 1
      setLot(fitting, shelf.lot)
      const load = { lot: shelf.lot, quantity: 1, visit: place, order: null, reason: 'pull' } as const
      years.movements.push({ ...load, on: lastWorkdayBefore(today), from: 'bin', to: technician })
    }
  }
}

function setLot(fitting: DemoFitting, lot: number): void {
  fitting.lot = lot
}

function firstExpired(shelf: readonly Shelf[], day: DayNumber): Shelf | null {
  let best: Shelf | null = null
  for (const candidate of shelf)
    if (
      candidate.left > 0 &&
      usable(candidate, day) &&
      (best === null || (candidate.expiresOn ?? Number.MAX_SAFE_INTEGER) < (best.expiresOn ?? Number.MAX_SAFE_INTEGER))
    )
      best = candidate
  return best
}

/** The shelf of lamps came down the other day: what was left of them is scrap, and the next ones are on their way. */
function breakLamps(shelves: readonly Shelf[][], years: StockYears, today: DayNumber): void {
  for (const shelf of shelves[RUNS_OUT] ?? []) {
    if (shelf.left === 0) continue
    years.movements.push({
      on: lastWorkdayBefore(today),
      lot: shelf.lot,
      quantity: shelf.left,
      from: 'bin',
      to: 'outside',
      reason: 'scrap',
      visit: null,
      order: null,
    })
    shelf.left = 0
  }
}

/** A few common parts ride along on every van. */
function stockVans(shelves: readonly Shelf[][], years: StockYears, today: DayNumber): void {
  for (const [technician] of SCENARIO.technicians.entries())
    for (const [part, words] of SCENARIO.parts.entries()) {
      const quantity = words.kind === null ? words.vanPar - 3 - technician : Math.min(1, words.vanPar - 1 - technician)
      const shelf = firstExpired(shelves[part] ?? [], today + 200)
      if (!shelf || quantity <= 0 || shelf.left < quantity + 6) continue
      shelf.left -= quantity
      years.movements.push({
        on: lastWorkdayBefore(today),
        lot: shelf.lot,
        quantity,
        from: 'bin',
        to: technician,
        reason: 'pull',
        visit: null,
        order: null,
      })
    }
}

/**
 * Of one part the next day's visits want at least a piece more than there is, so that the pull has somebody to choose: water got into the
 * boxes. It is the dearest one that two visits or more want, the lamp apart; without such a part nothing happens.
 */
function runShort(visits: readonly DemoVisit[], years: StockYears, today: DayNumber): void {
  const ahead = visits.filter((visit) => visit.outcome === 'booked' && visit.on > today)
  const next = Math.min(...ahead.map((visit) => visit.on))
  const fitted = ahead.filter((visit) => visit.on === next).flatMap((visit) => visit.fittings)
  const wanted = (part: number) => fitted.filter((fitting) => fitting.part === part).length
  const costOf = (part: number) => SCENARIO.parts[part]?.cost ?? 0
  const part = SCENARIO.parts
    .map((_, place) => place)
    .filter((place) => place !== RUNS_OUT && wanted(place) >= 2)
    .sort((a, b) => costOf(b) - costOf(a) || a - b)[0]
  if (part === undefined) return
  const inBins = piecesByLot(part, years, (place) => place === 'bin')
  const onVans = piecesByLot(part, years, (place) => typeof place === 'number')
  let spoilt = sum(inBins) - Math.max(0, wanted(part) - 1 - sum(onVans))
  for (const [lot, there] of inBins) {
    const quantity = Math.min(spoilt, there)
    if (quantity <= 0) continue
    spoilt -= quantity
    const lost = { lot, quantity, visit: null, order: null }
    years.movements.push({ ...lost, on: lastWorkdayBefore(today), from: 'bin', to: 'outside', reason: 'scrap' })
  }
}

const sum = (pieces: ReadonlyMap<number, number>): number => [...pieces.values()].reduce((all, each) => all + each, 0)

/** What lies of each lot of a part at some places, by all movements so far. */
function piecesByLot(
  part: number,
  { lots, movements }: StockYears,
  isThere: (place: DemoPlace) => boolean,
): Map<number, number> {
  const pieces = new Map<number, number>()
  for (const { lot, quantity, from, to } of movements) {
    if (lots[lot]?.part !== part) continue
    if (isThere(to)) pieces.set(lot, (pieces.get(lot) ?? 0) + quantity)
    if (isThere(from)) pieces.set(lot, (pieces.get(lot) ?? 0) - quantity)
  }
  return pieces
}
