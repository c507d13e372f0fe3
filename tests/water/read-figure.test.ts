import fc from 'fast-check'
import { expect, test } from 'vitest'
import {
  celsius,
  flow,
  kilopascals,
  type MeasureSystem,
  meterFactor,
  millilitres,
  tds,
} from '../../core/units/measures.ts'
import { isNothingMeasured, NOTHING_MEASURED } from '../../core/water/figures.ts'
import { fieldText, readFigure, unitOf } from '../../core/water/read-figure.ts'

const value = (typed: string, figure: Parameters<typeof readFigure>[1], measures: MeasureSystem, factor = 0.5) => {
  const read = readFigure(typed, figure, { measures, meterFactor: meterFactor(factor) })
  return read.ok ? read.value : read.problem.code
}

test('VIS-19 a bare figure is in the unit of the office, a named unit is taken at its word, exactly', () => {
  // 1 psi is 6.894757293168 kPa, 1 US gallon 3.785411784 L: exact by definition (NIST SP 811, appendix B).
  expect(value('58', 'feedPressure', 'us')).toBeCloseTo(58 * 6.894757293168, 9)
  expect(value('4.1', 'feedPressure', 'metric')).toBeCloseTo(410, 9)
  expect(value('4,1 bar', 'feedPressure', 'us')).toBeCloseTo(410, 9)
  expect(value('7 psi', 'tankPressure', 'metric')).toBeCloseTo(48.263301, 6)
  expect(value('75 gal/day', 'flow', 'metric')).toBeCloseTo((75 * 3785.411784) / 1440, 9)
  expect(value('0.2 L/min', 'flow', 'us')).toBeCloseTo(200, 9)
  expect(value('54', 'temperature', 'us')).toBeCloseTo(12.2222, 4)
  expect(value('-40 F', 'temperature', 'metric')).toBeCloseTo(-40, 9)
  expect(value('412 ppm', 'tdsIn', 'us')).toBe(412)
  expect(value('  ', 'tdsIn', 'us')).toBeNull()
})

test('VIS-17 what is no figure, or lies below zero, is refused and kept in its field', () => {
  expect(value('about 40', 'tdsOut', 'us')).toBe('READING_NOT_A_NUMBER')
  expect(value('40 furlongs', 'tdsOut', 'us')).toBe('READING_NOT_A_NUMBER')
  expect(value('-3', 'tdsOut', 'us')).toBe('READING_BELOW_ZERO')
  expect(value('-3', 'tankPressure', 'metric')).toBe('READING_BELOW_ZERO')
})

test('VIS-19 what stands in a field reads back as what was kept, to a tenth', () => {
  expect(fieldText('feedPressure', kilopascals(58 * 6.894757293168), 'us')).toBe('58')
  expect(fieldText('feedPressure', kilopascals(410), 'metric')).toBe('4.1')
  expect(fieldText('flow', flow((75 * 3785.411784) / 1440), 'us')).toBe('75')
  expect(fieldText('temperature', celsius(12.2222), 'us')).toBe('54')
  expect(fieldText('tdsIn', tds(412), 'metric')).toBe('412')
  expect(fieldText('tdsOut', null, 'us')).toBe('')
  expect(unitOf('flow', 'us')).toBe('gal/day')
  expect(isNothingMeasured(NOTHING_MEASURED)).toBe(true)
})

test('WAT-1 a conductivity is taken by the factor of the office’s meters', () => {
  expect(value('824 µS/cm', 'tdsIn', 'us')).toBeCloseTo(412, 9)
  expect(value('824 uS/cm', 'tdsIn', 'metric', 0.64)).toBeCloseTo(527.36, 9)
  expect(value('0.824 mS/cm', 'tdsOut', 'us', 0.7)).toBeCloseTo(576.8, 9)
  expect(value('96 uS', 'tdsOut', 'us')).toBeCloseTo(48, 9)
})

test('WAT-2 a flow can be typed as it was timed', () => {
  expect(value('500 mL in 3:20', 'flow', 'us')).toBeCloseTo(150, 9)
  expect(value('0,5 L in 200 s', 'flow', 'metric')).toBeCloseTo(150, 9)
  expect(value('500 mL in a while', 'flow', 'us')).toBe('READING_NOT_A_NUMBER')
})

test('WAT-20 a meter is typed in gallons, litres, cubic metres or cubic feet, with or without groups of three', () => {
  // 1 US gallon is 3.785411784 L, 1 ft3 28.316846592 L: exact by definition (NIST SP 811, appendix B).
  expect(value('1,240', 'meter', 'us')).toBe(Math.round(1240 * 3785.411784))
  expect(value('1240.5 gal', 'meter', 'us')).toBe(Math.round(1240.5 * 3785.411784))
  expect(value('1.240 L', 'meter', 'metric')).toBe(1_240_000)
  expect(value('12.345.678', 'meter', 'metric')).toBe(12_345_678_000)
  expect(value('4.672 m³', 'meter', 'us')).toBe(4_672_000)
  expect(value('10 ft3', 'meter', 'us')).toBe(283_168)
  expect(value('10 ft³', 'meter', 'metric')).toBe(283_168)
  expect(value('-5', 'meter', 'us')).toBe('READING_BELOW_ZERO')
  expect(fieldText('meter', millilitres(1_240_000), 'metric')).toBe('1240')
  expect(unitOf('meter', 'us')).toBe('gal')
})

test('VIS-17 a figure beyond what any meter shows is refused before anything is reckoned with it', () => {
  expect(value('999999', 'tdsIn', 'us')).toBe('READING_BEYOND_METERS')
  expect(value('999999 uS/cm', 'tdsIn', 'us')).toBe('READING_BEYOND_METERS')
  expect(value('999999', 'feedPressure', 'us')).toBe('READING_BEYOND_METERS')
  expect(value('-999 C', 'temperature', 'us')).toBe('READING_BEYOND_METERS')
})

test('VIS-19 what stands in a field is read back, whichever the figure and the manner', () => {
  const measured = fc.constantFrom(
    ['tdsIn', 412.5],
    ['flow', 163.2],
    ['feedPressure', 410],
    ['temperature', 12.2],
    ['meter', 4_700_000],
  ) as fc.Arbitrary<[Parameters<typeof fieldText>[0], number]>
  fc.assert(
    fc.property(measured, fc.constantFrom<MeasureSystem>('us', 'metric'), ([figure, kept], measures) => {
      const read = value(fieldText(figure, kept, measures), figure, measures)
      expect(typeof read).toBe('number')
      expect(Math.abs(Number(read) / kept - 1)).toBeLessThan(0.01)
    }),
  )
})

test('VIS-17 whatever is typed is read or refused, and never breaks', () => {
  fc.assert(
    fc.property(
      fc.oneof(
        fc.string(),
        fc.stringMatching(/^[-+]?[0-9]{0,11}[.,]?[0-9]{0,3} ?(mL|gal|L|uS\/cm|psi|F)?( in [0-9:]{0,6})?$/),
      ),
      fc.constantFrom('tdsIn', 'tdsOut', 'flow', 'feedPressure', 'tankPressure', 'temperature', 'meter'),
      (typed, figure) => {
        const read = value(typed, figure, 'us')
        expect(read === null || typeof read === 'string' || Number.isFinite(read)).toBe(true)
      },
    ),
    { numRuns: 500 },
  )
})
