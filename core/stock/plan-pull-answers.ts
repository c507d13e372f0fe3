import type { OpenBooks } from '../answering.ts'
import type { ReadDb } from '../database/handles.ts'
import { type CalendarDate, daysBetween } from '../units/calendar-date.ts'
import type { OfficeId, PartId, VanId, VisitId } from '../units/ids.ts'
import { checkPickList } from './check-pick-list.ts'
import { listParts, listSubstitutes, type PartRow } from './parts-store.ts'
import { planPickList } from './pick-list.ts'
import { listVans, type VanRow } from './places-store.ts'
import {
  servedOfVisits,
  stockForPulls,
  type TaskNeed,
  tasksOfVisits,
  type VisitOfDay,
  visitsOfDay,
} from './pull-needs-store.ts'
import { needsOfVisit, type PickList, type PickListInput, type PullVisit } from './pull-shapes.ts'
import { unservedNeeds } from './unserved-needs.ts'

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
  /** What the visits still lack, and the stock it can come from. */
  readonly input: PickListInput
}

type Asked = Pick<OpenBooks, 'read' | 'officeId'> | { readonly read: ReadDb; readonly officeId: OfficeId }

/** Reads a day: its visits by van and stop, what they need and lack, and what lies where, less what is promised. */
export async function readDay({ read, officeId }: Asked, on: CalendarDate): Promise<DaySeen> {
  const visits = await visitsOfDay(read, officeId, on)
  const booked = visits.filter((visit) => visit.state === 'booked')
  const bookedIds = booked.map((visit) => visit.visitId)
  const tasks = await tasksOfVisits(read, officeId, bookedIds)
  const served = await servedOfVisits(read, officeId, bookedIds)
  const parts = await listParts(read, officeId)
  const substitutes = await listSubstitutes(read, officeId)
  const pullParts = parts.map((part) => ({
    partId: part.partId,
    partNumber: part.number,
    perVisitQuantity: part.closedOn === null ? part.perVisitQuantity : 0,
    substitutes: substitutes.get(part.partId) ?? [],
    spaceMillilitres: null,
  }))
  const stops = stopsOf(visits)
  const toServe = booked.flatMap((visit) => {
    if (visit.vanId === null) return []
    const own = tasks.filter((task) => task.visitId === visit.visitId)
    const needs = own.flatMap((task) =>
      task.partId === null ? [] : [{ partId: task.partId, quantity: task.quantity }],
    )
    const { visitId, vanId, promised, startsAt, household } = visit
    const bare = {
      visitId,
      vanId,
      promised,
      startsAt,
      stop: stops.get(visitId) ?? 1,
      daysLate: daysLate(own, on),
      needs,
      worth: 1,
    }
    return [{ ...bare, household, needs: needsOfVisit(bare, pullParts) }]
  })
  const lacking = toServe.map((visit) => ({
    ...visit,
    needs: unservedNeeds(
      visit.needs,
      served.filter((each) => each.visitId === visit.visitId),
    ),
  }))
  return {
    on,
    visits,
    toServe,
    tasks,
    vans: (await listVans(read, officeId)).filter((van) => van.closedOn === null),
    parts: new Map(parts.map((part) => [part.partId, part])),
    input: {
      fittedOn: on,
      visits: lacking,
      // What every visit uses is among the needs already.
      parts: pullParts.map((part) => ({ ...part, perVisitQuantity: 0 })),
      vans: [],
      evenIfShort: [],
      stock: await stockForPulls(read, officeId, partsToLookAt(toServe, substitutes)),
    },
  }
}

/** The parts that the visits need, and those that may stand in for them. */
function partsToLookAt(visits: readonly VisitToServe[], substitutes: ReadonlyMap<PartId, readonly PartId[]>): PartId[] {
  const needed = new Set(visits.flatMap((visit) => visit.needs.map((need) => need.partId)))
  return [...new Set([...needed].flatMap((partId) => [partId, ...(substitutes.get(partId) ?? [])]))]
}

/** Plans what is still to be promised for a day. The judge looks at every plan before anything is promised on it. */
export function planDay(day: DaySeen, evenIfShort: readonly VisitId[] = []): PickList {
  const input = { ...day.input, evenIfShort }
  const list = planPickList(input)
  const complaints = checkPickList(input, list)
  if (complaints.length > 0) throw new Error(`An unlawful pick list for ${day.on}: ${complaints.join(' ')}`)
  return list
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

function daysLate(tasks: readonly TaskNeed[], on: CalendarDate): number {
  const late = tasks.map((task) => (task.dueOn === null ? 0 : daysBetween(task.dueOn, on)))
  return Math.max(0, ...late)
}
