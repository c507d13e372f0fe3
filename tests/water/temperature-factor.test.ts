import fc from 'fast-check'
import { expect, test } from 'vitest'
import { celsius, fahrenheitToCelsius } from '../../core/units/measures.ts'
import { temperatureFactor, temperatureFactorByArmyTable } from '../../core/water/temperature-factor.ts'

// exp[K (1/298 - 1/(273 + T))] with K 2640 from 25 degrees C on and 3020 below, as seen in membrane design code; recomputed by hand.
test.each([
  [5, 0.482],
  [10, 0.584],
  [15, 0.703],
  [20, 0.841],
  [25, 1],
  [30, 1.157],
  [35, 1.333],
])('WAT-11 at %d degrees the factor that divides is %d', (degrees, expected) => {
  expect(temperatureFactor(celsius(degrees))).toBeCloseTo(expected, 3)
})

// US Army TM 10-4610-309-14 / USMC TM 10802A-14/1, WP 0083 00, Table 3.
test.each([
  [32, 0.5],
  [40, 0.57],
  [50, 0.66],
  [60, 0.77],
  [70, 0.9],
  [77, 1],
  [86, 1.15],
  [95, 1.32],
  [104, 1.51],
  [110, 1.66],
])('WAT-11 the army table has %d degrees F at %d', (fahrenheit, expected) => {
  expect(temperatureFactorByArmyTable(fahrenheitToCelsius(fahrenheit))).toBeCloseTo(expected, 9)
})

test('WAT-11 the two conventions are not the same in the cold, and agree about which way it goes', () => {
  // At 60 F the table says 0.77, the exponential form 0.718; at 32 F 0.50 and 0.396.
  expect(temperatureFactor(fahrenheitToCelsius(60))).toBeCloseTo(0.718, 3)
  expect(Math.abs(temperatureFactor(fahrenheitToCelsius(32)) - 0.396)).toBeLessThan(0.001)
  for (let fahrenheit = 32; fahrenheit <= 110; fahrenheit++) {
    const at = fahrenheitToCelsius(fahrenheit)
    const [own, army] = [temperatureFactor(at), temperatureFactorByArmyTable(at) ?? Number.NaN]
    expect(Math.sign(own - 1) * Math.sign(army - 1)).toBeGreaterThanOrEqual(0)
    expect(Math.abs(own - army)).toBeLessThan(0.14)
  }
})

test('WAT-11 outside its degrees the table says nothing, between them it draws a straight line', () => {
  expect(temperatureFactorByArmyTable(fahrenheitToCelsius(31))).toBeNull()
  expect(temperatureFactorByArmyTable(fahrenheitToCelsius(111))).toBeNull()
  expect(temperatureFactorByArmyTable(fahrenheitToCelsius(40.5))).toBeCloseTo(0.575, 9)
})

test('WAT-11 it is of the size of the three parts in a hundred a degree that the trade reckons with', () => {
  // Water Quality Association Education Kit, Vol. X, Article 4: permeate flow about +3 % a degree C. A band, no equality: 1.03^(T - 25).
  for (let degrees = 8; degrees <= 35; degrees++) {
    const thumb = 1.03 ** (degrees - 25)
    expect(temperatureFactor(celsius(degrees)) / thumb).toBeGreaterThan(0.85)
    expect(temperatureFactor(celsius(degrees)) / thumb).toBeLessThan(1.05)
  }
  expect(1.03 ** -15).toBeCloseTo(0.642, 3)
})

test('WAT-11 warmer water never gives a smaller factor, and it is 1 at 25 degrees alone', () => {
  const degrees = fc.double({ min: 0, max: 60, noNaN: true })
  fc.assert(
    fc.property(degrees, degrees, (a, b) => {
      const [cold, warm] = [Math.min(a, b), Math.max(a, b)]
      expect(temperatureFactor(celsius(cold))).toBeLessThanOrEqual(temperatureFactor(celsius(warm)))
      expect(temperatureFactor(celsius(a)) < 1).toBe(a < 25 && temperatureFactor(celsius(a)) !== 1)
    }),
  )
})
