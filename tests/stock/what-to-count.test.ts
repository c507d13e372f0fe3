import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { checkWhatToCount } from '../../core/stock/check-what-to-count.ts'
import {
  classesByUse,
  countInterval,
  type PartUse,
  type UseClass,
  whatToCount,
} from '../../core/stock/what-to-count.ts'
import { addDays } from '../../core/units/calendar-date.ts'
import { cents } from '../../core/units/money.ts'
import { aCountWeek, aHeapToCount, anyCountWeek, COUNTED_ON, RULES } from '../builders/a-count-week.ts'
import { lotId, partId, placeId } from '../builders/a-pull.ts'

const use = (id: number, value: number): PartUse => ({ partId: partId(id), usedValue: cents(value) })
const whyOf = (heap: ReturnType<typeof aHeapToCount>) =>
  whatToCount(aCountWeek({ heaps: [heap] }), 'en-US').chosen[0]?.why ?? 'not counted'

describe('STK-44 parts by what is used of them in a year', () => {
  test('the fewest that make up four fifths are used much, the next up to 95 in 100 some, the rest little', () => {
    const classes = classesByUse([
      use(1, 5_000),
      use(2, 60_000),
      use(3, 20_000),
      use(4, 12_000),
      use(5, 3_000),
      use(6, 0),
    ])
    expect([...classes]).toEqual([
      [2, 'much'],
      [3, 'much'],
      [4, 'some'],
      [1, 'some'],
      [5, 'little'],
      [6, 'little'],
    ])
    expect([...classesByUse([use(1, 0), use(2, 0)]).values()]).toEqual(['little', 'little'])
  })

  // Ten items by annual volume in currency, the first two class A with 72 % of it, three B with 23 %, five C with 5 %: the ABC example of
  // Heizer and Render, Operations Management, chapter on inventory (from memory; the shares of its A and B are that book's own choice of cut).
  test('the textbook’s ten items fall into the same order, its first two ahead of all others', () => {
    const items: [number, number][] = [
      [1000, 90],
      [500, 154],
      [1550, 17],
      [350, 42.86],
      [1000, 12.5],
      [600, 14.17],
      [2000, 0.6],
      [100, 8.5],
      [1200, 0.42],
      [250, 0.6],
    ]
    const uses = items.map(([volume, cost], at) => use(at + 1, Math.round(volume * cost * 100)))
    const whole = uses.reduce((sum, each) => sum + each.usedValue, 0)
    expect(Math.round(whole / 100)).toBe(232_057)
    const classes = classesByUse(uses)
    expect([...classes.keys()]).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10].filter((id) => classes.has(partId(id))))
    expect(([1, 2, 3] as const).map((id) => classes.get(partId(id)))).toEqual(['much', 'much', 'much'])
    expect([7, 8, 9, 10].map((id) => classes.get(partId(id)))).toEqual(['little', 'little', 'little', 'little'])
  })

  test('whatever is used, the parts used much make up four fifths, and one fewer would not', () => {
    fc.assert(
      fc.property(fc.array(fc.nat(10_000), { minLength: 1, maxLength: 30 }), (values) => {
        const uses = values.map((value, at) => use(at + 1, value))
        const classes = classesByUse(uses)
        const worth = (of: readonly UseClass[]) =>
          uses
            .filter((each) => of.includes(classes.get(each.partId) ?? 'little'))
            .map((each) => each.usedValue as number)
        const sum = (list: readonly number[]) => list.reduce((total, value) => total + value, 0)
        const whole = sum(values)
        const much = worth(['much'])
        expect(sum(much)).toBeGreaterThanOrEqual(0.8 * whole)
        if (much.length > 0) expect(sum(much) - Math.min(...much)).toBeLessThan(0.8 * whole)
        const both = worth(['much', 'some'])
        expect(sum(both)).toBeGreaterThanOrEqual(0.95 * whole)
        if (whole > 0) expect(Math.min(...both)).toBeGreaterThanOrEqual(Math.max(0, ...worth(['little'])))
      }),
    )
  })
})

test('STK-45 a lot is counted as often as its part is used, sooner where it moves often or was off the last time', () => {
  const days = (own: Parameters<typeof aHeapToCount>[0], of: UseClass) =>
    countInterval(aHeapToCount(own), of, RULES).days
  expect((['much', 'some', 'little'] as const).map((of) => days({}, of))).toEqual([28, 91, 182])
  expect((['much', 'some', 'little'] as const).map((of) => days({ touched: 20 }, of))).toEqual([28, 28, 91])
  expect((['much', 'some', 'little'] as const).map((of) => days({ lastDifference: 1 }, of))).toEqual([14, 46, 91])
  expect(days({ touched: 19 }, 'little')).toBe(182)
})

// 500 A items monthly (20 working days), 1,750 B quarterly (60), 2,750 C half-yearly (120): 77 items a working day, the cycle-counting example
// of Heizer and Render, Operations Management (from memory); here by weeks of five working days.
test('STK-45 monthly, quarterly and half-yearly counts of 5,000 items come to the textbook’s 77 a working day', () => {
  const rules = { ...RULES, weeksMuch: 4, weeksSome: 12, weeksLittle: 24 }
  const items: [UseClass, number][] = [
    ['much', 500],
    ['some', 1750],
    ['little', 2750],
  ]
  const aWeek = items.reduce((sum, [of, count]) => sum + (count * 7) / countInterval(aHeapToCount(), of, rules).days, 0)
  const aDay = items.map(([of, count]) => (count * 7) / countInterval(aHeapToCount(), of, rules).days / 5)
  expect(aDay.map(Math.round)).toEqual([25, 29, 23])
  expect(Math.round(aWeek / 5)).toBe(77)
})

test('STK-46 each lot to count says why in words', () => {
  expect(whyOf(aHeapToCount())).toBe(
    'Last counted 10 weeks ago. It is one of the parts that make up four fifths of what you use: every 4 weeks, due since Oct 20, 2026.',
  )
  expect(whyOf(aHeapToCount({ lastDifference: 3 }))).toContain('off by 3 the last time: every 2 weeks')
  expect(whyOf(aHeapToCount({ partId: partId(2), touched: 24, lastCountedOn: addDays(COUNTED_ON, -86) }))).toBe(
    'Last counted 3 months ago. It is a part that is little used, moved 24 times in 13 weeks: every 13 weeks, due on Dec 6, 2026.',
  )
  expect(whyOf(aHeapToCount({ lastCountedOn: null }))).toContain('Never counted; its lot came in 10 months ago.')
  expect(whyOf(aHeapToCount({ missedOn: COUNTED_ON }))).toBe(
    'A pull found fewer here than the books say, on Dec 1, 2026.',
  )
  expect(whyOf(aHeapToCount({ lastCountedOn: addDays(COUNTED_ON, -21) }))).toBe('not counted')
  expect(whyOf(aHeapToCount({ lastCountedOn: addDays(COUNTED_ON, -22) }))).toContain('due on Dec 7, 2026')
})

test('STK-46 the reasons do not say how many pieces the books expect', () => {
  const keys: (keyof ReturnType<typeof aHeapToCount>)[] = Object.keys(aHeapToCount()) as never
  expect(keys.some((key) => /quantity|pieces|value/.test(key))).toBe(false)
})

describe('STK-47 a week of counting', () => {
  test('is lawful in every warehouse', () => {
    fc.assert(
      fc.property(anyCountWeek, (week) => {
        expect(checkWhatToCount(week, whatToCount(week, 'en-US'))).toEqual([])
      }),
      { numRuns: 400 },
    )
  })

  test('comes in the order of the walk, and what a pull missed has no limit', () => {
    const heaps = [3, 1, 2].map((n) =>
      aHeapToCount({ placeId: placeId(n), lotId: lotId(n), walkOrder: n, missedOn: n === 2 ? null : COUNTED_ON }),
    )
    const plan = whatToCount(aCountWeek({ heaps, rules: { ...RULES, heapsAWeek: 1 } }), 'en-US')
    expect(plan.chosen.map((heap) => heap.placeId)).toEqual([1, 3])
    expect(plan.waiting).toBe(1)
  })

  test('leaves nothing waiting for ever: with room for what falls due, nothing waits for three of its intervals', () => {
    const parts = [1, 2]
    let heaps = Array.from({ length: 24 }, (_, n) =>
      aHeapToCount({
        placeId: placeId(1 + (n % 9)),
        lotId: lotId(n + 1),
        partId: partId(parts[n % 2] ?? 1),
        lastCountedOn: null,
        since: COUNTED_ON,
      }),
    )
    const counted = new Set<number>()
    for (let weeks = 1; weeks <= 120; weeks += 1) {
      const today = addDays(COUNTED_ON, weeks * 7)
      // 12 heaps every 4 weeks and 12 every 26: 3.5 a week.
      const week = aCountWeek({ today, heaps, rules: { ...RULES, heapsAWeek: 4 } })
      const chosen = new Set(whatToCount(week, 'en-US').chosen.map((heap) => heap.lotId))
      for (const heap of heaps) {
        const { days } = countInterval(heap, heap.partId === 1 ? 'much' : 'little', RULES)
        expect(addDays(heap.lastCountedOn ?? heap.since, days * 3) >= today).toBe(true)
      }
      for (const id of chosen) counted.add(id)
      heaps = heaps.map((heap) => (chosen.has(heap.lotId) ? { ...heap, lastCountedOn: today } : heap))
    }
    expect(counted.size).toBe(24)
  })
})

test('STK-47 the judge sees a week that is not lawful', () => {
  const late = aHeapToCount({ placeId: placeId(2), lastCountedOn: addDays(COUNTED_ON, -200) })
  const early = aHeapToCount({ placeId: placeId(3), lastCountedOn: COUNTED_ON })
  const missed = aHeapToCount({ placeId: placeId(4), missedOn: COUNTED_ON })
  const heaps = [aHeapToCount(), late, early, missed]
  const tight = aCountWeek({ heaps, rules: { ...RULES, heapsAWeek: 2 } })
  const judged = (ids: readonly number[], own: { waiting?: number; why?: string } = {}) =>
    checkWhatToCount(tight, {
      chosen: ids.map((id) => ({ placeId: placeId(id), lotId: lotId(1), why: own.why ?? 'because' })),
      waiting: own.waiting ?? 1,
    }).join(' ')
  expect(judged([2, 4])).toBe('')
  expect(judged([2, 2, 4])).toContain('counted twice')
  expect(judged([9, 4])).toContain('There is no lot 1 in place 9')
  expect(judged([2, 4], { why: ' ' })).toContain('Nobody knows why')
  expect(judged([2])).toContain('is left out')
  expect(judged([3, 4], { waiting: 2 })).toContain('too early')
  expect(judged([1, 2, 4], { waiting: 0 })).toContain('room for 1')
  expect(judged([4], { waiting: 2 })).toContain('There is room for more')
  expect(judged([2, 4], { waiting: 3 })).toContain('1 wait, not 3')
  expect(judged([1, 4])).toContain('waits for longer')
})
