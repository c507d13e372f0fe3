import type { OpenBooks } from '../answering.ts'
import { reserveIds } from '../database/reserve-ids.ts'
import { dateOfDayNumber } from '../units/calendar-date.ts'
import { type MovementId, type PullId, pullIdSchema, pullLineIdSchema } from '../units/ids.ts'
import { type DemoKeys, demoKeys } from './demo-keys.ts'
import type { WarehouseKeys } from './demo-people-store.ts'
import type { DemoOffice, DemoPull } from './demo-records.ts'
import { insertRows } from './demo-rows-store.ts'
import type { VisitKeys } from './demo-visits-store.ts'
import { SCENARIO } from './scenario.ts'

const at = (day: number, time: string) => `${dateOfDayNumber(day)}T${time}:00.000Z`

type FloorKeys = Pick<VisitKeys, 'visits' | 'lots'>

/** The vans of the last weeks as they were loaded, with their lines, their totes and who went without; before the movements of them. */
export async function insertPulls(
  books: OpenBooks,
  office: DemoOffice,
  warehouse: WarehouseKeys,
  { visits, lots }: FloorKeys,
): Promise<DemoKeys<PullId>> {
  const { tx, dialect, officeId: office_id } = books
  const pulls = demoKeys('pull', await reserveIds(tx, dialect, 'pulls', office.pulls.length), pullIdSchema)
  await insertRows(
    tx,
    'pulls',
    office.pulls.map((pull, place) => ({
      id: pulls.at(place),
      office_id,
      pull_on: dateOfDayNumber(pull.visitsOn),
      van_id: warehouse.vans.at(pull.technician),
      state: 'confirmed' as const,
      begun_at: at(pull.loadedOn, '15:20'),
      by_whom: pull.by,
      confirmed_at: at(pull.loadedOn, '16:00'),
    })),
  )
  await insertPullLines(books, office, warehouse, { visits, lots }, pulls)
  await insertRows(
    tx,
    'pull_shortages',
    office.pulls.flatMap((pull, place) =>
      pull.shortages.map(({ visit, part }) => ({
        office_id,
        pull_id: pulls.at(place),
        visit_id: visits.at(visit),
        part_id: warehouse.parts.at(part),
        quantity: 1,
      })),
    ),
  )
  return pulls
}

async function insertPullLines(
  { tx, dialect, officeId: office_id }: OpenBooks,
  office: DemoOffice,
  warehouse: WarehouseKeys,
  { visits, lots }: FloorKeys,
  pulls: DemoKeys<PullId>,
): Promise<void> {
  const flat = office.pulls.flatMap((pull, place) =>
    pull.lines.map((line, position) => ({ pull, place, line, position })),
  )
  const keys = demoKeys('pull line', await reserveIds(tx, dialect, 'pull_lines', flat.length), pullLineIdSchema)
  await insertRows(
    tx,
    'pull_lines',
    flat.map(({ pull, place, line, position }, index) => {
      const part = office.lots[line.lot]?.part ?? 0
      const quantity = line.stops.reduce((sum, stop) => sum + stop.quantity, 0)
      return {
        id: keys.at(index),
        office_id,
        pull_id: pulls.at(place),
        position: position + 1,
        part_id: warehouse.parts.at(part),
        lot_id: lots.at(line.lot),
        place_id: warehouse.bins.at(SCENARIO.parts[part]?.bin ?? 0),
        quantity,
        pulled_quantity: quantity,
        pulled_at: at(pull.loadedOn, `15:${25 + Math.min(30, position * 2)}`),
        pulled_by: pull.by,
      }
    }),
  )
  await insertRows(
    tx,
    'pull_line_stops',
    flat.flatMap(({ pull, line }, index) => {
      const stopOf = stopsOfDay(office, pull)
      return line.stops.map(({ visit, quantity }) => ({
        office_id,
        pull_line_id: keys.at(index),
        visit_id: visits.at(visit),
        stop: stopOf(visit),
        quantity,
      }))
    }),
  )
}

/** A visit begins a stop of ninety minutes, so that its hour says which stop of the day it is, from 1. */
function stopsOfDay(office: DemoOffice, pull: DemoPull): (visit: number) => number {
  const begins = (visit: number) => office.visits[visit]?.windowFrom ?? 0
  const all = new Set(pull.lines.flatMap(({ stops }) => stops.map(({ visit }) => visit)))
  const inOrder = [...all].toSorted((a, b) => begins(a) - begins(b))
  return (visit) => inOrder.indexOf(visit) + 1
}

/** Rounds of counting with what was counted; an approved difference points to its movement. */
export async function insertCounts(
  { tx, dialect, officeId: office_id }: OpenBooks,
  office: DemoOffice,
  warehouse: WarehouseKeys,
  { lots, movements }: { readonly lots: VisitKeys['lots']; readonly movements: DemoKeys<MovementId> },
): Promise<void> {
  const ids = await reserveIds(tx, dialect, 'stock_counts', office.counts.length)
  await insertRows(
    tx,
    'stock_counts',
    office.counts.map((count, place) => ({
      id: ids[place] ?? 0,
      office_id,
      count_on: dateOfDayNumber(count.on),
      name: count.name,
      state: count.state,
      begun_at: at(count.on, '16:20'),
      begun_by: count.by,
      ended_at: count.state === 'open' ? null : at(count.on, '17:05'),
      ended_by: count.state === 'open' ? '' : count.by,
    })),
  )
  const movementOf = (count: number, lot: number) => {
    const place = office.movements.findIndex((movement) => movement.count === count && movement.lot === lot)
    return place < 0 ? null : movements.at(place)
  }
  await insertRows(
    tx,
    'stock_count_lines',
    office.counts.flatMap((count, place) =>
      count.lines.map((line) => {
        const part = office.lots[line.lot]?.part ?? 0
        return {
          office_id,
          count_id: ids[place] ?? 0,
          place_id: warehouse.bins.at(SCENARIO.parts[part]?.bin ?? 0),
          part_id: warehouse.parts.at(part),
          lot_id: lots.at(line.lot),
          why: `All of ${count.name} is counted.`,
          counted: line.counted,
          books_said: line.booksSaid,
          counted_at: at(count.on, '16:45'),
          counted_by: count.by,
          note: line.note,
          movement_id: movementOf(place, line.lot),
        }
      }),
    ),
  )
}
