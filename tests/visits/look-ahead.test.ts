import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { checkLookAhead } from '../../core/visits/check-look-ahead.ts'
import { lookAhead, type PlannedAhead, WEEKS_AHEAD } from '../../core/visits/look-ahead.ts'
import { hoursByWeek } from '../../core/visits/look-ahead-hours.ts'
import { evenOut } from '../../core/visits/look-ahead-peak.ts'
import { hoursInWords, lookAheadInWords, weekInWords } from '../../core/visits/look-ahead-words.ts'
import { aLookAheadQuestion, atWork, dayOf, TODAY, visitsIn } from '../builders/a-look-ahead.ts'

describe('the weeks ahead', () => {
  test('AHEAD-1 52 weeks from the present one, of which only the rest counts', () => {
    const ahead = lookAhead(aLookAheadQuestion({ today: dayOf(0, 3) }))
    expect(ahead.weeks).toHaveLength(52)
    expect(ahead.weeks[0]).toMatchObject({ monday: '2026-11-30', hours: 960 })
    expect(ahead.weeks[51]).toMatchObject({ monday: '2027-11-22', hours: 2400 })
  })

  test('AHEAD-1 hours are the workdays of the technicians without their days off, until they leave', () => {
    const one = atWork([['2026-12-24', '2027-01-01']])
    const leaving = { ...atWork([], 2), workdays: '16', leftOn: calendarDate('2026-12-14') }
    expect(hoursByWeek([one, leaving], TODAY, 6)).toEqual([3360, 3360, 2400, 1440, 0, 2400])
  })

  test('AHEAD-2 a week holds what is planned and what is booked, by kind of stage; late visits stand apart', () => {
    const ahead = lookAhead(
      aLookAheadQuestion({
        planned: [visitsIn(2, 3), { ...visitsIn(0, 4), isLate: true, nextVisits: 4 }, visitsIn(60, 9)],
        booked: [{ on: dayOf(2, 1), visits: 2, minutes: 150 }],
        stages: [
          { on: dayOf(2, 1), isLate: false, kind: 'carbon', count: 4 },
          { on: dayOf(2, 2), isLate: false, kind: 'carbon', count: 3 },
          { on: dayOf(2, 2), isLate: false, kind: 'membrane', count: 8 },
          { on: dayOf(0), isLate: true, kind: 'sediment', count: 5 },
        ],
      }),
    )
    expect(ahead.weeks[2]).toMatchObject({
      planned: { visits: 3, minutes: 180 },
      booked: { visits: 2, minutes: 150 },
      households: 3,
      stages: [
        { kind: 'membrane', count: 8 },
        { kind: 'carbon', count: 7 },
      ],
      evenedMinutes: 330,
    })
    expect(ahead.weeks[0]).toMatchObject({ planned: { visits: 0, minutes: 0 }, stages: [], households: 0 })
    expect(ahead.late).toMatchObject({ visits: 4, minutes: 240, stages: [{ kind: 'sediment', count: 5 }] })
    expect(ahead.weeks.reduce((sum, week) => sum + week.planned.visits, 0)).toBe(3)
  })

  test('AHEAD-3 it says what of a week could be earlier, later, or only then, and where to', () => {
    const ahead = lookAhead(
      aLookAheadQuestion({ planned: [visitsIn(4, 6, [1, 2]), visitsIn(4, 1, [0, 1]), visitsIn(4, 2)] }),
    )
    expect(ahead.weeks[4]).toMatchObject({
      earlier: { visits: 6, minutes: 360 },
      later: { visits: 7, minutes: 420 },
      bound: { visits: 2, minutes: 120 },
      couldGo: [
        { to: 3, visits: 6, minutes: 360 },
        { to: 5, visits: 7, minutes: 420 },
        { to: 6, visits: 6, minutes: 360 },
      ],
    })
  })
})

describe('the smallest peak', () => {
  const crowded = aLookAheadQuestion({ planned: [visitsIn(4, 60, [1, 1]), visitsIn(5, 31)] })

  test('AHEAD-4 what has nowhere else to go says how low the fullest week can be brought', () => {
    const { peaks } = lookAhead(crowded)
    expect(peaks?.least).toEqual({ from: 5, until: 5, minutes: 1860, hours: 2400 })
    expect(peaks?.asPlanned).toEqual({ week: 4, minutes: 3600, hours: 2400 })
    expect(peaks?.reached).toEqual({ week: 5, minutes: 1860, hours: 2400 })
  })

  test('AHEAD-5 evening out says which visits go where, and in words how good it is', () => {
    const ahead = lookAhead(crowded)
    expect(ahead.weeks[4]?.moves).toEqual([{ to: 3, visits: 30, minutes: 1800 }])
    expect(ahead.weeks.slice(3, 6).map((week) => week.evenedMinutes)).toEqual([1800, 1800, 1860])
    expect(lookAheadInWords(ahead, 'en-US')).toEqual([
      '91 visits planned and none booked in 52 weeks, drives included: 91 h of 2,080 h that there are.',
      'As planned the fullest is the week of Dec 28: 60 h of 40 h, 150 %.',
      'No shifting can bring the fullest week below 78 %: 31 h of 40 h.',
      'The evened-out line reaches that exactly.',
      'To even out, write earlier for the week of Dec 28 (30 visits), and fill the weeks before with them.',
    ])
    expect(weekInWords(ahead, 4, 'en-US')).toEqual([
      '60 visits planned, none booked: 60 h of 40 h.',
      'Of 60 h planned, all could be earlier and all later; none has to be in this week.',
      'Evening out moves 30 to the week of Dec 21.',
      'Nothing comes from other weeks; the week then holds 30 h.',
    ])
  })

  test('AHEAD-5 where whole visits cannot reach the bound, the gap is said', () => {
    const ahead = lookAhead(aLookAheadQuestion({ planned: [visitsIn(4, 25, [1, 0], 80)] }))
    expect(lookAheadInWords(ahead, 'en-US').slice(2, 4)).toEqual([
      'No shifting can bring the fullest week below 42 %: 16 h 40 of 40 h.',
      'The evened-out line reaches 17 h 20, in the week of Dec 21: 40 min more, which is less than one visit.',
    ])
  })

  test('AHEAD-6 a stretch that holds more than its hours says how many are missing', () => {
    const ahead = lookAhead(aLookAheadQuestion({ planned: [visitsIn(4, 97, [1, 0])] }))
    expect(lookAheadInWords(ahead, 'en-US')).toContain(
      'From Dec 21 to Jan 3, 97 h of visits have nowhere else to go, and there are 80 h: 17 h are missing. More hours, a booking moved elsewhere or a longer grace would help.',
    )
  })

  test('AHEAD-6 a week in which nobody works takes no visit; what can only be there is said', () => {
    const technicians = [atWork([['2026-12-28', '2027-01-03']])]
    const ahead = lookAhead(aLookAheadQuestion({ technicians, planned: [visitsIn(4, 5, [1, 1]), visitsIn(4, 2)] }))
    expect(ahead.weeks[4]).toMatchObject({ hours: 0, evenedMinutes: 0, homeless: { visits: 2, minutes: 120 } })
    expect(ahead.peaks?.asPlanned).toEqual({ week: 4, minutes: 300, hours: 0 })
    expect(checkLookAhead(ahead)).toEqual([])
    const words = lookAheadInWords(ahead, 'en-US')
    expect(words).toContain('As planned there are visits in the week of Dec 28, when nobody works.')
    expect(words).toContain('2 visits can only be in weeks in which nobody works, the first in the week of Dec 28.')
  })

  test('AHEAD-6 without any technician the weeks are shown and the hours asked for', () => {
    const ahead = lookAhead(aLookAheadQuestion({ technicians: [], planned: [visitsIn(4, 5, [1, 1])] }))
    expect(ahead.weeks[4]?.planned.visits).toBe(5)
    expect(ahead.peaks).toBeNull()
    expect(lookAheadInWords(ahead, 'en-US').join(' ')).toContain('Nobody’s hours are known')
  })
})

describe('late visits', () => {
  const late = (visits: number): PlannedAhead => ({ ...visitsIn(0, visits), isLate: true })

  test('AHEAD-7 they are caught up within the hours that the others leave, and no other loses its grace', () => {
    const full = [0, 1, 2, 3].map((week) => visitsIn(week, 35))
    const ahead = lookAhead(aLookAheadQuestion({ planned: [...full, late(18)] }))
    expect(ahead.late.caughtUpBy).toBe(dayOf(3))
    expect(lookAheadInWords(ahead, 'en-US')).toContain(
      'In the hours left over, all of it can be done by the end of the week of Dec 21.',
    )
  })

  test('AHEAD-7 what is bound soon afterwards holds them back', () => {
    // Week 0 has 5 h to spare only as long as weeks 1 to 3 do not need them for what could come early.
    const planned = [visitsIn(0, 35), visitsIn(1, 45, [1, 0]), late(1)]
    expect(lookAhead(aLookAheadQuestion({ planned })).late.caughtUpBy).toBe(dayOf(2))
  })

  test('AHEAD-7 a week that is over its hours as it is gives nothing to them, and takes nothing from the others', () => {
    const booked = [{ on: dayOf(0, 1), visits: 50, minutes: 3000 }]
    const ahead = lookAhead(aLookAheadQuestion({ booked, planned: [visitsIn(1, 30), late(12)] }))
    expect(ahead.late.caughtUpBy).toBe(dayOf(2))
    expect(ahead.peaks?.least).toEqual({ from: 0, until: 0, minutes: 3000, hours: 2400 })
  })

  test('AHEAD-5 with a booked week above all others the rest of the year is evened out all the same', () => {
    const booked = [{ on: dayOf(0, 1), visits: 50, minutes: 3000 }]
    const ahead = lookAhead(aLookAheadQuestion({ booked, planned: [visitsIn(4, 30, [1, 0])] }))
    expect(ahead.weeks.slice(3, 5).map((week) => week.evenedMinutes)).toEqual([900, 900])
  })

  test('AHEAD-7 when the hours do not suffice, that is said', () => {
    const ahead = lookAhead(aLookAheadQuestion({ planned: [late(3000)] }))
    expect(ahead.late.caughtUpBy).toBeNull()
    expect(lookAheadInWords(ahead, 'en-US').join(' ')).toContain('do not suffice to catch up within the year')
  })
})

const somePlanned = fc.record({
  week: fc.integer({ min: -1, max: 60 }),
  visits: fc.integer({ min: 1, max: 40 }),
  before: fc.nat(5),
  after: fc.nat(5),
  minutes: fc.integer({ min: 1, max: 180 }),
  isLate: fc.boolean(),
})

test('AHEAD-5 whatever is planned, the judge finds the look-ahead in order', () => {
  fc.assert(
    fc.property(
      fc.array(somePlanned, { maxLength: 40 }),
      fc.array(fc.record({ week: fc.integer({ min: -1, max: 53 }), visits: fc.nat(9) }), { maxLength: 10 }),
      fc.array(fc.constantFrom<readonly [string, string]>(['2026-12-14', '2027-01-10'], ['2027-03-01', '2027-03-07']), {
        maxLength: 2,
      }),
      (rows, booked, daysOff) => {
        const ahead = lookAhead(
          aLookAheadQuestion({
            planned: rows.map(({ week, visits, before, after, minutes, isLate }) => ({
              ...visitsIn(week, visits, [before, after], minutes),
              isLate,
            })),
            booked: booked.map(({ week, visits }) => ({ on: dayOf(week, 1), visits, minutes: visits * 50 })),
            technicians: [atWork(daysOff)],
          }),
        )
        expect(checkLookAhead(ahead)).toEqual([])
      },
    ),
    { numRuns: 200 },
  )
})

test('AHEAD-5 the judge finds minutes that were lost and a peak that is none', () => {
  const ahead = lookAhead(aLookAheadQuestion({ planned: [visitsIn(4, 25, [1, 0], 80)] }))
  const [first, ...rest] = ahead.weeks
  if (!first || !ahead.peaks) throw new Error('There is a first week and a peak')
  expect(checkLookAhead({ ...ahead, weeks: [{ ...first, evenedMinutes: 60 }, ...rest] })).not.toEqual([])
  expect(checkLookAhead({ ...ahead, peaks: { ...ahead.peaks, reached: ahead.peaks.asPlanned } })).not.toEqual([])
  expect(
    checkLookAhead({ ...ahead, peaks: { ...ahead.peaks, reached: { week: 3, minutes: 0, hours: 2400 } } }),
  ).not.toEqual([])
})

test('AHEAD-1 a visit is counted in its week and nowhere else, however many rows it comes in', () => {
  const single = Array.from({ length: 300 }, (_, index) =>
    visitsIn(index % 52, 1, [index % 3, index % 4], 40 + (index % 5)),
  )
  const pairs = single.flatMap((row) => [row, row])
  const merged = single.map((row) => ({ ...row, visits: 2, nextVisits: 2 }))
  expect(lookAhead(aLookAheadQuestion({ planned: pairs }))).toEqual(lookAhead(aLookAheadQuestion({ planned: merged })))
  expect(lookAhead(aLookAheadQuestion({ planned: pairs })).weeks).toHaveLength(WEEKS_AHEAD)
})

test('AHEAD-2 hours are said as people say them', () => {
  expect([44, 60, 1880, 6000, 112_000].map(hoursInWords)).toEqual(['44 min', '1 h', '31 h 20', '100 h', '1,867 h'])
})

test('AHEAD-7 the week they are caught up by is the first for which no stretch of weeks is fuller than it has to be', () => {
  const someWeeks = fc.array(
    fc.record({ week: fc.nat(6), visits: fc.integer({ min: 1, max: 30 }), before: fc.nat(3), after: fc.nat(3) }),
    { maxLength: 8 },
  )
  fc.assert(
    fc.property(someWeeks, fc.integer({ min: 1, max: 200 }), fc.nat(60), (rows, owed, bookedVisits) => {
      const groups = rows.map(({ week, visits, before, after }) => visitsIn(week, visits, [before, after]))
      const booked = [{ on: dayOf(0, 1), visits: bookedVisits, minutes: bookedVisits * 60 }]
      const late: PlannedAhead = { ...visitsIn(0, owed), isLate: true }
      const { caughtUpBy } = lookAhead(aLookAheadQuestion({ planned: [...groups, late], booked })).late
      const bound = [
        ...rows.map(({ week, visits, before, after }) => ({
          earliest: Math.max(0, week - before),
          latest: week + after,
          minutes: visits * 60,
        })),
        { earliest: 0, latest: 0, minutes: bookedVisits * 60 },
      ]
      const hours = Array.from({ length: WEEKS_AHEAD }, () => 2400)
      // Without the late ones: hours, and where the visits must run over them, what they then come to.
      const there = evenOut(bound, hours).shares.map(({ minutes, hours: of }) =>
        Math.max(2400, Math.ceil((minutes * 2400) / of)),
      )
      const fits = (by: number): boolean =>
        there.every((_, from) =>
          there.every((__, until) => {
            const within = [...bound, { earliest: 0, latest: by, minutes: owed * 60 }]
              .filter(({ earliest, latest }) => from <= earliest && latest <= until)
              .reduce((sum, { minutes }) => sum + minutes, 0)
            return until < from || within <= there.slice(from, until + 1).reduce((sum, each) => sum + each, 0)
          }),
        )
      const first = there.findIndex((_, by) => fits(by))
      expect(caughtUpBy).toBe(first < 0 ? null : dayOf(first))
    }),
    { numRuns: 40 },
  )
})
