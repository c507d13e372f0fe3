import { describe, expect, test } from 'vitest'
import { FIRST_OFFICE } from '../../core/desk-of-office.ts'
import type { HouseholdMeasurements, TakenReading } from '../../core/due/measurement-shapes.ts'
import type { HouseholdRules } from '../../core/due/rules-shapes.ts'
import { NOTHING_MEASURED } from '../../core/water/figures.ts'
import { newStage, someCustomer, someSite, someUnit } from '../builders/a-household.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'

/** A household of six on hard water, whose membrane was changed four years ago; with ways to look and to measure. */
async function aHousehold(office: AnOffice) {
  const { siteId } = (
    await office.ask('households/create', { customer: someCustomer(), site: someSite({ hardness: 200 as never }) })
  ).json as { siteId: number }
  const { installationId } = (
    await office.ask('installations/create', {
      siteId,
      fields: someUnit({ fittedOn: null }),
      stages: [
        newStage('sediment', '2026-08-01'),
        newStage('membrane', '2022-11-01'),
        newStage('tank', '2026-08-01'),
        newStage('post-carbon', '2026-08-01'),
      ],
    })
  ).json as { installationId: number }
  const measurements = async () => {
    const { units } = (await office.ask('due/measurements', { siteId })).json as HouseholdMeasurements
    const [unit] = units
    if (!unit) throw new Error('the unit is gone')
    return unit
  }
  const rulesOf = async (kind: string) => {
    const { units } = (await office.ask('due/rules', { siteId })).json as HouseholdRules
    const stage = units[0]?.stages.find((other) => other.kind === kind)
    if (!stage) throw new Error('the stage is gone')
    return stage
  }
  const take = (takenOn: string, figures: Partial<TakenReading['figures']> | object, confirmed = false) =>
    office.ask('due/takeReading', {
      installationId,
      takenOn,
      figures: { ...NOTHING_MEASURED, ...figures },
      note: '',
      confirmed,
    })
  /** The due date of a kind of stage as it stands in the books. */
  const stored = async (kind: 'membrane' | 'tank' | 'sediment') =>
    office.database.read
      .selectFrom('stages')
      .select(['due_on', 'due_rule'])
      .where('office_id', '=', FIRST_OFFICE)
      .where('kind', '=', kind)
      .executeTakeFirstOrThrow()
  return { siteId, installationId, measurements, rulesOf, take, stored }
}

describe.each(databases)('readings on $name', ({ open }) => {
  test('DUE-31 a reading taken by itself moves the due date in the same breath', async () => {
    const office = await anOffice(await open())
    const home = await aHousehold(office)
    expect(await home.stored('membrane')).toEqual({ due_on: '2024-11-01', due_rule: 'feed-water' })
    for (const [takenOn, tdsOut] of [
      ['2024-05-01', 32],
      ['2025-05-01', 31],
      ['2026-05-01', 33],
    ] as const)
      expect((await home.take(takenOn, { tdsIn: 400, tdsOut })).json).toMatchObject({ unlikely: false })
    expect(await home.stored('membrane')).toEqual({ due_on: '2027-11-01', due_rule: 'measurement' })
    const unit = await home.measurements()
    expect(unit.rejection).toMatchObject({ finding: 'holding', readings: 3, lastReadOn: '2026-05-01' })
    expect(unit.rejection.trend?.line).toHaveLength(2)
    expect(unit.readings.map(({ takenOn, visitId }) => ({ takenOn, visitId }))).toEqual([
      { takenOn: '2026-05-01', visitId: null },
      { takenOn: '2025-05-01', visitId: null },
      { takenOn: '2024-05-01', visitId: null },
    ])
    const membrane = await home.rulesOf('membrane')
    expect(membrane.answers.map(({ rule, standing }) => `${rule} ${standing}`)).toEqual([
      'volume silent',
      'feed-water set-aside-by-readings',
      'measurement decides',
    ])
  })

  test('DUE-31 a reading is struck out with a reason, stays to be seen, and can be put back', async () => {
    const office = await anOffice(await open())
    const home = await aHousehold(office)
    const { readingId } = (await home.take('2026-11-20', { tdsIn: 400, tdsOut: 120 })).json as { readingId: number }
    expect(await home.stored('membrane')).toEqual({ due_on: '2026-11-20', due_rule: 'measurement' })
    expect(await home.stored('tank')).toEqual({ due_on: '2026-11-20', due_rule: 'with-membrane' })
    expect((await office.ask('due/strikeReading', { readingId, reason: ' ' })).json).toMatchObject({
      data: { code: 'READING_NEEDS_REASON' },
    })
    expect((await office.ask('due/strikeReading', { readingId, reason: 'measured at the wrong tap' })).status).toBe(200)
    expect((await home.stored('membrane')).due_rule).toBe('feed-water')
    const struck = await home.measurements()
    expect(struck.readings[0]).toMatchObject({
      readingId,
      struck: { on: '2026-12-01', reason: 'measured at the wrong tap' },
    })
    expect(struck.rejection).toMatchObject({ finding: 'none', points: [] })
    expect((await office.ask('due/strikeReading', { readingId, reason: 'again' })).json).toMatchObject({
      data: { code: 'READING_STRUCK' },
    })
    expect((await office.ask('due/restoreReading', { readingId })).status).toBe(200)
    expect((await home.stored('membrane')).due_rule).toBe('measurement')
    const { events } = (await office.ask('due/household', { siteId: home.siteId })).json as {
      events: { sentence: string }[]
    }
    expect(events.slice(0, 3).map(({ sentence }) => sentence)).toEqual([
      'The reading of Nov 20, 2026 at The unit under the kitchen sink was put back',
      'The reading of Nov 20, 2026 at The unit under the kitchen sink was struck out: measured at the wrong tap',
      'The unit under the kitchen sink was measured on Nov 20, 2026',
    ])
  })

  test('VIS-17 a reading that cannot be is refused, taken by itself too', async () => {
    const office = await anOffice(await open())
    const home = await aHousehold(office)
    expect((await home.take('2026-11-20', { tdsIn: 40, tdsOut: 400 })).json).toMatchObject({
      data: { code: 'READING_PRODUCT_ABOVE_FEED' },
    })
    expect((await home.take('2026-11-20', { tdsIn: 0, tdsOut: 0 })).json).toMatchObject({
      data: { code: 'READING_ZERO_FEED' },
    })
    expect((await home.take('2026-11-20', {})).json).toMatchObject({ data: { code: 'READING_EMPTY' } })
    expect((await home.take('2026-12-02', { tdsIn: 400 })).json).toMatchObject({ data: { code: 'READING_IN_FUTURE' } })
    expect((await home.measurements()).readings).toEqual([])
  })

  test('VIS-18 an unlikely one is asked about, kept with its mark when it is confirmed, and moves no date', async () => {
    const office = await anOffice(await open())
    const home = await aHousehold(office)
    const asked = await home.take('2026-11-20', { tdsIn: 400, tdsOut: 300 })
    expect(asked.json).toMatchObject({ data: { code: 'READING_UNLIKELY' } })
    expect((await home.take('2026-11-20', { tdsIn: 400, tdsOut: 300 }, true)).json).toMatchObject({ unlikely: true })
    expect((await home.stored('membrane')).due_rule).toBe('feed-water')
    expect((await home.measurements()).rejection.points).toMatchObject([{ percent: 25, counts: false, unlikely: true }])
  })

  test('DUE-22 a meter that is read twice tells the use of the unit', async () => {
    const office = await anOffice(await open())
    const home = await aHousehold(office)
    await home.take('2026-08-01', { meter: 1_000_000 })
    await home.take('2026-11-09', { meter: 1_600_000 })
    const { units } = (await office.ask('due/rules', { siteId: home.siteId })).json as HouseholdRules
    expect(units[0]?.use).toEqual({ perDay: 6000, from: 'meter', words: '1.6 gal a day by the meter' })
    expect((await home.take('2026-11-20', { meter: 1_500_000 })).json).toMatchObject({
      data: { code: 'READING_METER_BELOW' },
    })
  })

  test('DUE-32 two readings on one day are both kept, and their mean counts', async () => {
    const office = await anOffice(await open())
    const home = await aHousehold(office)
    await home.take('2026-11-20', { tdsIn: 400, tdsOut: 100 })
    await home.take('2026-11-20', { tdsIn: 400, tdsOut: 92 })
    const unit = await home.measurements()
    expect(unit.rejection).toMatchObject({ finding: 'too-few', readings: 1, latestPercent: 76 })
    expect(unit.remarks).toEqual([
      '2 readings on November 20, 2026: their mean counts. Strike out the one that is wrong.',
    ])
  })
})
