import fc from 'fast-check'
import { expect, test } from 'vitest'
import { planTopUp } from '../../core/stock/van-par.ts'
import { aPullVan, partId, vanId } from '../builders/a-pull.ts'

const pars = (quantity: number) => [{ partId: partId(1), quantity }]

test('PICK-17 few pieces are spread so that no van is filled while another has none', () => {
  const { topUps, leftOut } = planTopUp({
    vans: [
      aPullVan({ pars: pars(4) }),
      aPullVan({ vanId: vanId(2), pars: pars(4) }),
      aPullVan({ vanId: vanId(3), pars: pars(2) }),
    ],
    staysOn: (van) => (van === 2 ? 3 : 0),
    spare: () => 4,
    roomOf: () => 0,
  })
  expect(topUps.map(({ vanId: van, quantity }) => [van, quantity])).toEqual([
    [1, 3],
    [3, 1],
  ])
  expect(leftOut.map(({ vanId: van, quantity, why }) => [van, quantity, why])).toEqual([
    [1, 1, 'none-left'],
    [2, 1, 'none-left'],
    [3, 1, 'none-left'],
  ])
})

test('PICK-17 PICK-18 no van gets more than its par, than is spare, or than it has room for; what is left out is counted', () => {
  const anyVan = fc.record({ par: fc.nat(6), has: fc.nat(6), room: fc.option(fc.nat(9000)), taken: fc.nat(4000) })
  fc.assert(
    fc.property(fc.array(anyVan, { maxLength: 5 }), fc.nat(12), fc.constantFrom(0, 700, 1000), (rows, spare, size) => {
      const vans = rows.map((row, index) =>
        aPullVan({
          vanId: vanId(index + 1),
          pars: pars(row.par),
          roomMillilitres: row.room,
          takenMillilitres: row.taken,
        }),
      )
      const has = (van: number) => rows[van - 1]?.has ?? 0
      const { topUps, leftOut, taken } = planTopUp({ vans, staysOn: has, spare: () => spare, roomOf: () => size })
      expect(topUps.reduce((sum, each) => sum + each.quantity, 0)).toBeLessThanOrEqual(spare)
      for (const [index, row] of rows.entries()) {
        const of = (list: readonly { readonly vanId: number; readonly quantity: number }[]) =>
          list.reduce((sum, each) => sum + (each.vanId === index + 1 ? each.quantity : 0), 0)
        expect(of(topUps) + of(leftOut)).toBe(Math.max(0, row.par - row.has))
        expect(taken.get(vanId(index + 1))).toBe(row.taken + of(topUps) * size)
        if (of(topUps) > 0 && size > 0 && row.room !== null)
          expect(row.taken + of(topUps) * size).toBeLessThanOrEqual(row.room)
      }
    }),
  )
})
