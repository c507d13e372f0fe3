import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  celsius,
  conductivity,
  fahrenheitToCelsius,
  flow,
  flowText,
  gallonsToMillilitres,
  grainsToHardness,
  hardness,
  hardnessText,
  hardnessToGrains,
  kilopascalsToPsi,
  LITRES_PER_CUBIC_FOOT,
  MG_PER_LITRE_PER_GPG,
  ML_PER_US_FLUID_OUNCE,
  meterFactor,
  millilitresToGallons,
  pressureText,
  psiToKilopascals,
  seconds,
  tds,
  tdsText,
  temperatureText,
  vessel,
  volumeText,
} from '../../core/units/measures.ts'

describe('hardness', () => {
  test('UNIT-5 one grain a gallon is 17.11806 mg/L, from the definitions of grain and gallon', () => {
    // 64.79891 mg a grain over 3.785411784 L a US gallon: exact by definition. Customary and rounded: 17.1.
    expect(MG_PER_LITRE_PER_GPG).toBeCloseTo(17.11806, 5)
    expect(Math.abs(MG_PER_LITRE_PER_GPG - 17.1)).toBeLessThan(0.02)
  })

  test('UNIT-5 ten grains are 171.18 mg/L, and one mg/L is 0.0584178 grains', () => {
    expect(grainsToHardness(10)).toBeCloseTo(171.18, 2)
    // Not 0.5841, as one field manual's page has it by a slip of a decimal.
    expect(hardnessToGrains(hardness(1))).toBeCloseTo(0.0584178, 7)
  })

  test('UNIT-5 there and back again loses nothing that shows', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 200, noNaN: true }), (grains) => {
        expect(hardnessToGrains(grainsToHardness(grains))).toBeCloseTo(grains, 9)
      }),
    )
    expect(hardnessText(grainsToHardness(9), 'us')).toBe('9 gpg')
    expect(hardnessText(grainsToHardness(9), 'metric')).toBe('154 mg/L')
  })

  test('UNIT-5 below nothing is not a hardness', () => {
    expect(() => hardness(-1)).toThrow()
    expect(() => tds(-1)).toThrow()
  })
})

describe('the other measures', () => {
  test('UNIT-6 a US gallon is 231 cubic inches: 3,785 millilitres', () => {
    expect(gallonsToMillilitres(1)).toBe(3785)
    expect(gallonsToMillilitres(1500)).toBe(5_678_118)
    expect(volumeText(gallonsToMillilitres(1500), 'us')).toBe('1,500 gal')
    expect(volumeText(gallonsToMillilitres(1500), 'metric')).toBe('5,678.1 L')
    expect(millilitresToGallons(gallonsToMillilitres(250))).toBeCloseTo(250, 3)
  })

  test('UNIT-6 one psi is 6.894757 kPa', () => {
    // From the international avoirdupois pound, the inch and standard gravity: 4.4482216152605 N over 645.16 mm2.
    expect(psiToKilopascals(1)).toBeCloseTo(6.894757293168, 10)
    expect(kilopascalsToPsi(psiToKilopascals(58))).toBeCloseTo(58, 9)
    expect(pressureText(psiToKilopascals(58), 'us')).toBe('58 psi')
    expect(pressureText(psiToKilopascals(58), 'metric')).toBe('4.0 bar')
  })

  test('UNIT-6 77 degrees Fahrenheit is 25 degrees Celsius', () => {
    expect(fahrenheitToCelsius(77)).toBeCloseTo(25, 10)
    expect(fahrenheitToCelsius(32)).toBe(0)
    expect(temperatureText(celsius(25), 'us')).toBe('77 °F')
    expect(temperatureText(celsius(12), 'metric')).toBe('12 °C')
  })

  test('UNIT-6 a fluid ounce is the 128th part of a gallon, a cubic foot 28.316846592 litres', () => {
    // NIST SP 811, appendix B: 29.57353 mL (29.5735295625 from 231 cubic inches); 0.3048 m cubed.
    expect(ML_PER_US_FLUID_OUNCE).toBeCloseTo(29.5735295625, 10)
    expect(LITRES_PER_CUBIC_FOOT).toBeCloseTo(0.3048 ** 3 * 1000, 9)
  })

  test('UNIT-6 each measure is bounded by what it can be', () => {
    expect(() => conductivity(-1)).toThrow()
    expect(() => seconds(0)).toThrow()
    expect(() => vessel(0)).toThrow()
    expect(() => meterFactor(1.01)).toThrow()
    expect([seconds(95), vessel(473.176), meterFactor(0.64)]).toEqual([95, 473.176, 0.64])
  })

  test('UNIT-6 flow is read by the day in gallons, by the minute in millilitres', () => {
    expect(flowText(flow(163), 'us')).toBe('62 gal/day')
    expect(flowText(flow(163), 'metric')).toBe('163 mL/min')
    expect(tdsText(tds(412))).toBe('412 mg/L')
  })
})
