import type { WriteDb } from '../../core/database/handles.ts'
import { FIRST_OFFICE } from '../../core/desk-of-office.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import type { LotId, PartId, PlaceId, SiteId, StageId } from '../../core/units/ids.ts'
import { aLot, aPart, aPlace, aVan } from './a-warehouse.ts'
import type { AnOffice } from './an-office.ts'

const office_id = FIRST_OFFICE

export interface HomeWanted {
  readonly name: string
  readonly town?: string
  readonly street?: string
  readonly postalCode?: string
  readonly noMail?: boolean
  readonly moved?: boolean
  readonly mailTown?: string
  readonly monthsAway?: string
  readonly stages?: number
}

export interface AHome {
  readonly siteId: SiteId
  readonly stageIds: readonly StageId[]
}

/** A home whose stages hold pieces of the lot, each taken from `place` by a movement. */
export async function aHomeWith(
  tx: WriteDb,
  lot: { lotId: LotId; partId: PartId; placeId: PlaceId },
  wanted: HomeWanted,
): Promise<AHome> {
  const { id: customer_id } = await tx
    .insertInto('customers')
    .values({
      office_id,
      ...{ reference: wanted.name, kind: 'person', sort_name: wanted.name, letter_name: wanted.name },
      ...{ salutation: `Dear ${wanted.name}`, phone: '555-0142', phone_note: 'mornings', email: '', note: '' },
      ...{ mail_line1: wanted.mailTown ? '1 Quay Street' : '', mail_line2: '', mail_town: wanted.mailTown ?? '' },
      ...{ mail_region: 'XX', mail_postal_code: '00199', mail_country: '' },
      mail_elsewhere: wanted.mailTown ? 1 : 0,
      no_mail: wanted.noMail ? 1 : 0,
      moved_on: wanted.moved ? calendarDate('2026-10-01') : null,
      ...{ payment_terms_days: null, created_on: calendarDate('2021-05-01'), closed_on: null },
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  const { id: siteId } = await tx
    .insertInto('sites')
    .values({
      ...{ office_id, customer_id, line1: wanted.street ?? '18 Weirside Lane', line2: '', region: 'XX', country: '' },
      town: wanted.town ?? 'Tollard Mill',
      postal_code: wanted.postalCode ?? '00142',
      months_away: wanted.monthsAway ?? '',
      ...{ latitude: null, longitude: null, access_note: '', water_source: 'mains', hardness_mg_l: null },
      ...{ feed_tds_mg_l: null, people: 2, daily_ml: null, due_on: null, closed_on: null },
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  const { id: installation_id } = await tx
    .insertInto('installations')
    .values({
      ...{ office_id, site_id: siteId, name: 'Kitchen', installed_on: calendarDate('2021-05-08'), removed_on: null },
      ...{ recovery_percent: null, people: null, daily_ml: null, interval_months: null, note: '' },
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  const stageIds: StageId[] = []
  for (let position = 1; position <= (wanted.stages ?? 1); position += 1) {
    const stage = {
      ...{ office_id, installation_id, position, kind: 'carbon' as const, label: '', part_id: lot.partId },
      ...{ fitted_on: calendarDate('2026-05-12'), fitted_lot_id: lot.lotId },
    }
    stageIds.push((await tx.insertInto('stages').values(stage).returning('id').executeTakeFirstOrThrow()).id)
    await tx
      .insertInto('movements')
      .values({
        ...{ office_id, part_id: lot.partId, lot_id: lot.lotId, from_place_id: lot.placeId, to_place_id: null },
        ...{ quantity: 1, reason: 'fit', moved_on: calendarDate('2026-05-12'), moved_at: '2026-05-12T10:00:00.000Z' },
        ...{ by_whom: 'test', note: '' },
      })
      .execute()
  }
  return { siteId, stageIds }
}

/** A lot of twenty in a bin, three of them on a van whose driver works Monday to Friday, 8 to 5; and twelve of another lot. */
export async function aLotToRecall(office: AnOffice) {
  const tx = office.database.write
  const partId = await aPart(tx, 'CB-10', { name: 'Carbon block' })
  const bin = await aPlace(tx, 'A-02-1', 10)
  const van = await aVan(tx, 'Van 1', 'Ilse Rademaker')
  const lotId = await aLot(tx, { partId, code: 'K-77', placeId: bin, pieces: 20 })
  const good = await aLot(tx, { partId, code: 'K-78', placeId: bin, pieces: 12 })
  await office.ask('stock/move', { lotId, fromPlaceId: bin, toPlaceId: van.placeId, quantity: 3, note: '' })
  const home = (wanted: HomeWanted) => aHomeWith(tx, { lotId, partId, placeId: bin }, wanted)
  return { tx, partId, bin, van, lotId, good, home }
}

export const RECALL = { why: 'the end caps come loose', notice: 'FS-2026-11' }
