import fc from 'fast-check'
import type { Movement } from '../../core/stock/ledger.ts'
import { lotId, placeId } from './a-pull.ts'

const anyPlace = fc.option(fc.integer({ min: 1, max: 4 }).map(placeId))

/** Any movement of three lots among four places and the world outside. */
export const anyMovement: fc.Arbitrary<Movement> = fc.record({
  lotId: fc.integer({ min: 1, max: 3 }).map(lotId),
  fromPlaceId: anyPlace,
  toPlaceId: anyPlace,
  quantity: fc.integer({ min: 1, max: 50 }),
})
