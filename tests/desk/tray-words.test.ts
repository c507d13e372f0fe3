import { describe, expect, test } from 'vitest'
import { nextActions, type TrayFacts, trayLine } from '../../core/desk/tray-words.ts'
import { TRAYS } from '../../core/desk/trays.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'

const TODAY = calendarDate('2026-12-01')
const NOTHING: TrayFacts = {
  today: TODAY,
  locale: 'en-US',
  dueDays: 28,
  due: { count: 0, oldest: null },
  letters: { first: 0, second: 0, final: 0 },
  bookings: { count: 0, oldest: null },
  pull: { vans: 0, day: null, nobody: 0 },
  visits: { thisWeek: 0, today: 0, unrecorded: 0 },
  invoices: { drafts: 0, oldest: null },
  orders: { short: 0, late: 0, oldest: null },
}
const FULL: TrayFacts = {
  ...NOTHING,
  due: { count: 42, oldest: calendarDate('2026-11-09') },
  letters: { first: 118, second: 0, final: 0 },
  bookings: { count: 9, oldest: calendarDate('2026-11-16') },
  pull: { vans: 3, day: calendarDate('2026-12-02'), nobody: 0 },
  visits: { thisWeek: 27, today: 6, unrecorded: 0 },
  invoices: { drafts: 11, oldest: calendarDate('2026-11-25') },
  orders: { short: 4, late: 0, oldest: null },
}

describe('the tray line', () => {
  test('DESK-1 a tray says its count and its oldest piece', () => {
    const words = Object.fromEntries(trayLine(FULL).map((tray) => [tray.tray, `${tray.count} ${tray.words}`]))
    expect(words).toEqual({
      due: '42 3 weeks late at most',
      letters: '118 first letters owed',
      bookings: '9 wait for a call back',
      pull: '3 vans for tomorrow',
      visits: '27 this week, 6 today',
      invoices: '11 drafts to look at',
      orders: '4 parts run short',
    })
  })

  test('DESK-1 the trays lie in the order the work runs, also when they are empty', () => {
    expect(trayLine(NOTHING).map((tray) => tray.tray)).toEqual([...TRAYS])
    expect(trayLine(NOTHING).every((tray) => tray.count === 0 && tray.words !== '')).toBe(true)
  })
})

describe('the next action', () => {
  test('DESK-2 each tray names its next action as a sentence with a verb', () => {
    expect(nextActions(FULL).map((action) => action.sentence)).toEqual([
      'Look through 42 households due within 4 weeks',
      'Write 118 first letters',
      'Call 9 households for a day',
      'Pull 3 vans for tomorrow',
      'See 27 visits of this week',
      'Issue 11 invoices',
      'Order 4 parts',
    ])
  })

  test('DESK-2 an empty tray says why it is empty', () => {
    const actions = nextActions(NOTHING)
    expect(actions.every((action) => !action.isWaiting && action.detail !== '')).toBe(true)
  })

  test('DESK-2 not every van is pulled while a visit has nobody: the tray says so and what to do', () => {
    const day = calendarDate('2026-12-02')
    const pullOf = (pull: TrayFacts['pull']) => {
      const facts = { ...NOTHING, pull }
      const tray = trayLine(facts).find((each) => each.tray === 'pull')
      const action = nextActions(facts).find((each) => each.tray === 'pull')
      return [tray?.words, action?.sentence, action?.detail, action?.isWaiting]
    }
    expect(pullOf({ vans: 0, day, nobody: 0 })).toEqual([
      'all vans pulled',
      'Every van is pulled for tomorrow',
      '',
      false,
    ])
    expect(pullOf({ vans: 0, day, nobody: 1 })).toEqual([
      '1 visit without a van',
      'Give 1 visit to somebody',
      'Every van is pulled for tomorrow, but 1 visit has nobody yet: nothing is pulled for it.',
      true,
    ])
    expect(pullOf({ vans: 2, day, nobody: 3 })).toEqual([
      'vans for tomorrow',
      'Pull 2 vans for tomorrow',
      '3 visits have nobody yet: nothing is pulled for them.',
      true,
    ])
  })

  test('DESK-2 letters of several kinds are told apart', () => {
    const letters = { first: 37, second: 5, final: 1 }
    const action = nextActions({ ...FULL, letters }).find((each) => each.tray === 'letters')
    expect([action?.sentence, action?.detail]).toEqual([
      'Write 37 first letters',
      'And 5 second letters, 1 final letter.',
    ])
    expect(trayLine({ ...FULL, letters }).find((tray) => tray.tray === 'letters')).toEqual({
      tray: 'letters',
      count: 43,
      words: 'owed, 37 are first',
    })
  })

  test('DESK-1 DESK-2 late orders are said beside what runs short, and asked after when nothing does', () => {
    const late = { late: 1, oldest: calendarDate('2026-11-23') }
    const words = (orders: TrayFacts['orders']) => {
      const facts = { ...FULL, orders }
      const action = nextActions(facts).find((each) => each.tray === 'orders')
      return [trayLine(facts).find((tray) => tray.tray === 'orders')?.words, action?.sentence, action?.detail]
    }
    expect(words({ short: 0, ...late })).toEqual([
      '1 order 8 days late',
      'Ask after 1 late order',
      'Awaited: 1 order 8 days late.',
    ])
    expect(words({ short: 0, ...late, late: 3 })[0]).toBe('3 orders late')
    expect(words({ short: 2, ...late, late: 3 })).toEqual([
      'short, 3 orders late',
      'Order 2 parts',
      'Awaited: 3 orders up to 8 days late.',
    ])
  })

  test('DESK-3 a finished visit that nobody recorded comes before the visits of the week', () => {
    const [visit] = nextActions({ ...FULL, visits: { thisWeek: 27, today: 6, unrecorded: 1 } }).filter(
      (action) => action.tray === 'visits',
    )
    expect(visit?.sentence).toBe('Record 1 finished visit')
  })
})
