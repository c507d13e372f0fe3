import { expect, test } from 'vitest'
import { HeapsInReach } from '../../core/stock/heaps-in-reach.ts'
import { shareOut } from '../../core/stock/share-out.ts'
import {
  aPickListInput,
  aPullPart,
  aPullVisit,
  aStock,
  lotId,
  partId,
  placeId,
  vanId,
  visitId,
} from '../builders/a-pull.ts'

test('PICK-6 as few pieces as can be stand in, even when somebody else has to move over', () => {
  const input = aPickListInput({
    visits: [
      aPullVisit({ needs: [{ partId: partId(1), quantity: 1 }] }),
      aPullVisit({ visitId: visitId(2), stop: 2, needs: [{ partId: partId(2), quantity: 1 }] }),
    ],
    parts: [aPullPart(1, { substitutes: [partId(2)] }), aPullPart(2, { substitutes: [partId(3)] }), aPullPart(3)],
    stock: [
      aStock({ placeId: placeId(2), lotId: lotId(2), partId: partId(2), onHand: 1 }),
      aStock({ placeId: placeId(3), lotId: lotId(3), partId: partId(3), onHand: 1 }),
    ],
  })
  const reach = new HeapsInReach(input)
  const whole = input.visits.map((visit) => ({ visit, needs: reach.needsOf(visit) }))
  expect(shareOut(reach, whole).map((each) => [each.visit?.visitId, each.stock.partId, each.insteadOf])).toEqual([
    [1, 2, 1],
    [2, 3, 2],
  ])
})

test('PICK-2 a piece on the van goes before one in the warehouse, also where parts stand in', () => {
  const input = aPickListInput({
    visits: [aPullVisit({ needs: [{ partId: partId(1), quantity: 2 }] })],
    parts: [aPullPart(1, { substitutes: [partId(2)] }), aPullPart(2)],
    stock: [
      aStock({ onHand: 1 }),
      aStock({ placeId: placeId(2), lotId: lotId(2), partId: partId(2), onHand: 5 }),
      aStock({ placeId: placeId(9), vanId: vanId(1), lotId: lotId(3), partId: partId(2), onHand: 5 }),
    ],
  })
  const reach = new HeapsInReach(input)
  const whole = input.visits.map((visit) => ({ visit, needs: reach.needsOf(visit) }))
  expect(shareOut(reach, whole).map((each) => [each.stock.lotId, each.quantity])).toEqual([
    [1, 1],
    [3, 1],
  ])
})
