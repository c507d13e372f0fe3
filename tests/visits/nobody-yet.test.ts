import { describe, expect, test } from 'vitest'
import type { Route } from '../../core/routes/routes-contract.ts'
import { checkBooking } from '../../core/visits/check-booking.ts'
import type { BookingCheck, Week } from '../../core/visits/visits-contract.ts'
import { aBookedVisit, aroundBooking, aWantedBooking } from '../builders/a-booking.ts'
import { aPartInStock, aServicedHousehold, aTechnicianWithVan } from '../builders/a-serviced-household.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { databases, type EachDatabase } from '../data/each-database.ts'

async function asked<Answer>(office: AnOffice, path: string, input: unknown = {}): Promise<Answer> {
  const { status, json } = await office.ask(path, input)
  expect(status, JSON.stringify(json)).toBe(200)
  return json as Answer
}

/** An office with one technician and households due for a change. */
async function withHomes(open: EachDatabase['open'], count: number) {
  const office = await anOffice(await open())
  const db = office.database.write
  const { technicianId, vanPlaceId } = await aTechnicianWithVan(db)
  const { partId } = await aPartInStock(db, 'P-1005', 'Sediment filter, 10 in', vanPlaceId)
  const homes: Awaited<ReturnType<typeof aServicedHousehold>>[] = []
  for (let place = 0; place < count; place += 1)
    homes.push(
      await aServicedHousehold(db, {
        reference: `AV-${place}`,
        name: `Abernathy-Vance, ${'ABCDEFG'[place]}`,
        parts: [{ kind: 'sediment', partId }],
      }),
    )
  const wanted = (place: number, own: object = {}) => ({
    siteId: homes[place]?.siteId,
    technicianId,
    on: '2026-12-02',
    windowFrom: 480,
    windowUntil: 1020,
    tasks: [{ kind: 'change', stageId: homes[place]?.stageIds[0], description: '', minutes: 0 }],
    ownMinutes: null,
    note: '',
    promised: true,
    setAside: ['VISIT_HOUSEHOLD_BOOKED'],
    daySeen: null,
    ...own,
  })
  const book = async (place: number, own: object = {}) =>
    (await asked<{ visitId: number }>(office, 'visits/book', wanted(place, own))).visitId
  return { office, db, technicianId, wanted, book }
}

const places = async (office: AnOffice) =>
  (
    await office.database.read
      .selectFrom('visits')
      .select(['id', 'route_position as place', 'route_by_hand as byHand'])
      .orderBy('id')
      .execute()
  ).map(({ place, byHand }) => `${place ?? '-'}${byHand === 1 ? ' by hand' : ''}`)

test('VIS-24 with nobody yet, nobody’s day speaks against it; the past and the household still do', () => {
  const own = aBookedVisit({ siteId: aWantedBooking().siteId, technicianId: null })
  expect(checkBooking(aWantedBooking({ technician: null }), aroundBooking({ others: [aBookedVisit()] }))).toEqual([])
  const found = checkBooking(aWantedBooking({ technician: null, taskCount: 0 }), aroundBooking({ others: [own] }))
  expect(found.map(({ code }) => code)).toEqual(['VISIT_NOTHING_TO_DO', 'VISIT_HOUSEHOLD_BOOKED'])
})

describe.each(databases)('visits that nobody has, and days in order, on $name', ({ open }) => {
  test('VIS-24 it stands in the week under nobody yet, is not pulled for, and is until someone has it', async () => {
    const { office, technicianId, wanted, book } = await withHomes(open, 1)
    const visitId = await book(0, { technicianId: null })
    const week = await asked<Week>(office, 'visits/week', { on: '2026-12-02' })
    expect(week.rows.at(-1)?.technician).toBeNull()
    expect(week.rows.at(-1)?.days[2]?.visits).toMatchObject([{ visitId }])
    expect(await asked(office, 'visits/nobodyYet')).toMatchObject([{ visitId, on: '2026-12-02', technicianId: null }])
    const pulled = async () =>
      await asked<{ vans: unknown[]; withoutVan: unknown[] }>(office, 'pull/day', { on: '2026-12-02' })
    expect(await pulled()).toMatchObject({ vans: [], withoutVan: [{ visitId, technician: null }] })
    expect(await places(office)).toEqual(['-'])
    await asked(office, 'visits/move', { ...wanted(0), visitId, version: 1, why: '' })
    expect(await asked(office, 'visits/nobodyYet')).toEqual([])
    expect((await pulled()).vans).toHaveLength(1)
    expect(await places(office)).toEqual(['1'])
    await asked(office, 'visits/move', { ...wanted(0), technicianId: null, visitId, version: 2, why: 'ill' })
    expect(await asked(office, 'visits/nobodyYet')).toMatchObject([{ visitId }])
    expect(await places(office)).toEqual(['-'])
    expect(technicianId).toBeGreaterThan(0)
  })

  test('VIS-25 the office’s own minutes count, and what they would be is said beside them', async () => {
    const { office, wanted, book } = await withHomes(open, 1)
    const check = { ...wanted(0, { ownMinutes: 90 }), visitId: null }
    expect(await asked<BookingCheck>(office, 'visits/check', check)).toMatchObject({ minutes: 90, builtUpMinutes: 28 })
    const visitId = await book(0, {
      ownMinutes: 90,
      tasks: [
        { kind: 'measure', stageId: null, description: 'Take the readings', minutes: 10 },
        { kind: 'other', stageId: null, description: 'Look at the tap', minutes: 15 },
      ],
    })
    expect(await asked(office, 'visits/one', { visitId })).toMatchObject({
      visit: {
        plannedMinutes: 90,
        tasks: [
          { kind: 'measure', label: 'Take the readings', minutes: 10 },
          { kind: 'other', label: 'Look at the tap', minutes: 15 },
        ],
      },
    })
  })

  test('VIS-26 every booking, move and cancelling leaves the day in order; by hand it is kept until it is worked out', async () => {
    const { office, technicianId, wanted, book } = await withHomes(open, 4)
    const day = { on: '2026-12-02', technicianId }
    const route = async () => (await asked<Route[]>(office, 'routes/day', day))[0]
    const order = async () => (await route())?.stops.map((stop) => stop.visit.visitId)
    const ids = [await book(0), await book(1), await book(2)]
    expect((await places(office)).toSorted()).toEqual(['1', '2', '3'])
    const byHand = [ids[2], ids[0], ids[1]]
    await asked(office, 'routes/order', { ...day, visitIds: byHand })
    expect(await order()).toEqual(byHand)
    expect(await places(office)).toEqual(['2 by hand', '3 by hand', '1 by hand'])
    expect((await route())?.workedOut).toMatchObject({ lateMinutes: 0 })
    const late = await book(3)
    expect((await order())?.filter((id) => id !== late)).toEqual(byHand)
    expect(await office.ask('routes/order', { ...day, visitIds: byHand })).toMatchObject({
      status: 422,
      json: { data: { code: 'ROUTE_DAY_CHANGED' } },
    })
    await asked(office, 'visits/cancel', { visitId: ids[0], version: 1, why: 'sold the house' })
    await asked(office, 'visits/move', { ...wanted(3, { on: '2026-12-03' }), visitId: late, version: 1, why: '' })
    expect(await order()).toEqual([ids[2], ids[1]])
    expect(await places(office)).toEqual(['-', '2 by hand', '1 by hand', '1'])
    await asked(office, 'routes/workOut', day)
    expect((await route())?.workedOut).toBeNull()
    expect(await places(office)).toEqual(expect.arrayContaining(['-', '1', '2', '1']))
  })
})
