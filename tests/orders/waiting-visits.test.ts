import fc from 'fast-check'
import { expect, test } from 'vitest'
import { lackWords, visitsThatWait, waitingWords } from '../../core/orders/waiting-visits.ts'
import { addDays, calendarDate } from '../../core/units/calendar-date.ts'
import { partIdSchema, visitIdSchema } from '../../core/units/ids.ts'

const today = calendarDate('2026-11-28')
const partId = partIdSchema.parse(1)
const order = { orderNumber: 'PO-2026-0014', supplierName: 'Orrin Supply' }

/** A second way of reckoning: for each visit the shelf is filled, everybody up to its day takes theirs first, and it looks what is left. */
test('ORD-93 a visit waits exactly when the shelf is short on its day and this order is late or not there before it', () => {
  const asked = fc.record({
    onHand: fc.integer({ min: 0, max: 8 }),
    comes: fc.integer({ min: -4, max: 12 }),
    other: fc.option(fc.record({ comes: fc.integer({ min: -4, max: 12 }), quantity: fc.integer({ min: 1, max: 4 }) })),
    visits: fc.array(fc.record({ in: fc.integer({ min: -3, max: 10 }), quantity: fc.integer({ min: 1, max: 3 }) }), {
      maxLength: 6,
    }),
  })
  fc.assert(
    fc.property(asked, ({ onHand, comes, other, visits }) => {
      const deliveries = [
        { ...order, expectedOn: addDays(today, comes), quantity: 6 },
        ...(other
          ? [{ ...order, orderNumber: 'B', expectedOn: addDays(today, other.comes), quantity: other.quantity }]
          : []),
      ]
      const part = {
        partId,
        name: 'Membrane',
        stock: [{ expiresOn: null, quantity: onHand }],
        deliveries,
        standIns: [],
      }
      const needs = visits.map((visit, index) => ({
        ...{ visitId: visitIdSchema.parse(index + 1), household: `home ${index}`, partId, ownOnly: false },
        ...{ on: addDays(today, visit.in), quantity: visit.quantity },
      }))
      const waits = visits.flatMap((visit, index) => {
        if (visit.in < 0 || (comes >= 0 && comes < visit.in)) return []
        let shelf = onHand
        if (other && other.comes >= 0 && other.comes < visit.in) shelf += other.quantity
        for (const each of visits) if (each.in <= visit.in) shelf -= each.quantity
        return shelf < 0 ? [[index + 1, Math.min(visit.quantity, -shelf)]] : []
      })
      const found = visitsThatWait(order.orderNumber, [part], needs, today)
      expect(found.map((each) => [each.visitId, each.parts[0]?.missing]).sort()).toEqual(waits.sort())
      expect(found.map((each) => each.on)).toEqual(found.map((each) => each.on).sort())
    }),
  )
})

test('ORD-93 one visit and several, late and too late, are said as a colleague would', () => {
  const late = { supplier: 'Orrin Supply', expectedOn: calendarDate('2026-11-20'), isLate: true }
  expect(waitingWords(1, late, 'en-US')).toBe(
    'What is on hand is not enough for it, and this order has not come. Ask Orrin Supply when it comes, or move the visit.',
  )
  expect(waitingWords(2, { ...late, isLate: false }, 'en-US')).toContain('comes Nov 20, too late to be pulled for them')
  expect(waitingWords(0, late, 'en-US')).toBe('No booked visit waits for it: what is on hand is enough.')
  expect(lackWords({ name: 'Membrane', needed: 3, missing: 1 })).toBe('1 of 3 pieces of Membrane is missing')
  expect(lackWords({ name: 'Membrane', needed: 2, missing: 2 })).toBe('All 2 pieces of Membrane are missing')
  expect(lackWords({ name: 'Membrane', needed: 1, missing: 1 })).toBe('Membrane is missing')
})
