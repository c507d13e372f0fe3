import fc from 'fast-check'
import { expect, test } from 'vitest'
import { sharePieces } from '../../core/stock/share-pieces.ts'

test('PICK-14 when fewer are found the first stops of the day get theirs and the last go without', () => {
  const stops = [
    { stop: 3, quantity: 2 },
    { stop: 1, quantity: 1 },
    { stop: 2, quantity: 3 },
  ]
  expect(sharePieces(stops, 3).map(({ stop, gets, lacks }) => [stop, gets, lacks])).toEqual([
    [1, 1, 0],
    [2, 2, 1],
    [3, 0, 2],
  ])
})

test('PICK-14 what the stops get is what was found, nobody gets more than asked, and no later stop is served before an earlier one', () => {
  const stopsOf = fc.uniqueArray(
    fc.record({ stop: fc.integer({ min: 1, max: 20 }), quantity: fc.integer({ min: 0, max: 9 }) }),
    {
      selector: (row) => row.stop,
      maxLength: 8,
    },
  )
  fc.assert(
    fc.property(stopsOf, fc.integer({ min: 0, max: 80 }), (stops, found) => {
      const shares = sharePieces(stops, found)
      const asked = stops.reduce((sum, row) => sum + row.quantity, 0)
      expect(shares.reduce((sum, row) => sum + row.gets, 0)).toBe(Math.min(found, asked))
      for (const row of shares) expect(row.gets + row.lacks).toBe(row.quantity)
      const firstLacking = shares.findIndex((row) => row.lacks > 0)
      if (firstLacking >= 0) for (const row of shares.slice(firstLacking + 1)) expect(row.gets).toBe(0)
    }),
  )
})
