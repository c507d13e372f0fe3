import fc from 'fast-check'
import { expect, test } from 'vitest'
import { celsius, flow, kilopascals, tds } from '../../core/units/measures.ts'
import {
  correctedFlow,
  type MeasuredFlow,
  STANDARD_CONDITIONS,
  usualConditions,
} from '../../core/water/corrected-flow.ts'
import { drivingPressure } from '../../core/water/driving-pressure.ts'

const NOTHING_ELSE: MeasuredFlow = {
  flow: flow(150),
  feedPressure: null,
  backPressure: null,
  temperature: null,
  tdsIn: null,
  tdsOut: null,
  recoveryPercent: null,
}
const measured = (own: Partial<MeasuredFlow>): MeasuredFlow => ({ ...NOTHING_ELSE, ...own })
const everything = (own: Partial<MeasuredFlow> = {}) => measured({ ...STANDARD_CONDITIONS, flow: flow(150), ...own })

test('WAT-13 at the standard conditions a flow stays what it is', () => {
  // NSF/ANSI 58, as told in Water Conditioning & Purification, Jul 2002: 50 psi and 750 mg/L.
  expect(STANDARD_CONDITIONS.feedPressure).toBeCloseTo(50 * 6.894757293168, 9)
  const put = correctedFlow(everything())
  expect(put.corrected).toBeCloseTo(150, 9)
  expect(put.taken).toEqual([])
})

test('WAT-13 cold water alone is divided out: 87.6 mL/min at 10 degrees are 150 at 25', () => {
  const put = correctedFlow(everything({ flow: flow(150 * 0.58413), temperature: celsius(10) }))
  expect(put.corrected).toBeCloseTo(150, 0)
  expect(put.temperatureFactor).toBeCloseTo(0.584, 3)
})

test('WAT-13 pressure alone is put in proportion, that of the tank included', () => {
  const standard = drivingPressure(STANDARD_CONDITIONS)
  const low = correctedFlow(
    everything({ flow: flow(150 * ((standard - 100) / standard)), backPressure: kilopascals(100) }),
  )
  expect(low.corrected).toBeCloseTo(150, 9)
  expect(low.drivingPressure).toBeCloseTo(standard - 100, 9)
})

test('WAT-13 what was not measured is taken from what is usual at the unit, and said', () => {
  const put = correctedFlow(measured({ temperature: celsius(12), tdsIn: tds(400), tdsOut: tds(30) }), {
    ...STANDARD_CONDITIONS,
    feedPressure: kilopascals(420),
  })
  expect(put.taken).toEqual(['feedPressure', 'backPressure', 'recoveryPercent'])
  expect(put.conditions).toEqual({
    feedPressure: 420,
    backPressure: 0,
    temperature: 12,
    tdsIn: 400,
    tdsOut: 30,
    recoveryPercent: 25,
  })
})

test('WAT-13 usual is the middle of what was measured at the unit, an open tap, and else the standard', () => {
  const usual = usualConditions([
    measured({ feedPressure: kilopascals(300), backPressure: kilopascals(60), temperature: celsius(8) }),
    measured({ feedPressure: kilopascals(420), temperature: celsius(14) }),
    measured({ feedPressure: kilopascals(400) }),
  ])
  expect(usual).toEqual({ ...STANDARD_CONDITIONS, feedPressure: 400, temperature: 11 })
  expect(usualConditions([])).toEqual(STANDARD_CONDITIONS)
})

test('WAT-13 with hardly any drive left there is nothing to compare', () => {
  const put = correctedFlow(everything({ feedPressure: kilopascals(80), tdsIn: tds(1500) }))
  expect(put.corrected).toBeNull()
  expect(put.drivingPressure).toBeLessThan(0)
})

const conditions = fc.record({
  feedPressure: fc.integer({ min: 150, max: 700 }).map(kilopascals),
  backPressure: fc.integer({ min: 0, max: 60 }).map(kilopascals),
  temperature: fc.integer({ min: 2, max: 38 }).map(celsius),
  tdsIn: fc.integer({ min: 10, max: 800 }).map(tds),
  tdsOut: fc.integer({ min: 0, max: 10 }).map(tds),
  recoveryPercent: fc.integer({ min: 5, max: 60 }),
})

test('WAT-13 one membrane gives one corrected flow, whatever the day is like', () => {
  fc.assert(
    fc.property(conditions, fc.integer({ min: 40, max: 400 }), (day, atStandard) => {
      // What this membrane gives on such a day, by the same physics forwards.
      const given = correctedFlow({ ...day, flow: flow(100) })
      if (given.corrected === null) return
      const onTheDay = flow((100 * atStandard) / given.corrected)
      expect(correctedFlow({ ...day, flow: onTheDay }).corrected).toBeCloseTo(atStandard, 6)
    }),
  )
})

test('WAT-13 twice the flow is twice the corrected flow, and colder or weaker conditions raise it', () => {
  fc.assert(
    fc.property(conditions, fc.integer({ min: 1, max: 400 }), (day, at) => {
      const corrected = (own: Partial<MeasuredFlow>) => correctedFlow({ ...day, flow: flow(at), ...own }).corrected
      const plain = corrected({})
      if (plain === null) return
      expect(corrected({ flow: flow(2 * at) })).toBeCloseTo(2 * plain, 6)
      expect(corrected({ temperature: celsius(day.temperature - 1) })).toBeGreaterThan(plain)
      expect(corrected({ feedPressure: kilopascals(day.feedPressure + 10) })).toBeLessThan(plain)
    }),
  )
})
