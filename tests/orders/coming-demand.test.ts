import fc from 'fast-check'
import { expect, test } from 'vitest'
import { type ComingFacts, comingDemand, type DueHousehold, standingOf } from '../../core/orders/coming-demand.ts'
import { learnReplies } from '../../core/orders/letters-to-visits.ts'
import { chanceWithin } from '../../core/orders/part-demand.ts'
import { bookingCourse, visitedBy } from '../../core/orders/reply-course.ts'
import { addDays, calendarDate } from '../../core/units/calendar-date.ts'
import { customerIdSchema, installationIdSchema, partIdSchema, siteIdSchema } from '../../core/units/ids.ts'
import { MANNER, NO_RECORD } from '../builders/some-replies.ts'

const TODAY = calendarDate('2026-11-25')
const PACE = { firstLetterLeadDays: 30, secondAfterDays: 14, finalAfterDays: 42 }
const replies = learnReplies(NO_RECORD, MANNER)
const on = (days: number) => addDays(TODAY, days)

function household(id: number, dueIn: number, own: Partial<DueHousehold> = {}): DueHousehold {
  return {
    siteId: siteIdSchema.parse(id),
    customerId: customerIdSchema.parse(id),
    dueOn: on(dueIn),
    unasked: false,
    gone: false,
    visitedOn: null,
    ...own,
  }
}

const unit = (id: number) => installationIdSchema.parse(id)
const stages = (id: number, dueIn: number, pieces = 1, partId = 1) => ({
  installationId: unit(id),
  partId: partIdSchema.parse(partId),
  pieces,
  dueOn: on(dueIn),
})

function coming(own: Partial<ComingFacts>) {
  return comingDemand({
    today: TODAY,
    horizon: 83,
    households: [],
    stages: [],
    units: new Map(Array.from({ length: 20 }, (_, at) => [unit(at + 1), siteIdSchema.parse(at + 1)])),
    letters: [],
    booked: [],
    replies,
    pace: PACE,
    graceDays: 30,
    ...own,
  })
}

const facts = { today: TODAY, pace: PACE, visitOn: null, letter: null }
const letter = (kind: 'first' | 'second' | 'final', daysAgo: number) => ({
  customerId: customerIdSchema.parse(1),
  kind,
  writtenOn: on(-daysAgo),
})

test('ORD-62 a household stands after its latest letter that counts, before its first one, or without any', () => {
  const at = (dueIn: number, own: object = {}, home: Partial<DueHousehold> = {}) =>
    standingOf(household(1, dueIn, home), { ...facts, dueOn: on(dueIn), ...own })
  expect(at(40)).toEqual({ path: 'to-write', firstIn: 10 })
  expect(at(-200)).toEqual({ path: 'to-write', firstIn: 0 })
  expect(at(20, { letter: letter('first', 10) })).toEqual({ path: 'written', kind: 'first', daysAgo: 10 })
  expect(at(-9, { letter: letter('final', 3) })).toEqual({ path: 'written', kind: 'final', daysAgo: 3 })
  // A letter from before the last visit, or about an earlier due date, counts no more (LET-5).
  expect(at(20, { letter: letter('first', 10) }, { visitedOn: on(-5) })).toEqual({ path: 'to-write', firstIn: 0 })
  expect(at(20, { letter: letter('final', 300) })).toEqual({ path: 'to-write', firstIn: 0 })
  expect(at(40, {}, { unasked: true })).toEqual({ path: 'unasked', from: 10 })
  // With a visit booked the letters begin again after it.
  expect(at(5, { visitOn: on(8), letter: letter('first', 10) })).toEqual({ path: 'to-write', firstIn: 9 })
})

test('ORD-62 letters follow on silence: the course after a second letter is that after the first, fourteen days on', () => {
  const whole = bookingCourse({ path: 'to-write', firstIn: 0 }, replies, PACE, 70)
  const rest = bookingCourse({ path: 'written', kind: 'second', daysAgo: 0 }, replies, PACE, 56)
  const silent = 1 - whole.subarray(0, 14).reduce((sum, chance) => sum + chance, 0)
  rest.forEach((chance, day) => {
    expect(whole[day + 14] ?? 0).toBeCloseTo(silent * chance, 14)
  })
  // A letter that is overdue is written today, and one that is not due yet changes nothing before its day.
  const late = bookingCourse({ path: 'written', kind: 'first', daysAgo: 20 }, replies, PACE, 56)
  expect([...late]).toEqual([...rest])
  expect(bookingCourse({ path: 'to-write', firstIn: 10 }, replies, PACE, 30).subarray(0, 10)).toEqual(
    new Float64Array(10),
  )
})

test('ORD-63 a visit follows its booking by the days on record', () => {
  const learnt = learnReplies({ ...NO_RECORD, delays: [{ days: 3, visits: 1_000_000 }] }, { ...MANNER, weighs: 1 })
  const by = visitedBy({ path: 'to-write', firstIn: 0 }, learnt, PACE, 60)
  const booked = bookingCourse({ path: 'to-write', firstIn: 0 }, learnt, PACE, 60)
  let sum = 0
  for (let day = 3; day <= 60; day++) {
    sum += booked[day - 3] ?? 0
    expect(by[day]).toBeCloseTo(sum, 4)
  }
})

test('ORD-51 the stages of a household are one need: two units with the same part ask for both pieces at once', () => {
  const found = coming({
    households: [household(1, 10), household(2, 10)],
    units: new Map([
      [unit(1), siteIdSchema.parse(1)],
      [unit(2), siteIdSchema.parse(1)],
      [unit(3), siteIdSchema.parse(2)],
    ]),
    stages: [stages(1, 10), stages(2, 25), stages(3, 10)],
  })
  expect(found.likely.map(({ pieces, households, from }) => [pieces, households, from])).toEqual([
    [2, 1, 0],
    [1, 1, 0],
  ])
  expect(found.visits.likely.map((each) => each.households)).toEqual([2])
})

test('ORD-62 whoever moved or closed counts for nothing, and a stage is taken along from a grace before its due date', () => {
  const found = coming({
    households: [household(1, 10, { gone: true }), household(2, 10)],
    stages: [stages(1, 10), stages(2, 50, 1, 2), stages(2, 10, 1, 1), stages(19, 10)],
  })
  expect(found.likely.map(({ partId, from }) => [partId, from])).toEqual([
    [1, 0],
    [2, 20],
  ])
  const [own, along] = found.likely
  if (!along || !own) throw new Error('The test expects two needs')
  // A visit before the twentieth day leaves it.
  expect(chanceWithin(along, 19)).toBe(0)
  expect(chanceWithin(along, 40)).toBeCloseTo(chanceWithin(own, 40) - chanceWithin(own, 19), 12)
})

test('ORD-62 households that are alike are put together, and nobody is lost or counted twice', () => {
  fc.assert(
    fc.property(
      fc.array(
        fc.record({
          dueIn: fc.integer({ min: -100, max: 110 }),
          gone: fc.boolean(),
          unasked: fc.boolean(),
          booked: fc.option(fc.integer({ min: 0, max: 30 })),
          written: fc.option(fc.integer({ min: 0, max: 60 })),
        }),
        { minLength: 1, maxLength: 20 },
      ),
      (homes) => {
        const own = homes.map((home, at) => household(at + 1, home.dueIn, { gone: home.gone, unasked: home.unasked }))
        const booked = homes.flatMap((home, at) =>
          home.booked === null ? [] : [{ siteId: siteIdSchema.parse(at + 1), on: on(home.booked) }],
        )
        const letters = homes.flatMap((home, at) =>
          home.written === null
            ? []
            : [{ customerId: customerIdSchema.parse(at + 1), kind: 'first' as const, writtenOn: on(-home.written) }],
        )
        const found = coming({
          households: own,
          stages: homes.map((home, at) => stages(at + 1, home.dueIn)),
          booked,
          letters,
        })
        const there = homes.filter((home) => !home.gone).length
        expect(found.likely.reduce((sum, use) => sum + use.households, 0)).toBe(there)
        const open = homes.filter((home) => !home.gone && home.booked === null).length
        expect(found.visits.likely.reduce((sum, use) => sum + use.households, 0)).toBe(open)
        expect(found.visits.booked.reduce((sum, day) => sum + day.visits, 0)).toBe(booked.length)
      },
    ),
  )
})
