import { expect, test } from 'vitest'
import { unservedNeeds } from '../../core/stock/unserved-needs.ts'
import { partId } from '../builders/a-pull.ts'

const need = (quantity: number, ownPartOnly = false) => ({ partId: partId(1), quantity, ownPartOnly })
const served = (quantity: number, standsIn = false) => ({ partId: partId(1), quantity, standsIn })

test('PICK-6 what stands in serves no stage that takes its own part only', () => {
  expect(unservedNeeds([need(1, true), need(1)], [served(2, true)])).toEqual([
    { partId: 1, quantity: 1, ownPartOnly: true },
  ])
  expect(unservedNeeds([need(1, true), need(1)], [served(1)])).toEqual([{ partId: 1, quantity: 1 }])
  expect(unservedNeeds([need(1, true), need(2)], [served(1), served(2, true)])).toEqual([])
})
