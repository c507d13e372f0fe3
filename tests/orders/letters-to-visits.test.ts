import fc from 'fast-check'
import { expect, test } from 'vitest'
import { lettersRecord } from '../../core/orders/letters-record-words.ts'
import { evenHazard, hazardsBySpan, learnReplies, SPANS } from '../../core/orders/letters-to-visits.ts'
import { type LetterOnRecord, repliesOf } from '../../core/orders/replies-on-record.ts'
import { bookingCourse, everBooks, type HouseholdStanding, visitedBy } from '../../core/orders/reply-course.ts'
import { addDays, calendarDate } from '../../core/units/calendar-date.ts'
import { customerIdSchema } from '../../core/units/ids.ts'
import { MANNER, NO_RECORD, outcome } from '../builders/some-replies.ts'

const sum = (values: Iterable<number>): number => [...values].reduce((total, value) => total + value, 0)
const TO_WRITE: HouseholdStanding = { path: 'to-write', firstIn: 0 }

/**
 * Remission times in weeks of 21 patients (Freireich and others, Blood 21, 1963), and the product-limit estimate as printed in Kleinbaum and
 * Klein, Survival Analysis, ch. 2 (from memory): a record with many that are still silent. A time with true is an event.
 */
const REMISSIONS: readonly (readonly [number, boolean, number])[] = [
  [6, true, 3],
  [6, false, 1],
  [7, true, 1],
  [9, false, 1],
  [10, true, 1],
  [10, false, 1],
  [11, false, 1],
  [13, true, 1],
  [16, true, 1],
  [17, false, 1],
  [19, false, 1],
  [20, false, 1],
  [22, true, 1],
  [23, true, 1],
  [25, false, 1],
  [32, false, 2],
  [34, false, 1],
  [35, false, 1],
]
const PRINTED = [
  [6, 0.857],
  [7, 0.807],
  [10, 0.753],
  [13, 0.69],
  [16, 0.627],
  [22, 0.538],
  [23, 0.448],
] as const

test('ORD-60 without a prior, day by day, the record is the product-limit estimate of the textbook: the silent count as long as they are seen', () => {
  // One who is still silent at a time was seen on that whole day.
  const outcomes = REMISSIONS.map(([days, booked, letters]) =>
    outcome('first', booked ? days : days + 1, booked, letters),
  )
  const daily = Array.from({ length: 60 }, (_, day) => day)
  const hazards = hazardsBySpan(outcomes, daily, () => ({ days: 0, bookings: 0 }))
  for (const [day, printed] of PRINTED) {
    let silent = 1
    for (let each = 0; each <= day; each++) silent *= 1 - (hazards[each] ?? 0)
    expect(silent).toBeCloseTo(printed, 3)
  }
})

test('ORD-60 without a record the office’s own figure comes out whole, evenly over ten weeks from the first letter', () => {
  const replies = learnReplies(NO_RECORD, MANNER)
  // 0.3 = (1 - h)^70
  expect(evenHazard(MANNER)).toBeCloseTo(1 - 0.3 ** (1 / 70), 15)
  expect(everBooks(replies, MANNER)).toBeCloseTo(0.7, 12)
  const course = bookingCourse(TO_WRITE, replies, MANNER, 90)
  expect(sum(course.subarray(0, 35))).toBeCloseTo(1 - 0.3 ** 0.5, 12)
  expect(sum(course.subarray(70))).toBe(0)
  expect(sum(replies.delays)).toBeCloseTo(1, 12)
})

test('ORD-60 by hand: 20 letters as the office expects beside 10 of which 4 were answered in the first week', () => {
  const record = { ...NO_RECORD, outcomes: [outcome('first', 2, true, 4), outcome('first', 14, false, 6)] }
  const { hazards } = learnReplies(record, MANNER)
  const h = 1 - 0.3 ** (1 / 70)
  // Silent household-days of the first week: 4 x 3 days and 6 x 7, with 20 x (1 + (1-h) + ... + (1-h)^6) of the prior.
  const prior = sum(Array.from({ length: 7 }, (_, day) => 20 * (1 - h) ** day))
  expect(hazards.first[0]).toBeCloseTo((4 + prior * h) / (4 * 3 + 6 * 7 + prior), 14)
  expect(hazards.first[6]).toBe(hazards.first[0])
  // In the second week nobody answered, of six.
  const second = sum(Array.from({ length: 7 }, (_, day) => 20 * (1 - h) ** (day + 7)))
  expect(hazards.first[7]).toBeCloseTo((second * h) / (6 * 7 + second), 14)
})

const anyRecord = fc.array(
  fc.record({
    kind: fc.constantFrom('first', 'second', 'final'),
    days: fc.integer({ min: 0, max: 500 }),
    booked: fc.boolean(),
    letters: fc.integer({ min: 1, max: 40 }),
  }),
  { maxLength: 20 },
)
const anyManner = fc.record({
  secondAfterDays: fc.integer({ min: 1, max: 60 }),
  finalAfterDays: fc.integer({ min: 61, max: 120 }),
  percent: fc.integer({ min: 0, max: 100 }),
  weighs: fc.integer({ min: 1, max: 200 }),
  daysOffered: fc.integer({ min: 1, max: 90 }),
})

test('ORD-60 whatever is on record, each chance lies between the record’s own and the prior’s, and a course never exceeds certainty', () => {
  fc.assert(
    fc.property(anyRecord, anyManner, (outcomes, manner) => {
      const replies = learnReplies({ ...NO_RECORD, outcomes }, manner)
      const own = outcomes.filter((each) => each.kind === 'first')
      const raw = hazardsBySpan(own, SPANS, () => ({ days: 0, bookings: 0 }))
      const prior = learnReplies(NO_RECORD, manner).hazards.first
      replies.hazards.first.forEach((hazard, day) => {
        const [a, b] = [raw[day] ?? 0, prior[day] ?? 0]
        expect(hazard).toBeGreaterThanOrEqual(Math.min(a, b) - 1e-12)
        expect(hazard).toBeLessThanOrEqual(Math.max(a, b) + 1e-12)
      })
      const by = visitedBy(TO_WRITE, replies, manner, 120)
      by.forEach((chance, day) => {
        expect(chance).toBeGreaterThanOrEqual((by[day - 1] ?? 0) - 1e-12)
        expect(chance).toBeLessThanOrEqual(1)
      })
    }),
    { numRuns: 100 },
  )
})

test('ORD-60 a larger record has more of its way than a small one', () => {
  const answered = (letters: number) =>
    learnReplies({ ...NO_RECORD, outcomes: [outcome('first', 3, true, letters)] }, MANNER).hazards.first[0] ?? 0
  expect(answered(1)).toBeLessThan(answered(10))
  expect(answered(10)).toBeLessThan(answered(1000))
  // All of them on the fourth day: one in four silent days.
  expect(answered(1_000_000)).toBeCloseTo(0.25, 3)
})

const TODAY = calendarDate('2026-11-25')
const customer = (id: number) => customerIdSchema.parse(id)
const letter = (id: number, kind: LetterOnRecord['kind'], daysAgo: number, own: Partial<LetterOnRecord> = {}) => ({
  customerId: customer(id),
  kind,
  writtenOn: addDays(TODAY, -daysAgo),
  bookedOn: null,
  leftOn: null,
  ...own,
})

test('ORD-61 a booking counts for the latest letter before it; the one before that was silent until then, and the young ones until today', () => {
  const bookedOn = addDays(TODAY, -80)
  const record = repliesOf(
    [
      letter(1, 'first', 100, { bookedOn }),
      letter(1, 'second', 86, { bookedOn }),
      letter(2, 'first', 9),
      letter(3, 'first', 60, { leftOn: addDays(TODAY, -50) }),
    ],
    [
      { bookedOn: addDays(TODAY, -20), visitOn: addDays(TODAY, -12), visits: 3 },
      { bookedOn: addDays(TODAY, -10), visitOn: addDays(TODAY, -2), visits: 2 },
    ],
    NO_RECORD.unasked,
    TODAY,
  )
  expect(record.outcomes).toEqual([
    { kind: 'first', days: 14, booked: false, letters: 1 },
    { kind: 'second', days: 6, booked: true, letters: 1 },
    { kind: 'first', days: 9, booked: false, letters: 1 },
    { kind: 'first', days: 10, booked: false, letters: 1 },
  ])
  expect(record.firsts.map((each) => each.bookedAfter)).toEqual([20, null, null])
  expect(record.delays).toEqual([{ days: 8, visits: 5 }])
})

test('ORD-61 the sheet says how many of how many booked, what the prior makes of it, and who is too young to tell', () => {
  const firsts = [
    { daysAgo: 200, bookedAfter: 20, letters: 38 },
    { daysAgo: 200, bookedAfter: 45, letters: 8 },
    { daysAgo: 200, bookedAfter: null, letters: 15 },
    { daysAgo: 10, bookedAfter: null, letters: 6 },
  ]
  const record = { ...NO_RECORD, firsts, unasked: { bookings: 5, waiting: 3, days: 730 } }
  const told = lettersRecord(record, learnReplies(record, MANNER), MANNER)
  expect(told.within.map(({ days, letters, booked }) => [days, letters, booked])).toEqual([
    [14, 61, 0],
    [30, 61, 38],
    [70, 61, 46],
  ])
  expect(told.sentences).toEqual([
    '38 of 61 households that had a first letter in the last 2 years booked within 30 days; with your figure of 70 %, which weighs as much as 20 letters of each kind, that is 41 %.',
    '6 first letters younger than 70 days count for the days they have had.',
    'From booking to visit it takes 8 days on average (no visit is on record yet).',
    '3 households that are due and get no letters: such households booked 5 visits in 730 days; reckoned at 17 % in a month.',
  ])
  expect(lettersRecord(NO_RECORD, learnReplies(NO_RECORD, MANNER), MANNER).sentences[0]).toBe(
    'No first letter is older than 30 days yet: the chances rest on your figure of 70 %, which weighs as much as 20 letters of each kind.',
  )
})

test('ORD-61 households without letters: their bookings over as many as are due today, beside the prior', () => {
  const h = evenHazard(MANNER)
  const unasked = { bookings: 5, waiting: 3, days: 730 }
  // 14 expected of 20 at that even chance are 14 / h household-days.
  expect(learnReplies({ ...NO_RECORD, unasked }, MANNER).unasked).toBeCloseTo((5 + 14) / (3 * 730 + 14 / h), 14)
  expect(learnReplies(NO_RECORD, MANNER).unasked).toBeCloseTo(h, 14)
})
