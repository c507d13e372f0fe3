import { expect, test } from 'vitest'
import { hatchWithin, spreadDown } from '../../core/units/drawing.ts'

test('hatching keeps to where it belongs, in a box and in a round', () => {
  const box = { x: 10, y: 20, width: 40, height: 30 }
  const strokes = hatchWithin(box, 6, () => true)
  expect(strokes.length).toBeGreaterThan(8)
  for (const { x, y } of strokes.flat()) {
    expect(x).toBeGreaterThanOrEqual(10)
    expect(x).toBeLessThanOrEqual(50)
    expect(y).toBeGreaterThanOrEqual(20)
    expect(y).toBeLessThanOrEqual(50)
  }
  const inRound = ({ x, y }: { x: number; y: number }) => (x - 30) ** 2 + (y - 35) ** 2 <= 100
  expect(hatchWithin(box, 6, inRound).flat().every(inRound)).toBe(true)
})

test('labels that lie too close go down, in their order', () => {
  const spread = spreadDown(
    [
      { y: 40, words: 'overdue' },
      { y: 10, words: 'whole' },
      { y: 37, words: 'replace' },
    ],
    15,
  )
  expect(spread.map(({ words, y }) => `${words} ${y}`)).toEqual(['whole 10', 'replace 37', 'overdue 52'])
})
