import { sql } from 'kysely'
import type { ReadDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { OfficeId, PartId } from '../units/ids.ts'
import type { DueDemand, PartQuantity, StockLot } from './reorder.ts'

/** Pieces of stages that fall due until then and are not on any visit that is booked. */
export async function dueStages(db: ReadDb, officeId: OfficeId, until: CalendarDate): Promise<DueDemand[]> {
  const keyOf = (row: { partId: PartId; dueOn: CalendarDate }): string => `${row.partId}/${row.dueOn}`
  const booked = new Map((await stagesOnBookedVisits(db, officeId, until)).map((row) => [keyOf(row), row.stages]))
  return (await stagesInWant(db, officeId, until)).flatMap((row) => {
    const quantity = row.stages - (booked.get(keyOf(row)) ?? 0)
    return quantity > 0 ? [{ partId: row.partId, on: row.dueOn, quantity, booked: false }] : []
  })
}

interface StagesOfPart {
  readonly partId: PartId
  readonly dueOn: CalendarDate
  readonly stages: number
}

/**
 * The conditions of the index `stages_in_want`, word by word. Begun from the parts: each is one narrow walk along that index, which
 * holds all that is asked for.
 */
function wantingStages(db: ReadDb, officeId: OfficeId) {
  return db
    .selectFrom('parts as p')
    .innerJoin('stages as g', (join) => join.onRef('g.office_id', '=', 'p.office_id').onRef('g.part_id', '=', 'p.id'))
    .where('p.office_id', '=', officeId)
    .where('g.removed_on', 'is', null)
    .where('g.due_on', 'is not', null)
    .where('g.kind', '<>', sql.lit('tank'))
}

/** Stages that fall due until then, by part and day. */
export function stagesInWantQuery(db: ReadDb, officeId: OfficeId, until: CalendarDate) {
  return wantingStages(db, officeId)
    .where('g.due_on', '<=', until)
    .groupBy(['p.id', 'g.due_on'])
    .select(['p.id as partId', 'g.due_on as dueOn'])
    .select((each) => each.fn.countAll<number>().as('stages'))
}

async function stagesInWant(db: ReadDb, officeId: OfficeId, until: CalendarDate): Promise<StagesOfPart[]> {
  return named(await stagesInWantQuery(db, officeId, until).execute())
}

/** Of these, the ones that a booked visit is to change. */
async function stagesOnBookedVisits(db: ReadDb, officeId: OfficeId, until: CalendarDate): Promise<StagesOfPart[]> {
  const onVisits = db
    .selectFrom('visits as v')
    .innerJoin('visit_tasks as k', (join) =>
      join.onRef('k.office_id', '=', 'v.office_id').onRef('k.visit_id', '=', 'v.id'),
    )
    .where('v.office_id', '=', officeId)
    .where('v.state', '=', 'booked')
    .where('k.kind', '=', 'change')
    .where('k.stage_id', 'is not', null)
    .select('k.stage_id')
  const rows = await db
    .selectFrom('stages as g')
    .where('g.office_id', '=', officeId)
    .where('g.id', 'in', onVisits)
    .where('g.removed_on', 'is', null)
    .where('g.due_on', '<=', until)
    .where('g.kind', '<>', 'tank')
    .groupBy(['g.part_id', 'g.due_on'])
    .select(['g.part_id as partId', 'g.due_on as dueOn'])
    .select((each) => each.fn.countAll<number>().as('stages'))
    .execute()
  return named(rows)
}

function named(
  rows: readonly { partId: PartId | null; dueOn: CalendarDate | null; stages: number | string }[],
): StagesOfPart[] {
  return rows.flatMap(({ partId, dueOn, stages }) =>
    partId === null || dueOn === null ? [] : [{ partId, dueOn, stages: Number(stages) }],
  )
}

/** Whether more than so many stages have a due date; looks at no more than those. */
export async function hasManyStages(db: ReadDb, officeId: OfficeId, many: number): Promise<boolean> {
  const row = await db
    .selectFrom('stages')
    .where('office_id', '=', officeId)
    .where('removed_on', 'is', null)
    .where('due_on', 'is not', null)
    .select('id')
    .orderBy('due_on')
    .orderBy('id')
    .offset(many)
    .limit(1)
    .executeTakeFirst()
  return row !== undefined
}

/** Pieces that booked visits are planned to use, less what an open pull promised them. */
export async function bookedPieces(db: ReadDb, officeId: OfficeId, until: CalendarDate): Promise<DueDemand[]> {
  const rows = await db
    .selectFrom('visits as v')
    .innerJoin('visit_tasks as k', (join) =>
      join.onRef('k.office_id', '=', 'v.office_id').onRef('k.visit_id', '=', 'v.id'),
    )
    .leftJoin('stages as g', (join) => join.onRef('g.office_id', '=', 'k.office_id').onRef('g.id', '=', 'k.stage_id'))
    .select(['v.id as visitId', 'v.visit_on as on', 'k.quantity as quantity'])
    .select(
      sql<PartId | null>`case when k.kind = 'change' then coalesce(k.part_id, g.part_id) else k.part_id end`.as(
        'partId',
      ),
    )
    .where('v.office_id', '=', officeId)
    .where('v.state', '=', 'booked')
    .where('v.visit_on', '<=', until)
    .where('k.state', '=', 'planned')
    .orderBy('v.id')
    .execute()
  const promised = new Map<string, number>()
  for (const row of await promisedByVisit(db, officeId)) promised.set(`${row.visitId}/${row.partId}`, row.quantity)
  return rows.flatMap((row) => {
    if (row.partId === null) return []
    const key = `${row.visitId}/${row.partId}`
    const taken = Math.min(promised.get(key) ?? 0, row.quantity)
    promised.set(key, (promised.get(key) ?? 0) - taken)
    return row.quantity > taken
      ? [{ partId: row.partId, on: row.on, quantity: row.quantity - taken, booked: true }]
      : []
  })
}

async function promisedByVisit(db: ReadDb, officeId: OfficeId) {
  const rows = await db
    .selectFrom('pull_line_stops as s')
    .innerJoin('pull_lines as l', (join) =>
      join.onRef('l.office_id', '=', 's.office_id').onRef('l.id', '=', 's.pull_line_id'),
    )
    .innerJoin('pulls as p', (join) => join.onRef('p.office_id', '=', 'l.office_id').onRef('p.id', '=', 'l.pull_id'))
    .select((each) => [
      's.visit_id as visitId',
      'l.part_id as partId',
      each.fn.sum<number>('s.quantity').as('quantity'),
    ])
    .where('s.office_id', '=', officeId)
    .where('p.state', '=', 'open')
    .groupBy(['s.visit_id', 'l.part_id'])
    .execute()
  return rows.map((row) => ({ ...row, quantity: Number(row.quantity) }))
}

/** Pieces promised to open pulls, by the part that lies there. */
export async function promisedParts(db: ReadDb, officeId: OfficeId): Promise<PartQuantity[]> {
  const rows = await db
    .selectFrom('pull_lines as l')
    .innerJoin('pulls as p', (join) => join.onRef('p.office_id', '=', 'l.office_id').onRef('p.id', '=', 'l.pull_id'))
    .innerJoin('lots as t', (join) => join.onRef('t.office_id', '=', 'l.office_id').onRef('t.id', '=', 'l.lot_id'))
    .select((each) => ['t.part_id as partId', each.fn.sum<number>('l.quantity').as('quantity')])
    .where('l.office_id', '=', officeId)
    .where('p.state', '=', 'open')
    .groupBy('t.part_id')
    .execute()
  return rows.map((row) => ({ ...row, quantity: Number(row.quantity) }))
}

/** Everything in bins and on vans, by lot. */
export async function lotsInHand(db: ReadDb, officeId: OfficeId): Promise<StockLot[]> {
  const rows = await db
    .selectFrom('balances as b')
    .innerJoin('lots as l', (join) => join.onRef('l.office_id', '=', 'b.office_id').onRef('l.id', '=', 'b.lot_id'))
    .innerJoin('places as p', (join) => join.onRef('p.office_id', '=', 'b.office_id').onRef('p.id', '=', 'b.place_id'))
    .select((each) => [
      'l.part_id as partId',
      'l.expires_on as expiresOn',
      each.fn.sum<number>('b.quantity').as('quantity'),
    ])
    .select('l.recalled_on as recalledOn')
    .where('b.office_id', '=', officeId)
    .where('b.quantity', '>', 0)
    .where('p.kind', 'in', ['bin', 'van'])
    .groupBy(['l.part_id', 'l.expires_on', 'l.recalled_on'])
    .execute()
  return rows.map(({ recalledOn, quantity, ...row }) => ({
    ...row,
    recalled: recalledOn !== null,
    quantity: Number(quantity),
  }))
}

/** Pieces of orders in a state that have not come yet. */
export async function orderedPieces(db: ReadDb, officeId: OfficeId, state: 'draft' | 'sent'): Promise<PartQuantity[]> {
  const rows = await db
    .selectFrom('purchase_order_lines as l')
    .innerJoin('purchase_orders as o', (join) =>
      join.onRef('o.office_id', '=', 'l.office_id').onRef('o.id', '=', 'l.order_id'),
    )
    .select(['l.part_id as partId', sql<number>`l.quantity - l.received_quantity`.as('quantity')])
    .where('l.office_id', '=', officeId)
    .where('o.state', '=', state)
    .whereRef('l.quantity', '>', 'l.received_quantity')
    .execute()
  return rows
}

/** Visits done by day since then. */
export async function visitsDoneByDay(db: ReadDb, officeId: OfficeId, since: CalendarDate): Promise<number[]> {
  const rows = await db
    .selectFrom('visits')
    .select((each) => ['done_on', each.fn.countAll<number>().as('visits')])
    .where('office_id', '=', officeId)
    .where('state', '=', 'done')
    .where('visit_on', '>=', since)
    .groupBy('done_on')
    .execute()
  return rows.map((row) => Number(row.visits))
}

/** Pieces fitted of each part by day since then. */
export async function fittedByDay(db: ReadDb, officeId: OfficeId, since: CalendarDate): Promise<Map<PartId, number[]>> {
  const rows = await db
    .selectFrom('movements as m')
    .leftJoin('movements as c', (join) =>
      join.onRef('c.office_id', '=', 'm.office_id').onRef('c.corrects_id', '=', 'm.id'),
    )
    .select((each) => ['m.part_id as partId', 'm.moved_on as on', each.fn.sum<number>('m.quantity').as('pieces')])
    .where('m.office_id', '=', officeId)
    .where('m.reason', '=', 'fit')
    .where('m.moved_on', '>=', since)
    .where('c.id', 'is', null)
    .groupBy(['m.part_id', 'm.moved_on'])
    .execute()
  const days = new Map<PartId, number[]>()
  for (const row of rows) days.set(row.partId, [...(days.get(row.partId) ?? []), Number(row.pieces)])
  return days
}
