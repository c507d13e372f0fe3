import { expect, test } from 'vitest'
import { lookAhead } from '../../../core/visits/look-ahead.ts'
import { drawLookAhead, niceCeiling } from '../../../renderer/desk/look-ahead-geometry.ts'
import { aLookAheadQuestion, dayOf, visitsIn } from '../../builders/a-look-ahead.ts'

test('the scale ends on a round number whose half is whole', () => {
  for (let count = 1; count < 3000; count += 7) {
    const top = niceCeiling(count)
    expect(top).toBeGreaterThanOrEqual(count)
    expect(Number.isInteger(top / 2)).toBe(true)
    expect(top).toBeLessThanOrEqual(Math.max(2, count * 2))
  }
  expect(niceCeiling(110)).toBe(120)
})

test('DESK-4 booked and planned visits stand on each other to the scale of the hours', () => {
  const ahead = lookAhead(
    aLookAheadQuestion({
      planned: [visitsIn(4, 30)],
      booked: [{ on: dayOf(4, 1), visits: 10, minutes: 600 }],
    }),
  )
  const drawn = drawLookAhead(ahead, 1096)
  const week = drawn.weeks[4]
  expect(drawn.marks.map((mark) => mark.hours)).toEqual([0, 20, 40])
  const scale = (drawn.marks[0]?.y ?? 0) - (drawn.marks[2]?.y ?? 0)
  expect(week?.booked?.height).toBeCloseTo(scale / 4)
  expect(week?.planned?.height).toBeCloseTo((scale * 3) / 4)
  expect(week?.planned && week.booked && week.planned.y + week.planned.height).toBeCloseTo(week?.booked?.y ?? 0)
  expect(drawn.weeks[3]).toMatchObject({ booked: null, planned: null })
  expect(drawn.late).toBeNull()
  // 40 h in every week: the line of the hours runs along the uppermost mark.
  expect(new Set(drawn.hoursPath.match(/V[\d.]+/g))).toEqual(new Set([`V${drawn.marks[2]?.y}`]))
})

test('DESK-4 late visits stand apart, and are cut off where they would dwarf the weeks', () => {
  const some = drawLookAhead(lookAhead(aLookAheadQuestion({ planned: [{ ...visitsIn(0, 20), isLate: true }] })), 1096)
  const many = drawLookAhead(lookAhead(aLookAheadQuestion({ planned: [{ ...visitsIn(0, 900), isLate: true }] })), 1096)
  expect(some.late?.isCut).toBe(false)
  expect(many.late?.isCut).toBe(true)
  expect(many.late?.box.y).toBeGreaterThan(0)
  expect((some.late?.box.x ?? 0) + (some.late?.box.width ?? 0)).toBeLessThan(some.left)
})
