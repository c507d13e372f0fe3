import fc from 'fast-check'
import { expect, test } from 'vitest'
import { missingOn, missingWords, type PartSupply } from '../../core/orders/parts-of-visit.ts'
import { addDays, calendarDate } from '../../core/units/calendar-date.ts'
import { partIdSchema } from '../../core/units/ids.ts'

const day = calendarDate
const today = day('2026-11-28')
const MEMBRANE: PartSupply = {
  partId: partIdSchema.parse(1),
  name: 'Membrane 75',
  needed: 1,
  stock: [{ expiresOn: null, quantity: 2 }],
  promised: [{ on: day('2026-11-30'), quantity: 3 }],
  deliveries: [],
  standIns: [],
}
const order = (orderNumber: string, expectedOn: string | null, quantity = 6) => ({
  orderNumber,
  supplierName: 'Orrin Supply',
  expectedOn: expectedOn === null ? null : day(expectedOn),
  quantity,
})

function said(supply: Partial<PartSupply>, on = '2026-12-02'): string {
  const missing = missingOn({ ...MEMBRANE, ...supply }, day(on), today)
  return missing === null ? '' : missingWords(missing, day(on), today, 'en-US')
}

test('ORD-86 a late order is named with its day and how late it is', () => {
  expect(said({ deliveries: [order('PO-2026-0014', '2026-11-20')] })).toBe(
    'Membrane 75: 2 on hand, 3 promised; order PO-2026-0014 from Orrin Supply was expected Nov 20, 8 days late.',
  )
})

test('ORD-86 a delivery in time is enough, one on the day or after it is not, and both are said', () => {
  expect(said({ deliveries: [order('PO-2026-0015', '2026-12-01')] })).toBe('')
  expect(said({ deliveries: [order('PO-2026-0015', '2026-12-04')] })).toBe(
    'Membrane 75: 2 on hand, 3 promised; order PO-2026-0015 from Orrin Supply comes Dec 4, after this visit.',
  )
  expect(said({ deliveries: [order('PO-2026-0015', '2026-12-02')] })).toContain(
    'comes Dec 2, on the day of this visit, too late to be pulled for it.',
  )
  expect(said({ deliveries: [order('A', '2026-11-20'), order('B', '2026-12-04')] })).toBe(
    'Membrane 75: 2 on hand, 3 promised; order A from Orrin Supply was expected Nov 20, 8 days late; order B from Orrin Supply comes Dec 4, after this visit.',
  )
  expect(said({ stock: [], promised: [] })).toBe('Membrane 75: none on hand; none is on order.')
  expect(said({ deliveries: [order('A', null)] })).toContain('order A from Orrin Supply has no day.')
})

test('ORD-91 the first part in the dealer’s order of which as many are free stands in, and no order is spoken of', () => {
  const standIn = (name: string, quantity: number, promised = 0) => ({
    name,
    stock: [{ expiresOn: null, quantity }],
    promised: [{ on: day('2026-12-01'), quantity: promised }],
    deliveries: [],
  })
  const late = { deliveries: [order('A', '2026-11-20')] }
  expect(said({ ...late, standIns: [standIn('Membrane 50', 3, 3), standIn('Membrane 100', 4, 3)] })).toBe(
    'Membrane 75: 2 on hand, 3 promised; Membrane 100 stands in for it.',
  )
  expect(said({ ...late, standIns: [standIn('Membrane 50', 3, 3)] })).toContain(
    'order A from Orrin Supply was expected',
  )
  // Two are short: one alone does not stand in for them.
  expect(said({ needed: 2, standIns: [standIn('Membrane 50', 1), standIn('Membrane 100', 2)] })).toContain(
    'Membrane 100 stands in',
  )
  const inTime = { ...standIn('Membrane 50', 0), deliveries: [order('B', '2026-12-01', 1)] }
  expect(said({ standIns: [inTime] })).toContain('Membrane 50 stands in')
  expect(said({ promised: [], standIns: [standIn('Membrane 50', 3)] })).toBe('')
})

test('ORD-86 what expires before the day, and what visits after it need, do not count', () => {
  const heap = [{ expiresOn: day('2026-12-01'), quantity: 9 }]
  expect(said({ stock: heap, promised: [] })).toBe('Membrane 75: none on hand; none is on order.')
  expect(said({ stock: heap, promised: [] }, '2026-12-01')).toBe('')
  expect(said({ promised: [{ on: day('2026-12-03'), quantity: 3 }] })).toBe('')
})

/** A second way of reckoning: the pieces are laid out one by one, and each visit in turn takes one. */
test('ORD-86 a visit misses a part exactly when handing out the pieces one by one leaves it without', () => {
  const inDays = fc.integer({ min: -6, max: 12 })
  const quantity = fc.integer({ min: 0, max: 5 })
  const supplies = fc.record({
    stock: fc.array(fc.record({ expiresOn: fc.option(inDays), quantity }), { maxLength: 3 }),
    promised: fc.array(fc.record({ on: inDays, quantity }), { maxLength: 4 }),
    deliveries: fc.array(fc.record({ expectedOn: fc.option(inDays), quantity }), { maxLength: 3 }),
    needed: fc.integer({ min: 1, max: 3 }),
    on: fc.integer({ min: 0, max: 10 }),
  })
  fc.assert(
    fc.property(supplies, ({ stock, promised, deliveries, needed, on }) => {
      const at = (days: number | null) => (days === null ? null : addDays(today, days))
      const missing = missingOn(
        {
          ...MEMBRANE,
          needed,
          stock: stock.map((heap) => ({ ...heap, expiresOn: at(heap.expiresOn) })),
          promised: promised.map((need) => ({ ...need, on: addDays(today, need.on) })),
          deliveries: deliveries.map((each) => ({
            ...order('A', null, each.quantity),
            expectedOn: at(each.expectedOn),
          })),
        },
        addDays(today, on),
        today,
      )
      const shelf: string[] = []
      const put = (pieces: number) => shelf.push(...Array.from({ length: pieces }, () => 'piece'))
      for (const heap of stock) if ((heap.expiresOn ?? 99) >= on) put(heap.quantity)
      for (const each of deliveries)
        if (each.expectedOn !== null && each.expectedOn >= 0 && each.expectedOn < on) put(each.quantity)
      for (const need of promised) if (need.on <= on) shelf.splice(0, need.quantity)
      const owed = promised.filter((need) => need.on <= on).reduce((sum, need) => sum + need.quantity, 0)
      const there = stock.filter((heap) => (heap.expiresOn ?? 99) >= on).reduce((sum, heap) => sum + heap.quantity, 0)
      expect(missing === null).toBe(shelf.length >= needed)
      if (missing === null) return
      expect(missing).toMatchObject({ onHand: there, promised: owed, short: needed - shelf.length })
      expect(missing.late.length + missing.after.length).toBeLessThanOrEqual(deliveries.length)
    }),
  )
})
