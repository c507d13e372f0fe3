import { expect, test } from 'vitest'
import { DEFAULT_SETTINGS } from '../../core/settings/office-settings.ts'
import { celsius, flow, kilopascals, tds } from '../../core/units/measures.ts'
import {
  isNothingMeasured,
  judgeReading,
  NOTHING_MEASURED,
  rejectionInWords,
  rejectionOf,
} from '../../core/visits/judge-reading.ts'
import { fieldText, readFigure, unitOf } from '../../core/visits/read-figure.ts'

const reading = (own: Partial<typeof NOTHING_MEASURED>) => ({ ...NOTHING_MEASURED, ...own })
const codes = (figures: typeof NOTHING_MEASURED) =>
  judgeReading(figures, null, 'us').impossible.map((found) => found.code)

test('VIS-17 product above feed and a feed of nothing cannot be', () => {
  expect(codes(reading({ tdsIn: tds(48), tdsOut: tds(412) }))).toEqual(['READING_PRODUCT_ABOVE_FEED'])
  expect(codes(reading({ tdsIn: tds(0), tdsOut: tds(4) }))).toEqual(['READING_ZERO_FEED'])
  expect(judgeReading(reading({ tdsIn: tds(48), tdsOut: tds(412) }), null, 'us').impossible[0]?.sentence).toBe(
    'The product (412 mg/L) cannot hold more than the feed (48 mg/L).',
  )
  expect(codes(reading({ tdsIn: tds(412), tdsOut: tds(412) }))).toEqual([])
})

test('VIS-17 ice, steam and a pressure that bursts pipes cannot be', () => {
  expect(codes(reading({ temperature: celsius(-1) }))).toEqual(['READING_OUT_OF_RANGE'])
  expect(codes(reading({ temperature: celsius(80) }))).toEqual(['READING_OUT_OF_RANGE'])
  expect(codes(reading({ feedPressure: kilopascals(2500), tankPressure: kilopascals(2500) }))).toEqual([
    'READING_OUT_OF_RANGE',
    'READING_OUT_OF_RANGE',
  ])
  expect(codes(reading({ tdsIn: tds(60_000) }))).toEqual(['READING_OUT_OF_RANGE'])
})

test('VIS-18 unusual figures are asked about', () => {
  const ask = (figures: typeof NOTHING_MEASURED, earlier: number | null = null) =>
    judgeReading(figures, earlier, 'us').questions
  expect(
    ask(reading({ tdsIn: tds(412), tdsOut: tds(48), feedPressure: kilopascals(400), temperature: celsius(12) }), 88),
  ).toEqual([])
  expect(ask(reading({ tdsIn: tds(2500) }))).toEqual(['TDS in of 2,500 mg/L is unusually high.'])
  expect(ask(reading({ feedPressure: kilopascals(100) }))).toEqual(['Feed pressure of 15 psi is unusually low.'])
  expect(ask(reading({ tdsIn: tds(400), tdsOut: tds(240) }))).toEqual([
    'A membrane that holds back only 40 % is unusual.',
  ])
  expect(ask(reading({ tdsIn: tds(400), tdsOut: tds(100) }), 94)).toEqual([
    'It held back 94 % the last time and 75 % now: a big step for one interval.',
  ])
})

test('VIS-17 rejection is what is held back of the feed, in words', () => {
  // AWWA/ASCE, Water Treatment Plant Design, ch. 13: salt passage 100 Cp/Cf; rejection is the rest: 500 in, 75 out is 85.0 %.
  expect(rejectionOf(reading({ tdsIn: tds(500), tdsOut: tds(75) }))).toBeCloseTo(85, 10)
  // The same from a pair of conductivities, 380 and 5: 98.684 %.
  expect(rejectionOf(reading({ tdsIn: tds(380), tdsOut: tds(5) }))).toBeCloseTo(98.684, 3)
  expect(rejectionOf(reading({ tdsIn: tds(10), tdsOut: tds(20) }))).toBeNull()
  expect([95, 88, 75, 70].map((percent) => rejectionInWords(percent, DEFAULT_SETTINGS))).toEqual([
    'holds back 95 of 100 parts: healthy',
    'holds back 88 of 100 parts: getting weaker, replace at 75',
    'holds back 75 of 100 parts: time to replace it',
    'holds back 70 of 100 parts: overdue',
  ])
  const own = { healthyRejectionPercent: 85, replaceRejectionPercent: 80, overdueRejectionPercent: 60 }
  expect([88, 82, 75, 60].map((percent) => rejectionInWords(percent, own))).toEqual([
    'holds back 88 of 100 parts: healthy',
    'holds back 82 of 100 parts: getting weaker, replace at 80',
    'holds back 75 of 100 parts: time to replace it',
    'holds back 60 of 100 parts: overdue',
  ])
})

const value = (typed: string, figure: Parameters<typeof readFigure>[1], system: 'us' | 'metric') => {
  const read = readFigure(typed, figure, system)
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
