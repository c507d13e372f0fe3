import { setImmediate as breath } from 'node:timers/promises'
import type { OpenBooks } from '../answering.ts'
import type { ReadDb } from '../database/handles.ts'
import { type CalendarDate, daysBetween } from '../units/calendar-date.ts'
import type { OfficeId, PartId, VanId, VisitId } from '../units/ids.ts'
import { checkPickList } from './check-pick-list.ts'
import { enoughStock } from './enough-stock.ts'
import { listParts, listSubstitutes, type PartRow } from './parts-store.ts'
import { isSomethingShort, planPickListStepwise } from './pick-list.ts'
import { listVans, type VanRow } from './places-store.ts'
import {
  servedOfVisits,
  stockForPulls,
  type TaskNeed,
  tasksOfVisits,
  type VisitOfDay,
  visitsOfDay,
} from './pull-needs-store.ts'
import { needsOfVisit, type PickList, type PickListInput, type PullVan, type PullVisit } from './pull-shapes.ts'
import { inOneGo, type Stepwise } from './stepwise.ts'
import { unservedNeeds } from './unserved-needs.ts'
import { listVanPars, onTheWayToVans, roomTakenOnVans } from './van-room-store.ts'
import { weighVisits } from './weigh-visits-answers.ts'

/** A visit of the day with its stop and what it needs in all, whether that is set aside already or not. */
export interface VisitToServe extends PullVisit {
  readonly household: string
}

/** Everything a day's pulls rest on, read at one moment. */
export interface DaySeen {
  readonly on: CalendarDate
  readonly visits: readonly VisitOfDay[]
  readonly toServe: readonly VisitToServe[]
  readonly tasks: readonly TaskNeed[]
  readonly vans: readonly VanRow[]
  readonly parts: ReadonlyMap<PartId, PartRow>
  /** What the visits still lack, the stock it can come from, and what the vans always carry. */
  readonly input: PickListInput
}

type Asked = Pick<OpenBooks, 'read' | 'officeId'> | { readonly read: ReadDb; readonly officeId: OfficeId }

/**
 * Reads a day: its visits by van and stop, what they need and lack, what lies where, less what is promised, and what the vans carry. What a
 * visit is worth is looked up only where something is short.
 */
export async function readDay({ read, officeId }: Asked, on: CalendarDate): Promise<DaySeen> {
  const visits = await visitsOfDay(read, officeId, on)
  const bookedIds = visits.filter((visit) => visit.state === 'booked').map((visit) => visit.visitId)
  const tasks = await tasksOfVisits(read, officeId, bookedIds)
  const served = grouped(await servedOfVisits(read, officeId, bookedIds))
  const parts = await listParts(read, officeId)
  const substitutes = await listSubstitutes(read, officeId)
  const toServe = visitsToServe(on, visits, tasks, parts)
  const vans = (await listVans(read, officeId)).filter((van) => van.closedOn === null)
  const ofDay = new Set(toServe.map((visit) => visit.vanId))
  const pullVans = await readVans(
    { read, officeId },
    vans.filter((van) => ofDay.has(van.vanId)),
    parts,
  )
  const lookedAt = partsToLookAt(toServe, pullVans, substitutes)
  const all: PickListInput = {
    fittedOn: on,
    visits: toServe.map(({ household, ...visit }) => ({
      ...visit,
      needs: unservedNeeds(visit.needs, served.get(visit.visitId) ?? []),
    })),
    parts: parts
      .filter((part) => lookedAt.has(part.partId))
      .map(({ partId, number, spaceMillilitres }) => ({
        partId,
        partNumber: number,
        // What every visit uses is among the needs already.
        perVisitQuantity: 0,
        substitutes: substitutes.get(partId) ?? [],
        spaceMillilitres,
      })),
    stock: await stockForPulls(read, officeId, [...lookedAt]),
    vans: pullVans,
    evenIfShort: [],
  }
  const input = { ...all, stock: enoughStock(all) }
  const worth = isSomethingShort(input) ? await weighVisits({ read, officeId }, on, visits, toServe) : new Map()
  const weighed = {
    ...input,
    visits: input.visits.map((visit) => ({ ...visit, worth: worth.get(visit.visitId) ?? 1 })),
  }
  return { on, visits, toServe, tasks, vans, parts: new Map(parts.map((part) => [part.partId, part])), input: weighed }
}

/** So many plans are remembered: a day is looked at again and again while it is pulled, and the same day gives the same plan. */
const MOST_REMEMBERED = 8
const remembered = new Map<string, PickList>()

/** Plans what is still to be promised for a day, in an open transaction. The judge looks at every plan before anything is promised on it. */
export function planDay(day: DaySeen, evenIfShort: readonly VisitId[] = []): PickList {
  return inOneGo(planOfDay(day, evenIfShort))
}

/** The same for whoever only looks; others are answered meanwhile when there is much to weigh. */
export async function planDayToLookAt(day: DaySeen): Promise<PickList> {
  const steps = planOfDay(day, [])
  for (;;) {
    const step = steps.next()
    if (step.done) return step.value
    await breath()
  }
}

function* planOfDay(day: DaySeen, evenIfShort: readonly VisitId[]): Stepwise<PickList> {
  const input = { ...day.input, evenIfShort }
  const asked = JSON.stringify(input)
  const known = remembered.get(asked)
  if (known) return known
  const list = yield* planPickListStepwise(input)
  const complaints = checkPickList(input, list)
  if (complaints.length > 0) throw new Error(`An unlawful pick list for ${day.on}: ${complaints.join(' ')}`)
  remembered.set(asked, list)
  const [oldest] = remembered.keys()
  if (remembered.size > MOST_REMEMBERED && oldest !== undefined) remembered.delete(oldest)
  return list
}

function visitsToServe(
  on: CalendarDate,
  visits: readonly VisitOfDay[],
  tasks: readonly TaskNeed[],
  parts: readonly PartRow[],
): VisitToServe[] {
  const stops = stopsOf(visits)
  const ofVisit = grouped(tasks)
  const always = parts.filter((part) => part.perVisitQuantity > 0 && part.closedOn === null)
  return visits.flatMap(({ visitId, vanId, promised, startsAt, household, state }) => {
    if (vanId === null || state !== 'booked') return []
    const own = ofVisit.get(visitId) ?? []
    const needs = own.flatMap(({ partId, quantity, ownPartOnly }) =>
      partId === null ? [] : [{ partId, quantity, ownPartOnly }],
    )
    const stop = stops.get(visitId) ?? 1
    const daysLate = mostDaysLate(own, on)
    const bare = { visitId, vanId, promised, startsAt, stop, daysLate, worth: 1, household }
    return [{ ...bare, needs: needsOfVisit({ needs }, always) }]
  })
}

function grouped<Row extends { readonly visitId: VisitId }>(rows: readonly Row[]): Map<VisitId, Row[]> {
  const groups = new Map<VisitId, Row[]>()
  for (const row of rows) {
    const group = groups.get(row.visitId)
    if (group) group.push(row)
    else groups.set(row.visitId, [row])
  }
  return groups
}

/** What the vans always carry, their room, and what is on the way to them. */
async function readVans(
  { read, officeId }: Asked,
  vans: readonly VanRow[],
  parts: readonly PartRow[],
): Promise<PullVan[]> {
  const ownPars = new Map((await listVanPars(read, officeId)).map((row) => [`${row.vanId}/${row.partId}`, row.par]))
  const inUse = parts.filter((part) => part.closedOn === null)
  const onTheWay = await onTheWayToVans(read, officeId)
  const taken = vans.some((van) => van.roomMillilitres !== null) ? await roomTakenOnVans(read, officeId) : new Map()
  const sizes = new Map(parts.map((part) => [part.partId, part.spaceMillilitres ?? 0]))
  return vans.map(({ vanId, roomMillilitres }) => {
    const coming = onTheWay.filter((row) => row.vanId === vanId)
    const room = coming.reduce((sum, row) => sum + row.quantity * (sizes.get(row.partId) ?? 0), 0)
    return {
      vanId,
      roomMillilitres,
      takenMillilitres: (taken.get(vanId) ?? 0) + room,
      pars: inUse
        .map(({ partId, vanPar }) => ({ partId, quantity: ownPars.get(`${vanId}/${partId}`) ?? vanPar }))
        .filter((par) => par.quantity > 0),
      coming: coming.filter((row) => row.forPar).map(({ partId, quantity }) => ({ partId, quantity })),
    }
  })
}

/** The parts that the visits need, those that may stand in for them, and those that vans always carry. */
function partsToLookAt(
  visits: readonly VisitToServe[],
  vans: readonly PullVan[],
  substitutes: ReadonlyMap<PartId, readonly PartId[]>,
): Set<PartId> {
  const looked = new Set<PartId>()
  for (const need of visits.flatMap((visit) => visit.needs)) {
    looked.add(need.partId)
    for (const other of substitutes.get(need.partId) ?? []) looked.add(other)
  }
  for (const par of vans.flatMap((van) => van.pars)) looked.add(par.partId)
  return looked
}

/** The stop of every visit: its place among those of its van, cancelled ones left out. */
function stopsOf(visits: readonly VisitOfDay[]): Map<VisitId, number> {
  const last = new Map<VanId, number>()
  const stops = new Map<VisitId, number>()
  for (const visit of visits) {
    if (visit.vanId === null) continue
    const stop = (last.get(visit.vanId) ?? 0) + 1
    last.set(visit.vanId, stop)
    stops.set(visit.visitId, stop)
  }
  return stops
}

function mostDaysLate(tasks: readonly TaskNeed[], on: CalendarDate): number {
  const late = tasks.map((task) => (task.dueOn === null ? 0 : daysBetween(task.dueOn, on)))
  return Math.max(0, ...late)
}
