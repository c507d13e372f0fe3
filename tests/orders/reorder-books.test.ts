import { describe, expect, test } from 'vitest'
import { learnReplies, type RepliesOnRecord } from '../../core/orders/letters-to-visits.ts'
import type { OpenedProposal, ShortParts } from '../../core/orders/proposal-shapes.ts'
import { type HouseholdStanding, visitedBy } from '../../core/orders/reply-course.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { aMailedHousehold } from '../builders/a-mailed-household.ts'
import { aBookedVisit, aLot, aPart, aPlace, aSupplier } from '../builders/a-warehouse.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { endOfWork } from '../builders/end-of-work.ts'
import { MANNER, NO_RECORD, outcome } from '../builders/some-replies.ts'
import { databases } from '../data/each-database.ts'

const TODAY = '2026-11-25'

async function shortParts(office: AnOffice): Promise<ShortParts> {
  return (await office.ask('orders/proposals')).json as ShortParts
}

async function partOf(office: AnOffice, number: string) {
  const row = await office.database.read
    .selectFrom('parts')
    .select('id')
    .where('number', '=', number)
    .executeTakeFirst()
  if (!row) throw new Error(`The test has no part ${number}`)
  return row.id
}

async function wantedOf(office: AnOffice, number: string) {
  const { json } = await office.ask('orders/proposal', { partId: await partOf(office, number) })
  return (json as OpenedProposal).proposal?.wanted ?? null
}

/** The chance of a visit in the 17 days of lead time and review, by what is on record; by default nothing is. */
function chanceOf(standing: HouseholdStanding, own: Partial<RepliesOnRecord> = {}): number {
  return visitedBy(standing, learnReplies({ ...NO_RECORD, ...own }, MANNER), MANNER, 17)[17] ?? 0
}

describe.each(databases)('reorder proposals on $name', ({ open }) => {
  test('ORD-51 ORD-62 ORD-64 each household counts by its letters as they stand in the books, at once for two pieces of its part', async () => {
    const books = await open()
    const office = await anOffice(books, TODAY)
    await aMailedHousehold(books, { reference: 'A', dueOn: '2026-12-10' })
    await aMailedHousehold(books, { reference: 'B', dueOn: '2026-12-30' })
    await aMailedHousehold(books, { reference: 'C', dueOn: '2026-12-10', noMail: true })
    const gone = await aMailedHousehold(books, { reference: 'D', dueOn: '2026-12-10' })
    await books.write
      .updateTable('customers')
      .set({ moved_on: calendarDate('2026-11-01') })
      .where('id', '=', gone.customerId)
      .execute()
    const first = await wantedOf(office, 'P-A')
    expect(first).toMatchObject({ from: 0, possible: 2, booked: 0, level: 2 })
    expect(first?.chances[2]).toBeCloseTo(chanceOf({ path: 'to-write', firstIn: 0 }), 12)
    expect(first?.chances[1]).toBe(0)
    // Due in five weeks: its letter goes out in five days.
    expect((await wantedOf(office, 'P-B'))?.chances[2]).toBeCloseTo(chanceOf({ path: 'to-write', firstIn: 5 }), 12)
    expect((await wantedOf(office, 'P-C'))?.chances[2]).toBeGreaterThan(0)
    expect(await wantedOf(office, 'P-D')).toBeNull()
    const { groups, enough } = await shortParts(office)
    expect(groups.map((group) => [group.supplier, group.proposals.map((row) => row.order)])).toEqual([
      ['No supplier yet', [2, 2, 2]],
    ])
    expect(enough).toBe(1)
  })

  test('ORD-62 ORD-64 a letter that is written, and a visit that is booked for it, change the proposal at once', async () => {
    const books = await open()
    const office = await anOffice(books, TODAY)
    const { siteId } = await aMailedHousehold(books, { reference: 'A', dueOn: '2026-11-20' })
    const written = await endOfWork(office, 'write-letters', { kinds: ['first'], customerIds: null })
    expect(written.state).toBe('done')
    await books.write
      .updateTable('letters')
      .set({ written_on: calendarDate('2026-11-15') })
      .execute()
    const silent = await wantedOf(office, 'P-A')
    expect(silent?.chances[2]).toBeCloseTo(
      // The letter itself is on record: ten days without an answer.
      chanceOf({ path: 'written', kind: 'first', daysAgo: 10 }, { outcomes: [outcome('first', 10, false)] }),
      12,
    )
    const stage = await books.read
      .selectFrom('stages')
      .select(['id', 'part_id'])
      .where('kind', '=', 'carbon')
      .executeTakeFirst()
    const visitId = await aBookedVisit(books.write, { siteId, technicianId: null, on: '2026-12-01', needs: [] })
    await books.write
      .insertInto('visit_tasks')
      .values({
        office_id: 1 as never,
        visit_id: visitId,
        kind: 'change',
        stage_id: stage?.id ?? null,
        part_id: null,
        quantity: 1,
        description: '',
        state: 'planned',
        fitted_part_id: null,
        fitted_lot_id: null,
        from_place_id: null,
        position: 1,
      })
      .execute()
    // The carbon filter is booked; for the sediment filter the letters begin again the day after that visit, in seven days.
    const booked = await wantedOf(office, 'P-A')
    expect(booked).toMatchObject({ booked: 1, possible: 1, from: 1 })
    expect(booked?.chances[1]).toBeCloseTo(
      chanceOf(
        { path: 'to-write', firstIn: 7 },
        { outcomes: [outcome('first', 5, true)], delays: [{ days: 11, visits: 1 }] },
      ),
      12,
    )
  })

  test('ORD-60 ORD-61 the record is read from the letters and bookings of the books', async () => {
    const books = await open()
    const office = await anOffice(books, TODAY)
    const homes = []
    for (const reference of ['A', 'B', 'C'])
      homes.push(await aMailedHousehold(books, { reference, dueOn: '2026-11-20' }))
    await endOfWork(office, 'write-letters', { kinds: ['first'], customerIds: null })
    await books.write
      .updateTable('letters')
      .set({ written_on: calendarDate('2026-09-01') })
      .execute()
    const [home] = homes
    if (!home) throw new Error('The test expects a home')
    await aBookedVisit(books.write, { siteId: home.siteId, technicianId: null, on: '2026-09-20', needs: [] })
    await books.write.updateTable('visits').set({ booked_at: '2026-09-12T09:00:00.000Z' }).execute()
    const { json } = await office.ask('orders/proposal', { partId: await partOf(office, 'P-B') })
    const { record } = json as OpenedProposal
    expect(record.within.map(({ days, letters, booked }) => [days, letters, booked])).toEqual([
      [14, 3, 1],
      [30, 3, 1],
      [70, 3, 1],
    ])
    expect(record.sentences[0]).toMatch(
      /^1 of 3 households that had a first letter in the last 2 years booked within 30 days; with your figure of 70 %/,
    )
    // A visit that was cancelled was no answer.
    await books.write.updateTable('visits').set({ state: 'cancelled' }).execute()
    const again = (await office.ask('orders/proposal', { partId: await partOf(office, 'P-B') })).json as OpenedProposal
    expect(again.record.within.map(({ booked }) => booked)).toEqual([0, 0, 0])
  })

  test('ORD-3 ORD-52 ORD-54 ORD-55 lots, breaks and shelf life are read from the books', async () => {
    const books = await open()
    const office = await anOffice(books, TODAY)
    const tx = books.write
    const partId = await aPart(tx, 'P-1', { shelfMonths: 24 })
    const bin = await aPlace(tx, 'A-01-1', 1)
    await aLot(tx, { partId, code: 'old', expiresOn: '2026-12-01', placeId: bin, pieces: 5 })
    await aSupplier(tx, 'Orrin Supply', [{ partId, price: 500, packSize: 5 }])
    const { siteId } = await aMailedHousehold(books, { reference: 'A', dueOn: '2028-11-20' })
    await aBookedVisit(tx, { siteId, technicianId: null, on: '2026-11-30', needs: [[partId, 2]] })
    await aBookedVisit(tx, { siteId, technicianId: null, on: '2026-12-05', needs: [[partId, 6]] })
    const { groups } = await shortParts(office)
    expect(groups[0]?.proposals[0]).toMatchObject({
      usable: 2,
      short: 6,
      order: 10,
      packSize: 5,
      listPrice: 500,
      cost: 5000,
    })
  })
})
