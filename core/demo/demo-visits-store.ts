import type { OpenBooks } from '../answering.ts'
import { reserveIds } from '../database/reserve-ids.ts'
import { STAGE_KIND_WORDS } from '../installations/stage-kinds.ts'
import { type DayNumber, dateOfDayNumber } from '../units/calendar-date.ts'
import {
  type LotId,
  lotIdSchema,
  type VisitId,
  type VisitTaskId,
  visitIdSchema,
  visitTaskIdSchema,
} from '../units/ids.ts'
import { celsius, flow, kilopascals, millilitres, tds } from '../units/measures.ts'
import { cents } from '../units/money.ts'
import { minutes, timeOfDay } from '../units/time-of-day.ts'
import { type DemoKeys, demoKeys } from './demo-keys.ts'
import type { HouseholdKeys, WarehouseKeys } from './demo-people-store.ts'
import type { DemoOffice, DemoReading } from './demo-records.ts'
import { insertRows } from './demo-rows-store.ts'
import { SCENARIO } from './scenario.ts'

/** A task of a past or booked visit, found again by the invoices. */
export interface DemoTask {
  readonly taskId: VisitTaskId
  readonly visit: number
  readonly stage: number
  readonly part: number | null
  readonly description: string
}

export interface VisitKeys {
  readonly visits: DemoKeys<VisitId>
  readonly lots: DemoKeys<LotId>
  readonly tasksOf: ReadonlyMap<number, readonly DemoTask[]>
}

const at = (day: number, hour: number) => `${dateOfDayNumber(day)}T${String(hour).padStart(2, '0')}:00:00.000Z`

/** Visits with their tasks and readings, and the stages' clocks as the last of them left them. */
export async function insertVisits(
  books: OpenBooks,
  office: DemoOffice,
  homes: HouseholdKeys,
  warehouse: WarehouseKeys,
): Promise<VisitKeys> {
  const { tx, dialect, officeId: office_id } = books
  const visits = demoKeys('visit', await reserveIds(tx, dialect, 'visits', office.visits.length), visitIdSchema)
  const lots = demoKeys('lot', await reserveIds(tx, dialect, 'lots', office.lots.length), lotIdSchema)
  await insertRows(
    tx,
    'lots',
    office.lots.map((lot, place) => ({
      id: lots.at(place),
      office_id,
      part_id: warehouse.parts.at(lot.part),
      code: lot.code,
      expires_on: lot.expiresOn === null ? null : dateOfDayNumber(lot.expiresOn),
      received_on: dateOfDayNumber(lot.receivedOn),
      cost_cents: lot.charged === null ? warehouseCost(lot.part) : cents(lot.charged),
      recall_note: '',
    })),
  )
  await insertRows(
    tx,
    'visits',
    office.visits.map((visit, place) => {
      const done = visit.outcome === 'done'
      return {
        id: visits.at(place),
        office_id,
        site_id: homes.sites.at(visit.household),
        technician_id: warehouse.technicians.at(visit.technician),
        visit_on: dateOfDayNumber(visit.on),
        window_from: timeOfDay(visit.windowFrom),
        window_until: timeOfDay(visit.windowUntil),
        planned_minutes: minutes(visit.minutes),
        route_position: null,
        state: visit.outcome,
        reason: visit.reason,
        promised: visit.promised ? (1 as const) : (0 as const),
        note: '',
        done_on: done ? dateOfDayNumber(visit.on) : null,
        sanitised: done && visit.fittings.some((fitting) => fitting.part === null) ? (1 as const) : (0 as const),
        leak_checked: done ? (1 as const) : (0 as const),
        remarks: done ? visit.remarks : '',
        booked_at: at(visit.bookedOn, 10),
        recorded_at: visit.outcome === 'booked' ? null : at(visit.on, 17),
      }
    }),
  )
  const tasks = await insertTasks(books, office, homes, warehouse, visits, lots)
  await insertReadings(books, office, homes, visits)
  await wearClocks(books, office, homes, visits, lots)
  return { visits, lots, tasksOf: tasks }
}

const warehouseCost = (part: number) => cents(SCENARIO.parts[part]?.cost ?? 0)

async function insertTasks(
  { tx, dialect, officeId: office_id }: OpenBooks,
  office: DemoOffice,
  homes: HouseholdKeys,
  warehouse: WarehouseKeys,
  visits: DemoKeys<VisitId>,
  lots: DemoKeys<LotId>,
): Promise<Map<number, DemoTask[]>> {
  const flat = office.visits.flatMap((visit, place) =>
    visit.fittings.map((fitting, position) => ({ visit, place, fitting, position })),
  )
  const keys = demoKeys('task', await reserveIds(tx, dialect, 'visit_tasks', flat.length), visitTaskIdSchema)
  const tasksOf = new Map<number, DemoTask[]>()
  const rows = flat.map(({ visit, place, fitting, position }, index) => {
    const kind = office.households[visit.household]?.stages[fitting.stage]?.kind ?? 'other'
    const description =
      fitting.part === null
        ? `Sanitise ${STAGE_KIND_WORDS[kind].homeowner}`
        : `Change ${STAGE_KIND_WORDS[kind].homeowner}`
    tasksOf.set(place, [
      ...(tasksOf.get(place) ?? []),
      { taskId: keys.at(index), visit: place, stage: fitting.stage, part: fitting.part, description },
    ])
    const done = visit.outcome === 'done'
    const fitted = done && fitting.part !== null
    return {
      id: keys.at(index),
      office_id,
      visit_id: visits.at(place),
      kind: fitting.part === null ? ('sanitise' as const) : ('change' as const),
      stage_id: homes.stageOf(visit.household, fitting.stage),
      part_id: fitting.part === null ? null : warehouse.parts.at(fitting.part),
      quantity: 1,
      planned_minutes: minutes(fitting.part === null ? 25 : (SCENARIO.parts[fitting.part]?.minutes ?? 8)),
      description,
      state: done ? ('done' as const) : visit.outcome === 'booked' ? ('planned' as const) : ('left' as const),
      fitted_part_id: fitted && fitting.part !== null ? warehouse.parts.at(fitting.part) : null,
      fitted_lot_id: fitted && fitting.lot !== null ? lots.at(fitting.lot) : null,
      from_place_id: !fitted
        ? null
        : fitting.fromBin
          ? warehouse.bins.at(SCENARIO.parts[fitting.part ?? 0]?.bin ?? 0)
          : warehouse.vanPlaces.at(visit.technician),
      position: position + 1,
    }
  })
  await insertRows(tx, 'visit_tasks', rows)
  return tasksOf
}

async function insertReadings(
  { tx, officeId: office_id }: OpenBooks,
  office: DemoOffice,
  homes: HouseholdKeys,
  visits: DemoKeys<VisitId>,
): Promise<void> {
  const rowOf = (reading: DemoReading, household: number, on: DayNumber, visit: VisitId | null) => ({
    office_id,
    installation_id: homes.installationOf(household, reading.unit),
    visit_id: visit,
    taken_on: dateOfDayNumber(on),
    tds_in_mg_l: tds(reading.tdsIn),
    tds_out_mg_l: tds(reading.tdsOut),
    flow_ml_min: flow(reading.flowMlMin),
    feed_kpa: kilopascals(reading.feedKpa),
    tank_kpa: kilopascals(reading.tankKpa),
    temperature_c: celsius(reading.temperatureC),
    meter_ml: reading.meterMl === null ? null : millilitres(reading.meterMl),
    unlikely: reading.unlikely ? (1 as const) : (0 as const),
    note: reading.note,
  })
  await insertRows(tx, 'readings', [
    ...office.visits.flatMap(({ readings, household, on }, place) =>
      readings.map((reading) => rowOf(reading, household, on, visits.at(place))),
    ),
    ...office.readings.map(({ reading, household, on }) => rowOf(reading, household, on, null)),
  ])
}

/** The last visit that saw to a stage set its clock, its lot and itself on the stage. */
async function wearClocks(
  { tx, officeId: office_id }: OpenBooks,
  office: DemoOffice,
  homes: HouseholdKeys,
  visits: DemoKeys<VisitId>,
  lots: DemoKeys<LotId>,
): Promise<void> {
  const last = new Map<number, { on: number; visit: number; lot: number | null }>()
  for (const [place, visit] of office.visits.entries()) {
    if (visit.outcome !== 'done') continue
    for (const fitting of visit.fittings) {
      const stage = homes.stageOf(visit.household, fitting.stage)
      if ((last.get(stage)?.on ?? 0) <= visit.on) last.set(stage, { on: visit.on, visit: place, lot: fitting.lot })
    }
  }
  for (const [place, household] of office.households.entries())
    for (const [stage] of household.stages.entries()) {
      const id = homes.stageOf(place, stage)
      const clock = last.get(id)
      if (!clock) continue
      await tx
        .updateTable('stages')
        .set({
          fitted_on: dateOfDayNumber(clock.on),
          fitted_visit_id: visits.at(clock.visit),
          fitted_lot_id: clock.lot === null ? null : lots.at(clock.lot),
        })
        .where('office_id', '=', office_id)
        .where('id', '=', id)
        .execute()
    }
}
