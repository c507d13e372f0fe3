import fc from 'fast-check'
import { expect, test } from 'vitest'
import { DEFAULT_SETTINGS } from '../../core/settings/office-settings.ts'
import { celsius, flow, kilopascals, millilitres, psiToKilopascals, tds } from '../../core/units/measures.ts'
import { NOTHING_MEASURED } from '../../core/water/figures.ts'
import { judgeReading, NOTHING_EARLIER } from '../../core/water/judge-reading.ts'
import { rejectionInWords, rejectionOf } from '../../core/water/rejection.ts'

const reading = (own: Partial<typeof NOTHING_MEASURED>) => ({ ...NOTHING_MEASURED, ...own })
const codes = (figures: typeof NOTHING_MEASURED) =>
  judgeReading(figures, NOTHING_EARLIER, 'us').impossible.map((found) => found.code)

test('VIS-17 product above feed and a feed of nothing cannot be', () => {
  expect(codes(reading({ tdsIn: tds(48), tdsOut: tds(412) }))).toEqual(['READING_PRODUCT_ABOVE_FEED'])
  expect(codes(reading({ tdsIn: tds(0), tdsOut: tds(4) }))).toEqual(['READING_ZERO_FEED'])
  expect(
    judgeReading(reading({ tdsIn: tds(48), tdsOut: tds(412) }), NOTHING_EARLIER, 'us').impossible[0]?.sentence,
  ).toBe('The product (412 mg/L) cannot hold more than the feed (48 mg/L).')
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
  const ask = (figures: typeof NOTHING_MEASURED, rejection: number | null = null) =>
    judgeReading(figures, { rejection, meter: null }, 'us').questions
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
    'holds back 95 of 100 parts and lets 5 through: healthy',
    'holds back 88 of 100 parts and lets 12 through: getting weaker, replace at 75',
    'holds back 75 of 100 parts and lets 25 through: time to replace it',
    'holds back 70 of 100 parts and lets 30 through: overdue',
  ])
  const own = { healthyRejectionPercent: 85, replaceRejectionPercent: 80, overdueRejectionPercent: 60 }
  expect([88, 82, 75, 60].map((percent) => rejectionInWords(percent, own))).toEqual([
    'holds back 88 of 100 parts and lets 12 through: healthy',
    'holds back 82 of 100 parts and lets 18 through: getting weaker, replace at 80',
    'holds back 75 of 100 parts and lets 25 through: time to replace it',
    'holds back 60 of 100 parts and lets 40 through: overdue',
  ])
})

test('VIS-17 a figure that no house shows cannot be, and the sentence says between what it lies', () => {
  expect(codes(reading({ tdsOut: tds(60_000) }))).toEqual(['READING_OUT_OF_RANGE'])
  expect(codes(reading({ flow: flow(40_000) }))).toEqual(['READING_OUT_OF_RANGE'])
  expect(judgeReading(reading({ temperature: celsius(80) }), NOTHING_EARLIER, 'us').impossible[0]?.sentence).toBe(
    'Temperature of 176 °F cannot be; it lies between 32 °F and 140 °F.',
  )
  expect(
    judgeReading(reading({ feedPressure: kilopascals(2500) }), NOTHING_EARLIER, 'metric').impossible[0]?.sentence,
  ).toBe('Feed pressure of 25.0 bar cannot be; it lies between 0.0 bar and 20.0 bar.')
})

test('WAT-21 what is held back and what comes through are the whole, and a membrane under a mark is not said to be on it', () => {
  // Salt passage 100 Cp / Cf, AWWA/ASCE, Water Treatment Plant Design, ch. 13: 75 of 500 is 15 %, so 85 are held back.
  const percent = rejectionOf(reading({ tdsIn: tds(500), tdsOut: tds(75) })) ?? 0
  expect(rejectionInWords(percent, DEFAULT_SETTINGS)).toMatch(/^holds back 85 of 100 parts and lets 15 through:/)
  expect(rejectionInWords(89.9, DEFAULT_SETTINGS)).toMatch(/^holds back 89 of 100 parts and lets 11 through: getting/)
  expect(rejectionInWords(74.9, DEFAULT_SETTINGS)).toBe(
    'holds back 74 of 100 parts and lets 26 through: time to replace it',
  )
})

test('WAT-20 a meter does not run backwards, and a new one begins at nothing', () => {
  const after = (meter: number, earlier: number | null) =>
    judgeReading(
      reading({ meter: millilitres(meter) }),
      { rejection: null, meter: earlier === null ? null : millilitres(earlier) },
      'metric',
    ).impossible
  expect(after(4_000_000, 5_000_000).map((found) => found.sentence)).toEqual([
    'The meter stood at 5,000 L the last time; it cannot stand at 4,000 L.',
  ])
  expect(after(5_000_000, 5_000_000)).toEqual([])
  expect(after(4_000_000, null)).toEqual([])
  expect(after(0, 5_000_000)).toEqual([])
})

test('VIS-18 figures that do not go together are asked about', () => {
  const ask = (own: Partial<typeof NOTHING_MEASURED>) => judgeReading(reading(own), NOTHING_EARLIER, 'us').questions
  expect(ask({ feedPressure: psiToKilopascals(30), tankPressure: psiToKilopascals(20) })).toEqual([])
  expect(ask({ feedPressure: psiToKilopascals(30), tankPressure: psiToKilopascals(30) })).toEqual([
    'Tank, empty of 30 psi is unusually high.',
    'A tank with 30 psi of air in it cannot fill from a feed of 30 psi.',
  ])
  // 1,900 mg/L at a quarter drawn: some 22 psi of osmotic pressure against a feed of 20.
  expect(ask({ feedPressure: psiToKilopascals(20), tdsIn: tds(1900), flow: flow(100) })).toEqual([
    'Feed pressure of 20 psi is unusually low.',
    'A feed of 20 psi with so much salt in it does not push any water through a membrane.',
  ])
})

const anyReading = fc.record({
  tdsIn: fc.option(fc.integer({ min: 0, max: 100_000 }).map(tds)),
  tdsOut: fc.option(fc.integer({ min: 0, max: 100_000 }).map(tds)),
  flow: fc.option(fc.integer({ min: 0, max: 1_000_000 }).map(flow)),
  feedPressure: fc.option(fc.integer({ min: 0, max: 5000 }).map(kilopascals)),
  tankPressure: fc.option(fc.integer({ min: 0, max: 5000 }).map(kilopascals)),
  temperature: fc.option(fc.integer({ min: -50, max: 150 }).map(celsius)),
  meter: fc.option(fc.integer({ min: 0, max: 90_000_000 }).map(millilitres)),
})

test('VIS-17 VIS-18 whatever is typed is judged in whole sentences, and what can be has a rejection from nothing to all', () => {
  fc.assert(
    fc.property(anyReading, fc.option(fc.integer({ min: 0, max: 100 })), (figures, rejection) => {
      const { impossible, questions } = judgeReading(figures, { rejection, meter: null }, 'us')
      for (const said of [...impossible.flatMap((one) => [one.sentence, one.nextStep]), ...questions])
        expect(said).toMatch(/^[A-Z][^{}]+\.$/)
      if (impossible.length > 0) return
      const held = rejectionOf(figures)
      if (held !== null) expect(held >= 0 && held <= 100).toBe(true)
    }),
  )
})
