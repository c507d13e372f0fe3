import { expect, test } from 'vitest'
import { drawWanted, wantedWords } from '../../core/orders/demand-picture.ts'
import { proposeReorders } from '../../core/orders/reorder.ts'
import type { ReorderInput } from '../../core/orders/reorder-shapes.ts'
import { drawStock, stockWords } from '../../core/orders/stock-picture.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import type { Drawing } from '../../core/units/drawing.ts'
import { aReorderInput, aReorderPart, aTerm, part, someBooked, someLikely } from '../builders/a-reorder.ts'

/** Two booked, ten households at one third in three weeks, five there of which three expire, a delivery on its way. */
const story: Partial<ReorderInput> = {
  parts: [aReorderPart(1, { terms: [aTerm({ packSize: 12 })] })],
  booked: [someBooked(2, '2026-12-03')],
  likely: [someLikely(10, 1 / 3, { day: 15 })],
  stock: [
    { partId: part(1), expiresOn: calendarDate('2026-12-06'), recalled: false, quantity: 5 },
    { partId: part(1), expiresOn: null, recalled: false, quantity: 1 },
  ],
  incoming: [{ partId: part(1), quantity: 1, expectedOn: calendarDate('2026-12-01') }],
}

function opened(own: Partial<ReorderInput> = {}) {
  const [proposal] = proposeReorders(aReorderInput({ ...story, ...own })).proposals
  if (!proposal?.wanted) throw new Error('The test expects a demand')
  return { proposal, wanted: proposal.wanted }
}

function wordsOn(drawing: Drawing | null): string[] {
  return (drawing?.marks ?? []).flatMap((mark) => (mark.kind === 'words' ? [mark.text] : []))
}

function isWithin({ width, height, marks }: Drawing): boolean {
  return marks.every((mark) => {
    const spots = mark.kind === 'line' ? mark.lines.flat() : mark.kind === 'tint' ? mark.outline : [mark.at]
    return spots.every(({ x, y }) => x >= 0 && x <= width && y >= 0 && y <= height)
  })
}

test('ORD-58 the picture of what may be wanted shows each number as high as it is likely, the level, and what is there', () => {
  const { wanted } = opened()
  const drawing = drawWanted(wanted, 480)
  expect(wordsOn(drawing)).toEqual(expect.arrayContaining([`${wanted.level} are enough in 98 of 100 cases`]))
  expect(wordsOn(drawing)).toContain('4 there or on the way: in 29 of 100 cases')
  // One outline with a step for each number of pieces, the highest of them at the top.
  const outline = drawing?.marks.flatMap((mark) => (mark.kind === 'line' && mark.look === 'firm' ? mark.lines : []))[0]
  expect(outline).toHaveLength(2 * wanted.chances.length + 2)
  const heights = (outline ?? []).slice(1, -1).filter((_, at) => at % 2 === 0)
  const highest = Math.max(...wanted.chances)
  heights.forEach(({ y }, at) => {
    expect((168 - y) / (168 - 62)).toBeCloseTo((wanted.chances[at] ?? 0) / highest, 10)
  })
  for (const width of [320, 480, 900]) expect(isWithin(drawWanted(wanted, width) as Drawing)).toBe(true)
})

test('ORD-58 what the level would not be enough for is hatched, right of the level and under the columns', () => {
  const { wanted } = opened({ parts: [aReorderPart(1, { serviceLevelPercent: 60 })] })
  const drawing = drawWanted(wanted, 640)
  const hatching = drawing?.marks.flatMap((mark) => (mark.kind === 'line' && mark.look === 'thin' ? mark.lines : []))
  const level = drawing?.marks.flatMap((mark) => (mark.kind === 'line' && mark.look === 'firm' ? mark.lines : []))[1]
  expect(hatching?.length).toBeGreaterThan(3)
  for (const { x } of hatching?.flat() ?? []) expect(x).toBeGreaterThanOrEqual(level?.[0]?.x ?? 0)
})

test('ORD-58 the stock ahead is drawn with and without the order, with what comes in and what expires', () => {
  const { proposal } = opened()
  const facts = { weeks: proposal.weeks, covers: proposal.covers, order: proposal.order, locale: 'en-US' }
  const drawing = drawStock(facts, 560)
  expect(wordsOn(drawing)).toEqual(
    expect.arrayContaining(['with this order', 'without it', '+1', '+12', '−3 expire', 'to last until Dec 12']),
  )
  for (const width of [320, 560, 900]) expect(isWithin(drawStock(facts, width) as Drawing)).toBe(true)
  expect(stockWords(facts)).toBe(
    '6 are on hand today. Without this order pieces are missing from the week of Dec 9, 2026; 1 comes in the week of Nov 25, 2026; 12 come in the week of Dec 2, 2026; 3 expire in the week of Dec 2, 2026; with it, at the end, on Feb 16, 2027, 11 are left. The order has to last until Dec 12, 2026.',
  )
})

test('ORD-58 the stock ahead adds up week by week: what was there and comes in, less what is used and expires, is what is left', () => {
  const { proposal } = opened()
  let there = 6
  for (const week of proposal.weeks) {
    there += week.arrives - week.use - week.expires
    expect(week.leftWithOrder).toBeCloseTo(there, 9)
  }
  expect(proposal.weeks).toHaveLength(12)
  expect(proposal.runsOutOn).toBe('2026-12-10')
})

test('ORD-58 the picture says the same in words', () => {
  const { wanted } = opened()
  expect(wantedWords(wanted)).toBe(
    'From 2 to 11 pieces may be wanted, 5 most likely, 2 of them booked. 8 are enough in 98 of 100 cases. 4 are there or on their way: enough in 29 of 100 cases.',
  )
  expect(drawWanted({ ...wanted, possible: 0, chances: [1] }, 480)).toBeNull()
})
