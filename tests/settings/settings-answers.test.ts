import { describe, expect, test } from 'vitest'
import { judgeSetting } from '../../core/settings/judge-setting.ts'
import { DEFAULT_SETTINGS } from '../../core/settings/office-settings.ts'
import { boundsOfSetting, boundsText } from '../../core/settings/setting-bounds.ts'
import { SETTING_WORDS } from '../../core/settings/setting-words.ts'
import type { SettingsSheet } from '../../core/settings/settings-contract.ts'
import { MOVES_DUE_DATES } from '../../core/settings/what-settings-move.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { aBilledHousehold, aRecordedVisit } from '../builders/a-billed-household.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'

const sheet = async (office: AnOffice) => (await office.ask('settings/sheet')).json as SettingsSheet
const refusal = (code: string) => ({ status: 422, json: { data: { code } } })
const ilse = {
  name: 'Ilse Rademaker',
  shortName: 'Ilse R.',
  phone: '555-0111',
  workdays: '12345',
  startsAt: 480,
  endsAt: 1020,
  minutesADay: 480,
}

test('SET-1 every setting has a name, a sentence and a place, once', () => {
  const words = Object.values(SETTING_WORDS).flat()
  expect(words.map((each) => each.name).sort()).toEqual(Object.keys(DEFAULT_SETTINGS).sort())
  for (const { label, does } of words) expect([label.length > 0, /^[A-Z].*\.$/.test(does)], label).toEqual([true, true])
})

test('SET-1 every figure says its bounds in the unit it is typed in, and the usual value lies within them', () => {
  for (const { name, typed } of Object.values(SETTING_WORDS).flat()) {
    const { least, most } = boundsOfSetting(name)
    if (['choice', 'text', 'workdays'].includes(typed.kind)) {
      expect(boundsText(name, DEFAULT_SETTINGS), name).toBe('')
      continue
    }
    expect(
      [least, most].every((bound) => bound !== null),
      name,
    ).toBe(true)
    expect(Number(DEFAULT_SETTINGS[name]), name).toBeGreaterThanOrEqual(least ?? 0)
    expect(Number(DEFAULT_SETTINGS[name]), name).toBeLessThanOrEqual(most ?? 0)
  }
  expect(boundsText('graceDays', DEFAULT_SETTINGS)).toBe('0 to 3,650 days')
  expect(boundsText('taxRate', DEFAULT_SETTINGS)).toBe('0 to 100 %')
  expect(boundsText('callOutCents', DEFAULT_SETTINGS)).toBe('$0.00 to $100,000.00')
  expect(boundsText('dayStartsAt', DEFAULT_SETTINGS)).toBe('')
})

test('SET-2 a setting keeps its bounds, and those of the settings it goes with', () => {
  const why = (name: keyof typeof DEFAULT_SETTINGS, value: unknown) => {
    const judged = judgeSetting(DEFAULT_SETTINGS, name, value)
    return judged.ok ? null : judged.problem.sentence
  }
  expect(why('taxRate', 300_000)).toBe('Tax: this must be 100 % or less.')
  expect(why('smallHouseholdPeople', 5)).toContain('fewer people than a large one')
  expect(why('dayEndsAt', 100)).toContain('ends before it begins')
  expect(why('finalLetterAfterDays', 10)).toContain('after the second one')
  expect(why('graceDays', -1)).toContain('0 or more')
  expect(why('currency', 'dollars')).toContain('not understood')
  expect(why('graceDays', 45)).toBeNull()
  expect(why('replaceRejectionPercent', 95)).toContain('healthy above where it is replaced')
  expect(why('callOutCents', -100)).toBe('The call: this must be 0 or more.')
})

describe.each(databases)('settings on $name', ({ open }) => {
  test('SET-1 SET-3 a setting is changed, a stale change is refused, and it goes back to the usual value', async () => {
    const office = await anOffice(await open())
    const change = (from: unknown, to: unknown) => office.ask('settings/change', { name: 'callOutCents', from, to })
    expect((await change(6400, 7000)).status).toBe(200)
    expect((await sheet(office)).values.callOutCents).toBe(7000)
    expect(await change(6400, 8000)).toMatchObject(refusal('SETTING_CHANGED'))
    expect(await change(7000, -1.5)).toMatchObject(refusal('SETTING_NOT_LIKE_THIS'))
    expect((await change(7000, null)).status).toBe(200)
    expect(await office.database.read.selectFrom('settings').select('name').execute()).toEqual([])
    const log = await office.database.read.selectFrom('events').select('sentence').execute()
    expect(log.map((each) => each.sentence)).toEqual([
      'The call was changed',
      'The call was put back to the usual value',
    ])
  })

  test('SET-1 SET-2 what counts when a part is short is kept in whole points within its bounds, and goes back to the usual', async () => {
    const office = await anOffice(await open())
    const change = (name: string, from: unknown, to: unknown) => office.ask('settings/change', { name, from, to })
    const own = {
      shortVisitPoints: [100, 1],
      shortDayLatePoints: [10, 0],
      shortMostDaysLate: [90, 365],
      shortOurWordPoints: [300, 10_000],
      shortDrivenMinutePoints: [2, 100],
    } as const
    for (const [name, [from, to]] of Object.entries(own)) expect((await change(name, from, to)).status, name).toBe(200)
    expect((await sheet(office)).values).toMatchObject(
      Object.fromEntries(Object.entries(own).map(([name, [, to]]) => [name, to])),
    )
    for (const [name, [, from]] of Object.entries(own)) {
      for (const bad of [-1, 2.5, 10_001]) expect((await change(name, from, bad)).status, `${name} ${bad}`).toBe(422)
      expect((await change(name, from, null)).status, name).toBe(200)
    }
    expect(await change('shortVisitPoints', 100, 0)).toMatchObject(refusal('SETTING_NOT_LIKE_THIS'))
    expect((await sheet(office)).values).toMatchObject(
      Object.fromEntries(Object.entries(own).map(([name, [from]]) => [name, from])),
    )
  })

  test('SET-4 what due dates rest on recomputes them in the same transaction', async () => {
    const office = await anOffice(await open())
    expect(MOVES_DUE_DATES.has('usualPeople')).toBe(true)
    expect((await office.ask('settings/change', { name: 'usualPeople', from: 3, to: 4 })).status).toBe(200)
    const rule = { stageKind: 'sediment', basis: 'household', monthsMost: 10, monthsLeast: 5 }
    expect((await office.ask('settings/changeInterval', { stageKind: 'sediment', rule })).status).toBe(200)
    expect((await sheet(office)).intervalRules[0]).toEqual(rule)
    expect(
      await office.ask('settings/changeInterval', { stageKind: 'sediment', rule: { ...rule, monthsLeast: 0 } }),
    ).toMatchObject(refusal('SETTING_NOT_LIKE_THIS'))
    await office.ask('settings/changeInterval', { stageKind: 'sediment', rule: null })
    expect((await sheet(office)).intervalRules[0]).toMatchObject({ monthsMost: 12, monthsLeast: 6 })
  })

  test('SET-3 the address is changed by the one who saw it last', async () => {
    const office = await anOffice(await open())
    const { address, addressVersion: version } = await sheet(office)
    expect(
      (await office.ask('settings/changeAddress', { address: { ...address, phone: '555-0101' }, version })).status,
    ).toBe(200)
    expect((await sheet(office)).address.phone).toBe('555-0101')
    expect(await office.ask('settings/changeAddress', { address, version })).toMatchObject(refusal('RECORD_CHANGED'))
  })

  test('SET-5 who works here has workdays, hours and days off; nobody leaves while visits are booked with them', async () => {
    const office = await anOffice(await open())
    const { technicianId } = (
      await office.ask('settings/saveTechnician', { technicianId: null, version: 0, form: ilse })
    ).json as { technicianId: number }
    expect(
      (await office.ask('settings/saveTechnician', { technicianId, version: 1, form: { ...ilse, phone: '555-0112' } }))
        .status,
    ).toBe(200)
    expect(await office.ask('settings/saveTechnician', { technicianId, version: 1, form: ilse })).toMatchObject(
      refusal('RECORD_CHANGED'),
    )
    const { dayOffId } = (
      await office.ask('settings/addDayOff', {
        technicianId,
        fromOn: '2026-12-24',
        untilOn: '2026-12-27',
        reason: 'away',
      })
    ).json as { dayOffId: number }
    expect((await sheet(office)).technicians[0]).toMatchObject({
      phone: '555-0112',
      version: 2,
      daysOff: [{ fromOn: '2026-12-24', untilOn: '2026-12-27', reason: 'away' }],
    })
    await office.ask('settings/removeDayOff', { dayOffId })
    const household = await aBilledHousehold(office.database)
    const visit = await aRecordedVisit(office.database, household, [])
    await office.database.write
      .updateTable('visits')
      .set({
        state: 'booked',
        visit_on: calendarDate('2026-12-10'),
        technician_id: (await sheet(office)).technicians[0]?.technicianId ?? null,
      })
      .where('id', '=', visit.visitId)
      .execute()
    expect(await office.ask('settings/technicianLeaves', { technicianId, leftOn: '2026-12-05' })).toMatchObject(
      refusal('TECHNICIAN_HAS_VISITS'),
    )
    expect((await office.ask('settings/technicianLeaves', { technicianId, leftOn: '2026-12-31' })).status).toBe(200)
    expect((await sheet(office)).technicians[0]).toMatchObject({ leftOn: '2026-12-31', daysOff: [] })
  })
})
