import type { DayNumber } from '../units/calendar-date.ts'
import { lastWorkdayBefore } from './demo-calendar.ts'
import type { DemoFitting, DemoMovement, DemoPull, DemoVisit, StockYears } from './demo-records.ts'
import { SCENARIO } from './scenario.ts'

/** Pulls are in the books for so long: the office began to pull by lists then. */
export const PULLED_DAYS = 84
/** Somebody goes without at most every so many days. */
const SHORT_APART_DAYS = 15
const SHORT_LEAST_AGO = 6

/** Who loads a van: each of the warehouse has days of their own. */
export function warehouseHand(day: DayNumber): string {
  return SCENARIO.warehouse[day % 5 < 3 ? 0 : 1] ?? ''
}

const isPieceOfPull = ({ reason, visit }: DemoMovement): boolean => reason === 'pull' && visit !== null

/**
 * Now and then a visit goes without when its van is loaded: all there was of the part was wet and set aside overnight, and when it turned
 * out dry in the morning the technician took the piece from its bin. Only where no other van wanted the part that day and none came.
 */
export function leaveSomeShort(visits: readonly DemoVisit[], years: StockYears, today: DayNumber): void {
  const byPart: DemoMovement[][] = SCENARIO.parts.map(() => [])
  for (const movement of years.movements) byPart[years.lots[movement.lot]?.part ?? -1]?.push(movement)
  const isYoung = ({ on }: DemoMovement) => on >= today - PULLED_DAYS && on <= today - SHORT_LEAST_AGO
  const pieces = years.movements.filter((movement) => isPieceOfPull(movement) && isYoung(movement))
  const notPulled = new Set<DemoMovement>()
  let notBefore = today - PULLED_DAYS
  for (const movement of pieces.toSorted((a, b) => a.on - b.on)) {
    if (movement.on < notBefore) continue
    const visit = visits[movement.visit ?? -1]
    const fitting = visit?.fittings.find(({ lot }) => lot === movement.lot)
    const same = byPart[years.lots[movement.lot]?.part ?? -1] ?? []
    if (!visit || !fitting || isBusy(same, movement, visit.on)) continue
    goWithout({ movement, visit, fitting, same }, years)
    notPulled.add(movement)
    notBefore = movement.on + SHORT_APART_DAYS
  }
  const left = years.movements.filter((movement) => !notPulled.has(movement))
  years.movements.splice(0, years.movements.length, ...left)
}

/** Whether anything else of the part came, went or was pulled between the loading of the van and the day of the visit. */
function isBusy(same: readonly DemoMovement[], movement: DemoMovement, until: DayNumber): boolean {
  return same.some(
    (other) => other !== movement && other.on >= movement.on && other.on < until && other.reason !== 'fit',
  )
}

interface Without {
  readonly movement: DemoMovement
  readonly visit: DemoVisit
  readonly fitting: DemoFitting
  /** All movements of the part. */
  readonly same: readonly DemoMovement[]
}

function goWithout({ movement, visit, fitting, same }: Without, years: StockYears): void {
  const there = new Map<number, number>()
  for (const { on, lot, quantity, from, to } of same) {
    if (on >= movement.on) continue
    if (to === 'bin') there.set(lot, (there.get(lot) ?? 0) + quantity)
    if (from === 'bin') there.set(lot, (there.get(lot) ?? 0) - quantity)
  }
  const nothing = { visit: null, order: null, reason: 'move' } as const
  for (const [lot, quantity] of there) {
    if (quantity === 0) continue
    const aside = { ...nothing, lot, quantity }
    years.movements.push({ ...aside, on: movement.on, from: 'bin', to: 'quarantine', note: 'the boxes are wet' })
    years.movements.push({ ...aside, on: visit.on, from: 'quarantine', to: 'bin', note: 'dry inside, fit for use' })
  }
  fitting.fromBin = true
  const fit = years.movements.findIndex(
    (other) => other.reason === 'fit' && other.visit === movement.visit && other.lot === movement.lot,
  )
  const fitted = years.movements[fit]
  if (fitted) years.movements[fit] = { ...fitted, from: 'bin' }
}

/** Pieces that were pulled one by one become loads: a movement a lot and van, and in the last weeks a pull with its lines. */
export function loadVans(visits: readonly DemoVisit[], years: StockYears, today: DayNumber): void {
  const loads = new Map<string, DemoMovement[]>()
  for (const movement of years.movements) {
    if (!isPieceOfPull(movement)) continue
    const key = `${visits[movement.visit ?? 0]?.on}/${movement.to}`
    const load = loads.get(key)
    if (load) load.push(movement)
    else loads.set(key, [movement])
  }
  const others = years.movements.filter((movement) => !isPieceOfPull(movement))
  years.movements.splice(0, years.movements.length, ...others)
  for (const pieces of loads.values()) loadVan(pieces, visits, years, today)
}

function loadVan(
  pieces: readonly DemoMovement[],
  visits: readonly DemoVisit[],
  years: StockYears,
  today: DayNumber,
): void {
  const [first] = pieces
  const visitsOn = visits[first?.visit ?? 0]?.on ?? 0
  if (!first || typeof first.to !== 'number') return
  const lines = linesOf(pieces, visits, years)
  const common = { on: first.on, from: 'bin', to: first.to, reason: 'pull', visit: null, order: null } as const
  const isKept = visitsOn >= today - PULLED_DAYS
  const pull = isKept ? { pull: years.pulls.length } : {}
  for (const { lot, stops } of lines)
    years.movements.push({ ...common, ...pull, lot, quantity: stops.reduce((sum, { quantity }) => sum + quantity, 0) })
  if (!isKept) return
  years.pulls.push({
    technician: first.to,
    visitsOn,
    loadedOn: lastWorkdayBefore(visitsOn),
    by: warehouseHand(first.on),
    lines,
    shortages: shortagesOf(first.to, visitsOn, visits),
  })
}

/** A line a lot in the order of the walk, its totes in the order of the day. */
function linesOf(pieces: readonly DemoMovement[], visits: readonly DemoVisit[], years: StockYears): DemoPull['lines'] {
  const lots = new Map<number, Map<number, number>>()
  for (const { lot, visit } of pieces) {
    const stops = lots.get(lot) ?? new Map<number, number>()
    stops.set(visit ?? 0, (stops.get(visit ?? 0) ?? 0) + 1)
    lots.set(lot, stops)
  }
  const binOf = (lot: number) => SCENARIO.parts[years.lots[lot]?.part ?? 0]?.bin ?? 0
  return [...lots]
    .toSorted(([a], [b]) => binOf(a) - binOf(b) || a - b)
    .map(([lot, stops]) => ({
      lot,
      stops: [...stops]
        .map(([visit, quantity]) => ({ visit, quantity }))
        .toSorted((a, b) => (visits[a.visit]?.windowFrom ?? 0) - (visits[b.visit]?.windowFrom ?? 0)),
    }))
}

function shortagesOf(technician: number, on: DayNumber, visits: readonly DemoVisit[]): DemoPull['shortages'] {
  return visits.flatMap((visit, place) =>
    visit.technician !== technician || visit.on !== on
      ? []
      : visit.fittings.flatMap(({ part, fromBin }) => (fromBin && part !== null ? [{ visit: place, part }] : [])),
  )
}
