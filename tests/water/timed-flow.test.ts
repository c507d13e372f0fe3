import fc from 'fast-check'
import { expect, test } from 'vitest'
import { conductivity, conductivityText, meterFactor, seconds, vessel } from '../../core/units/measures.ts'
import { tdsOfConductivity } from '../../core/water/conductivity.ts'
import { rejectionPercent } from '../../core/water/rejection.ts'
import { readTimedFlow, timedFlow } from '../../core/water/timed-flow.ts'

test('WAT-2 flow is the vessel over the time', () => {
  expect(timedFlow(vessel(500), seconds(200))).toBeCloseTo(150, 12)
  // Recovery, AWWA/ASCE, Water Treatment Plant Design, ch. 13: 30 of 40 gallons a minute are 75 %.
  expect((100 * (timedFlow(vessel(30), seconds(60)) ?? 0)) / (timedFlow(vessel(40), seconds(60)) ?? 0)).toBeCloseTo(
    75,
    12,
  )
  expect(timedFlow(vessel(1_000_000), seconds(1))).toBeNull()
})

// A US fluid ounce is 29.5735295625 mL, a cup 8, a pint 16, a quart 32, a gallon 128 of them: exact by definition (NIST SP 811, appendix B).
test.each([
  ['500 mL in 3:20', 150],
  ['500ml in 200', 150],
  ['0.5 L / 200 s', 150],
  ['50 cl in 3 min 20 s', 150],
  ['1 L in 6.5 min', 1000 / 6.5],
  ['16 oz in 95 s', (16 * 29.5735295625 * 60) / 95],
  ['16 fl. oz. in 95 sec', (16 * 29.5735295625 * 60) / 95],
  ['1 cup in 45 s', (8 * 29.5735295625 * 60) / 45],
  ['1 qt in 2 min 10 s', (32 * 29.5735295625 * 60) / 130],
  ['1 gal in 25:00', 3785.411784 / 25],
])('WAT-2 %s', (typed, expected) => {
  expect(readTimedFlow(typed)).toBeCloseTo(expected, 9)
})

test.each([
  '',
  '500',
  '500 mL',
  '62 gal/day',
  '0.2 L/min',
  '500 mL in 0 s',
  '0 mL in 30 s',
  '3 buckets in 10 s',
  '1 constructor in 10 s',
  '5 mL in 3:75',
])('WAT-2 not timed: "%s"', (typed) => {
  expect(readTimedFlow(typed)).toBeNull()
})

test('WAT-2 twice the time is half the flow', () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 16_000 }), fc.integer({ min: 1, max: 3600 }), (held, time) => {
      const [slow, fast] = [timedFlow(vessel(held), seconds(2 * time)), timedFlow(vessel(held), seconds(time))]
      expect(slow).toBeCloseTo((fast ?? Number.NaN) / 2, 9)
    }),
  )
})

test('WAT-1 dissolved solids are conductivity times the factor of the meter', () => {
  // The factors of meters (from memory): 0.5 for sodium chloride, 0.64, 0.7. Natural waters 0.55 to 0.75 (Hem, USGS Water-Supply Paper 2254).
  expect([0.5, 0.64, 0.7].map((factor) => tdsOfConductivity(conductivity(1000), meterFactor(factor)))).toEqual([
    500, 640, 700,
  ])
  expect(conductivityText(conductivity(1250))).toBe('1,250 µS/cm')
  expect(() => meterFactor(1.2)).toThrow()
  expect(() => meterFactor(0.3)).toThrow()
})

test('WAT-1 rejection from two conductivities is the same whichever the factor', () => {
  // 380 and 5 uS/cm: 98.684 % (AWWA/ASCE, Water Treatment Plant Design, ch. 13; an old operating manual cuts it to 98.6).
  fc.assert(
    fc.property(fc.integer({ min: 40, max: 100 }), (hundredths) => {
      const factor = meterFactor(hundredths / 100)
      const [feed, product] = [380, 5].map((read) => tdsOfConductivity(conductivity(read), factor))
      if (feed === undefined || product === undefined) throw new Error('Both were read')
      expect(rejectionPercent(feed, product)).toBeCloseTo(98.684, 3)
    }),
  )
})
