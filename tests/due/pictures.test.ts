import { expect, test } from 'vitest'
import { drawFlow } from '../../core/due/flow-picture.ts'
import { drawRejection } from '../../core/due/rejection-picture.ts'
import type { Drawing, Mark, Spot } from '../../core/units/drawing.ts'
import { aRejectionStory, BELOW, FAILING, FALLEN, HEALTHY, TOO_FEW } from '../renderer/gallery/some-stories.ts'

const wordsOf = (drawing: Drawing | null): string[] =>
  drawing?.marks.flatMap((mark) => (mark.kind === 'words' ? [mark.text] : [])) ?? []
const pointsOf = (drawing: Drawing | null, shape: string): Spot[] =>
  drawing?.marks.flatMap((mark) => (mark.kind === 'point' && mark.shape === shape ? [mark.at] : [])) ?? []
const linesOf = (drawing: Drawing | null, look: string): Spot[][] =>
  drawing?.marks.flatMap((mark) =>
    mark.kind === 'line' && mark.look === look ? mark.lines.map((line) => [...line]) : [],
  ) ?? []
const spotsOf = (mark: Mark): readonly Spot[] =>
  mark.kind === 'line' ? mark.lines.flat() : mark.kind === 'tint' ? mark.outline : [mark.at]

test('PIC-1 a reading that counts is a dot, an unlikely one a ring, a struck one a cross, each named below', () => {
  const drawing = drawRejection(FAILING, 600)
  // One of each more than there are readings: the legend.
  expect(pointsOf(drawing, 'dot')).toHaveLength(8 + 1)
  expect(pointsOf(drawing, 'ring')).toHaveLength(1 + 1)
  expect(pointsOf(drawing, 'cross')).toHaveLength(1 + 1)
  expect(wordsOf(drawing)).toEqual(expect.arrayContaining(['counts', 'unlikely, does not count', 'struck out']))
  expect(wordsOf(drawRejection(HEALTHY, 600))).not.toContain('struck out')
})

test('PIC-2 the three marks, the trend beyond its readings and the crossing between its earliest and latest day', () => {
  const drawing = drawRejection(FAILING, 600)
  expect(wordsOf(drawing)).toEqual(
    expect.arrayContaining(['100 %', 'healthy 90 %', 'replace 75 %', 'overdue 70 %', 'today', 'fitted May 2023']),
  )
  const { on, earliestOn, latestOn } = FAILING.crossing ?? { on: null, earliestOn: null, latestOn: null }
  expect([earliestOn, on, latestOn].toSorted()).toEqual([earliestOn, on, latestOn])
  expect(on).not.toBeNull()
  const bracket = linesOf(drawing, 'firm').find(
    (line) => line.length === 2 && line[0]?.y === line[1]?.y && (line[0]?.x ?? 0) > 100,
  )
  const mark = linesOf(drawing, 'firm').find((line) => line.length === 4)?.[0]?.x ?? 0
  expect(bracket?.[0]?.x).toBeLessThanOrEqual(mark)
  expect(bracket?.[1]?.x).toBeGreaterThanOrEqual(mark)
  expect(linesOf(drawing, 'water')).toHaveLength(1)
  expect(linesOf(drawing, 'water-dashed')).toHaveLength(1)
})

test('PIC-2 the band is hatched only where the trend is, and no mark leaves the picture', () => {
  expect(linesOf(drawRejection(TOO_FEW, 600), 'thin')).toEqual([])
  for (const story of [FAILING, BELOW, HEALTHY, TOO_FEW])
    for (const width of [320, 556, 940]) {
      const drawing = drawRejection(story, width)
      for (const { x, y } of drawing?.marks.flatMap(spotsOf) ?? []) {
        expect(x).toBeGreaterThanOrEqual(0)
        expect(x).toBeLessThanOrEqual(width)
        expect(y).toBeGreaterThanOrEqual(0)
        expect(y).toBeLessThanOrEqual(drawing?.height ?? 0)
      }
    }
  expect(linesOf(drawRejection(BELOW, 600), 'thin').length).toBeGreaterThan(5)
})

test('PIC-2 without a reading there is no picture; one reading alone is drawn without a trend', () => {
  expect(drawRejection(aRejectionStory('2024-01-01', []), 600)).toBeNull()
  const one = drawRejection(aRejectionStory(null, [['2026-05-08', 91]]), 600)
  expect(pointsOf(one, 'dot')).toHaveLength(1)
  expect(linesOf(one, 'water')).toEqual([])
  expect(wordsOf(one)).toContain('since the first reading')
})

test('PIC-3 flow put right beside flow as measured, the first readings and the fall that is flagged', () => {
  const drawing = drawFlow(FALLEN, 600, 'us')
  // 163 mL/min is 62 gal/day; less 15 % it is 53.
  expect(wordsOf(drawing)).toEqual(expect.arrayContaining(['at first 62', 'less 15 %: 53', '0 gal/day']))
  expect(wordsOf(drawFlow(FALLEN, 600, 'metric'))).toEqual(
    expect.arrayContaining(['at first 163', 'less 15 %: 139', '0 mL/min']),
  )
  expect(pointsOf(drawing, 'square')).toHaveLength(8 + 1)
  expect(pointsOf(drawing, 'dot')).toHaveLength(7 + 1)
  const [first, limit] = [linesOf(drawing, 'firm')[0]?.[0]?.y ?? 0, linesOf(drawing, 'dashed')[0]?.[0]?.y ?? 0]
  const last = linesOf(drawing, 'water')[0]?.at(-1)?.y ?? 0
  expect(first).toBeLessThan(limit)
  expect(limit).toBeLessThan(last)
})

test('PIC-3 nothing to compare with draws no line of first readings; no flow at all draws nothing', () => {
  const first = FALLEN.points[0]
  const alone = drawFlow({ ...FALLEN, firstFlow: null, points: first ? [first] : [] }, 600, 'us')
  expect(linesOf(alone, 'firm')).toEqual([])
  expect(drawFlow({ ...FALLEN, points: [] }, 600, 'us')).toBeNull()
})
