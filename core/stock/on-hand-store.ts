import { type RawBuilder, sql } from 'kysely'
import type { ReadDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { LotId, OfficeId, PartId, PlaceId } from '../units/ids.ts'
import type { Cents } from '../units/money.ts'
import type { Balance } from './ledger.ts'
import type { MovedDays } from './on-hand-on.ts'

/** The first and the last day on which anything moved, along the index by day. */
export async function movedDays(db: ReadDb, officeId: OfficeId): Promise<MovedDays | null> {
  const days = db.selectFrom('movements').select('moved_on').where('office_id', '=', officeId).limit(1)
  const first = await days.orderBy('moved_on').executeTakeFirst()
  const last = await days.orderBy('moved_on', 'desc').executeTakeFirst()
  return first && last ? { first: first.moved_on, last: last.moved_on } : null
}

/** What is there now, from the kept balances. Order: lot, then place. */
export async function balancesNow(db: ReadDb, officeId: OfficeId): Promise<Balance[]> {
  return db
    .selectFrom('balances')
    .select(['lot_id as lotId', 'place_id as placeId', 'quantity'])
    .where('office_id', '=', officeId)
    .where('quantity', '>', 0)
    .orderBy('lot_id')
    .orderBy('place_id')
    .execute()
}

/** What is there now less what moved after a day: the balances of that day. */
export async function balancesBackTo(db: ReadDb, officeId: OfficeId, on: CalendarDate): Promise<Balance[]> {
  return summed(
    db,
    sql<Ends>`select lot_id, place_id, quantity from balances where office_id = ${officeId} and quantity > 0
      union all select lot_id, from_place_id, quantity from movements
        where office_id = ${officeId} and moved_on > ${on} and from_place_id is not null
      union all select lot_id, to_place_id, -quantity from movements
        where office_id = ${officeId} and moved_on > ${on} and to_place_id is not null`,
  )
}

/** The sum of the movements up to and including a day; null for all of them: what the kept balances must be equal to. */
export async function balancesSummed(db: ReadDb, officeId: OfficeId, on: CalendarDate | null): Promise<Balance[]> {
  const until = on === null ? sql`` : sql` and moved_on <= ${on}`
  return summed(
    db,
    sql<Ends>`select lot_id, to_place_id as place_id, quantity from movements
        where office_id = ${officeId}${until} and to_place_id is not null
      union all select lot_id, from_place_id, -quantity from movements
        where office_id = ${officeId}${until} and from_place_id is not null`,
  )
}

interface Ends {
  readonly lot_id: LotId
  readonly place_id: PlaceId
  readonly quantity: number
}

async function summed(db: ReadDb, ends: RawBuilder<Ends>): Promise<Balance[]> {
  const rows = await db
    .selectFrom(sql<Ends>`(${ends})`.as('ends'))
    .select((each) => ['lot_id as lotId', 'place_id as placeId', each.fn.sum<number>('quantity').as('quantity')])
    .groupBy(['lot_id', 'place_id'])
    .having((each) => each.fn.sum<number>('quantity'), '<>', 0)
    .orderBy('lot_id')
    .orderBy('place_id')
    .execute()
  return rows.map(({ lotId, placeId, quantity }) => ({ lotId, placeId, quantity: Number(quantity) }))
}

export interface LotOnHand {
  readonly lotId: LotId
  readonly partId: PartId
  readonly lot: string
  readonly expiresOn: CalendarDate | null
  readonly cost: Cents
  readonly recalled: boolean
}

/** Every lot that ever came in, by key. */
export async function everyLot(db: ReadDb, officeId: OfficeId): Promise<LotOnHand[]> {
  const rows = await db
    .selectFrom('lots')
    .select(['id as lotId', 'part_id as partId', 'code as lot', 'expires_on as expiresOn', 'cost_cents as cost'])
    .select('recalled_on as recalledOn')
    .where('office_id', '=', officeId)
    .orderBy('id')
    .execute()
  return rows.map(({ recalledOn, ...lot }) => ({ ...lot, recalled: recalledOn !== null }))
}

export interface PartName {
  readonly partId: PartId
  readonly number: string
  readonly name: string
}

export async function partNames(db: ReadDb, officeId: OfficeId): Promise<PartName[]> {
  return db
    .selectFrom('parts')
    .select(['id as partId', 'number', 'name'])
    .where('office_id', '=', officeId)
    .orderBy('number')
    .execute()
}
