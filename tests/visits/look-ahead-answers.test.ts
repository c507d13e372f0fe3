import { describe, expect, test } from 'vitest'
import type { OpenDatabase } from '../../core/database/handles.ts'
import { FIRST_OFFICE } from '../../core/desk-of-office.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import type { SiteId } from '../../core/units/ids.ts'
import { minutes, timeOfDay } from '../../core/units/time-of-day.ts'
import { insertVisit, replacePlannedTasks } from '../../core/visits/booking-store.ts'
import { checkLookAhead } from '../../core/visits/check-look-ahead.ts'
import { type LookAhead, lookAheadSchema } from '../../core/visits/look-ahead-shapes.ts'
import { aPlannedHousehold } from '../builders/a-planned-household.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'

async function aheadOf(office: AnOffice): Promise<LookAhead> {
  const ahead = lookAheadSchema.parse((await office.ask('desk/lookAhead')).json)
  expect(checkLookAhead(ahead)).toEqual([])
  return ahead
}

async function hire({ write }: OpenDatabase): Promise<void> {
  const { id } = await write
    .insertInto('technicians')
    .values({
      office_id: FIRST_OFFICE,
      ...{ name: 'Ilse Ravndal', short_name: 'Ilse R.', phone: '', workdays: '12345', left_on: null },
      ...{ starts_at: timeOfDay(480), ends_at: timeOfDay(1020), minutes_a_day: minutes(480) },
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  await write
    .insertInto('days_off')
    .values({
      office_id: FIRST_OFFICE,
      technician_id: id,
      from_on: calendarDate('2026-12-24'),
      until_on: calendarDate('2026-12-25'),
      reason: '',
    })
    .execute()
}

async function book({ write }: OpenDatabase, siteId: SiteId, on: string): Promise<void> {
  const visitId = await insertVisit(
    write,
    FIRST_OFFICE,
    {
      siteId,
      technicianId: null,
      on: calendarDate(on),
      ...{ windowFrom: timeOfDay(480), windowUntil: timeOfDay(600), minutes: minutes(50), promised: true, note: '' },
    },
    '2026-12-01T12:00:00.000Z',
  )
  const stage = await write
    .selectFrom('stages as s')
    .innerJoin('installations as i', 'i.id', 's.installation_id')
    .select('s.id')
    .where('i.site_id', '=', siteId)
    .where('s.kind', '=', 'carbon')
    .executeTakeFirstOrThrow()
  await replacePlannedTasks(write, FIRST_OFFICE, visitId, [
    { kind: 'change', stageId: stage.id, partId: null, description: '', minutes: minutes(8) },
    { kind: 'measure', stageId: null, partId: null, description: '', minutes: minutes(5) },
  ])
}

describe.each(databases)('the weeks ahead on $name', ({ open }) => {
  test('AHEAD-2 they are counted from the kept plans, by kind, with a drive to each visit', async () => {
    const office = await anOffice(await open())
    await hire(office.database)
    await aPlannedHousehold(office.database, {
      reference: 'A',
      visits: [
        { on: '2027-01-13', latestOn: '2027-02-12', minutes: 44 },
        { on: '2027-09-01', latestOn: '2027-10-01', minutes: 30 },
      ],
    })
    await aPlannedHousehold(office.database, {
      reference: 'B',
      visits: [{ on: '2027-01-14', latestOn: '2027-02-13', minutes: 44 }],
    })
    await aPlannedHousehold(office.database, { reference: 'C', visits: [] })
    const ahead = await aheadOf(office)
    expect(
      ahead.weeks.flatMap((week) => (week.planned.visits > 0 ? [[week.monday, week.planned.visits]] : [])),
    ).toEqual([
      ['2027-01-11', 2],
      ['2027-08-30', 1],
    ])
    const week = ahead.weeks.find(({ monday }) => monday === '2027-01-11')
    // Two visits of 44 minutes with the usual drive of 20 to each.
    expect(week).toMatchObject({ planned: { minutes: 128 }, households: 2, hours: 2400 })
    expect(week?.stages).toEqual([
      { kind: 'carbon', count: 2 },
      { kind: 'sediment', count: 2 },
      { kind: 'tank', count: 2 },
    ])
    // The second visit of a household is planned, but nobody is written to for it now.
    expect(ahead.weeks.find(({ monday }) => monday === '2027-08-30')?.households).toBe(0)
    expect(ahead.weeks.find(({ monday }) => monday === '2026-12-21')?.hours).toBe(1440)
    expect(ahead).toMatchObject({ households: 3, notPlanned: 0, technicians: 1 })
  })

  test('AHEAD-3 the grace of the settings says how far a visit can be moved, not before today', async () => {
    const office = await anOffice(await open())
    await hire(office.database)
    const visit = { on: '2026-12-09', latestOn: '2027-01-08', minutes: 44 }
    await aPlannedHousehold(office.database, { reference: 'A', visits: [visit] })
    const { weeks } = await aheadOf(office)
    expect(weeks[1]?.couldGo.map(({ to }) => to)).toEqual([0, 2, 3, 4, 5])
  })

  test('AHEAD-2 a booked household is counted once, by its booking', async () => {
    const office = await anOffice(await open())
    await hire(office.database)
    const { siteId } = await aPlannedHousehold(office.database, {
      reference: 'A',
      visits: [
        { on: '2027-01-13', latestOn: '2027-02-12', minutes: 44 },
        { on: '2027-09-01', latestOn: '2027-10-01', minutes: 30 },
      ],
    })
    await book(office.database, siteId, '2026-12-16')
    const { weeks } = await aheadOf(office)
    expect(weeks[2]).toMatchObject({
      booked: { visits: 1, minutes: 70 },
      planned: { visits: 0 },
      stages: [{ kind: 'carbon', count: 1 }],
    })
    expect(weeks.reduce((sum, week) => sum + week.planned.visits, 0)).toBe(1)
    expect(weeks.find(({ monday }) => monday === '2027-01-11')?.planned.visits).toBe(0)
  })

  test('AHEAD-7 a household whose grace is over stands with the late ones, and so does a plan that was overtaken', async () => {
    const office = await anOffice(await open())
    await hire(office.database)
    const forcedToday = [{ on: '2026-12-01', latestOn: '2026-12-01', minutes: 44 }]
    await aPlannedHousehold(office.database, { reference: 'A', dueOn: '2026-10-20', visits: forcedToday })
    await aPlannedHousehold(office.database, {
      reference: 'B',
      dueOn: '2026-10-25',
      visits: [{ on: '2026-11-20', latestOn: '2026-11-24', minutes: 44 }],
    })
    // Due on the first day of the grace that ends today: not late yet.
    await aPlannedHousehold(office.database, { reference: 'C', dueOn: '2026-11-01', visits: forcedToday })
    const ahead = await aheadOf(office)
    expect(ahead.late).toMatchObject({ visits: 2, minutes: 128, caughtUpBy: '2026-11-30' })
    expect(ahead.weeks[0]).toMatchObject({ planned: { visits: 1 }, households: 1 })
  })

  test('AHEAD-8 the Due list opened from a week holds the households that were counted there, and no other', async () => {
    const office = await anOffice(await open())
    await hire(office.database)
    const later = { on: '2027-09-01', latestOn: '2027-10-01', minutes: 30 }
    const days = [
      ['2026-12-01', '2026-12-01', '2026-10-20'],
      ['2026-12-01', '2026-12-05', '2026-11-05'],
      ['2026-11-28', '2026-12-28', '2026-11-28'],
      ['2026-12-06', '2027-01-05', '2026-12-06'],
      ['2026-12-07', '2027-01-06', '2026-12-07'],
      ['2027-01-13', '2027-02-12', '2027-01-13'],
      ['2027-01-17', '2027-02-16', '2027-01-17'],
    ] as const
    for (const [index, [on, latestOn, dueOn]] of days.entries())
      await aPlannedHousehold(office.database, {
        reference: `H${index}`,
        dueOn,
        visits: [{ on, latestOn, minutes: 44 }, later],
      })
    const booked = await aPlannedHousehold(office.database, {
      reference: 'booked',
      visits: [{ on: '2027-01-12', latestOn: '2027-02-11', minutes: 44 }],
    })
    await book(office.database, booked.siteId, '2027-01-12')
    const ahead = await aheadOf(office)
    const counted = async (planned: string) => {
      const filter = { withinDays: 28, towns: [], stages: [], letters: 'any', search: '', planned }
      const page = { sort: 'dueOn', descending: false, after: null, limit: 60 }
      const { rows } = (await office.ask('due/list', { ...filter, ...page })).json as { rows: unknown[] }
      expect((await office.ask('due/count', filter)).json).toMatchObject({ total: rows.length })
      return rows.length
    }
    for (const week of ahead.weeks.filter(({ planned }) => planned.visits > 0))
      expect([week.monday, await counted(week.monday)]).toEqual([week.monday, week.households])
    expect(ahead.weeks.map(({ households }) => households).filter((count) => count > 0)).toEqual([3, 1, 2])
    expect([await counted('late'), ahead.late.visits]).toEqual([1, 1])
  })

  test('AHEAD-2 a household without a plan is counted as missing', async () => {
    const office = await anOffice(await open())
    const { siteId } = await aPlannedHousehold(office.database, { reference: 'A', dueOn: '2027-02-01', visits: [] })
    await office.database.write.deleteFrom('site_plans').where('site_id', '=', siteId).execute()
    expect(await aheadOf(office)).toMatchObject({ households: 1, notPlanned: 1 })
  })
})
