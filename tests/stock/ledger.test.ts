import fc from 'fast-check'
import { expect, test } from 'vitest'
import { counterMovement, type Movement, movementOfCount, onHand } from '../../core/stock/ledger.ts'
import { unservedNeeds } from '../../core/stock/unserved-needs.ts'
import { anyMovement } from '../builders/a-movement.ts'
import { lotId, partId, placeId } from '../builders/a-pull.ts'

test('STK-1 stock on hand is the sum of the movements', () => {
  const movements: Movement[] = [
    { lotId: lotId(1), fromPlaceId: null, toPlaceId: placeId(1), quantity: 40 },
    { lotId: lotId(1), fromPlaceId: placeId(1), toPlaceId: placeId(2), quantity: 9 },
    { lotId: lotId(1), fromPlaceId: placeId(2), toPlaceId: null, quantity: 9 },
  ]
  expect(onHand(movements)).toEqual([{ lotId: 1, placeId: 1, quantity: 31 }])
})

test('STK-2 a movement and its counter-movement leave everything as it was', () => {
  fc.assert(
    fc.property(fc.array(anyMovement), anyMovement, (before, mistake) => {
      expect(onHand([...before, mistake, counterMovement(mistake)])).toEqual(onHand(before))
    }),
  )
})

test('STK-3 after a count the books say what was counted, whatever they said before', () => {
  fc.assert(
    fc.property(fc.array(anyMovement), fc.nat(200), (before, counted) => {
      const [lot, place] = [lotId(1), placeId(1)]
      const at = (movements: readonly Movement[]) =>
        onHand(movements).find((balance) => balance.lotId === lot && balance.placeId === place)?.quantity ?? 0
      const result = movementOfCount({ lotId: lot, placeId: place, quantity: at(before), counted })
      const movement = result.ok ? result.value : null
      expect(at(movement ? [...before, movement] : before)).toBe(counted)
    }),
  )
})

test('STK-3 a count that agrees moves nothing; a count of minus three or of half a piece is refused', () => {
  const count = (counted: number) => movementOfCount({ lotId: lotId(1), placeId: placeId(1), quantity: 5, counted })
  expect(count(5)).toEqual({ ok: true, value: null })
  for (const counted of [-3, 2.5, Number.NaN]) expect(count(counted).ok).toBe(false)
  const refusal = count(-3)
  expect(refusal.ok ? '' : refusal.problem.sentence).toBe('A count of -3 is not a number of pieces.')
})

test('PICK-1 what a visit still lacks is what it needs without what is set aside for it', () => {
  const wants = (id: number, quantity: number) => ({ partId: partId(id), quantity })
  expect(unservedNeeds([wants(1, 2), wants(2, 1), wants(1, 1)], [wants(1, 1), wants(2, 1), wants(3, 4)])).toEqual([
    wants(1, 2),
  ])
  expect(unservedNeeds([], [])).toEqual([])
})
