import fc from 'fast-check'
import { expect, test } from 'vitest'
import { checkDemoOffice } from '../../core/demo/check-demo-office.ts'
import { demoOffice } from '../../core/demo/demo-office.ts'
import { addDays, calendarDate } from '../../core/units/calendar-date.ts'

const today = calendarDate('2026-11-25')

test('DEMO-3 the same seed and day give the same office', () => {
  expect(demoOffice(today, 7, 40)).toEqual(demoOffice(today, 7, 40))
  expect(demoOffice(today, 8, 40)).not.toEqual(demoOffice(today, 7, 40))
})

test('DEMO-1 on any day and with any seed it hangs together', () => {
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 2_000 }), fc.integer({ min: 1, max: 1_000_000 }), (days, seed) => {
      expect(checkDemoOffice(demoOffice(addDays(today, days), seed, 60))).toEqual([])
    }),
    { numRuns: 25 },
  )
})

test('DEMO-1 the office of six hundred has work for three vans on the next working day', () => {
  const office = demoOffice(today)
  const tomorrow = office.visits.filter((visit) => visit.outcome === 'booked' && visit.on === office.today + 1)
  expect(new Set(tomorrow.map((visit) => visit.technician)).size).toBe(3)
  expect(office.households.length).toBe(600)
  expect(checkDemoOffice(office)).toEqual([])
})

test('DEMO-1 the judge sees a forgotten visit, an unbilled one and a lot from nowhere', () => {
  const office = demoOffice(today, 7, 30)
  const [first] = office.visits
  if (!first) throw new Error('no visit')
  expect(
    checkDemoOffice({ ...office, visits: [{ ...first, outcome: 'booked' }, ...office.visits.slice(1)] }).length,
  ).toBeGreaterThan(0)
  expect(checkDemoOffice({ ...office, invoices: [] }).length).toBeGreaterThan(0)
  expect(checkDemoOffice({ ...office, movements: office.movements.slice(1) }).length).toBeGreaterThan(0)
})

test('DEMO-1 ORD-83 one order is late, one came in part and dearer than ordered, and the judge sees pieces that never came', () => {
  const office = demoOffice(today, 7, 40)
  const open = office.orders.filter((order) => order.lines.some((line) => line.received < line.quantity))
  expect(open.map((order) => [order.expectedOn < office.today, order.receivedOn !== null])).toEqual([
    [false, false],
    [true, false],
    [false, true],
  ])
  const [part] = open.flatMap((order) => order.lines).filter((line) => line.received > 0)
  expect(part).toMatchObject({ quantity: 6, received: 4, charged: expect.any(Number) })
  const unsaid = office.orders.map((order) => ({
    ...order,
    lines: order.lines.map((line) => ({ ...line, received: 99 })),
  }))
  expect(checkDemoOffice({ ...office, orders: unsaid }).length).toBeGreaterThan(0)
  expect(checkDemoOffice({ ...office, orders: office.orders.slice(1) }).length).toBeGreaterThan(0)
})

test('DEMO-1 PICK-15 the next day wants at least a piece more of some part than there is, so that the pull has to choose', () => {
  for (const days of [0, 6, 7]) {
    const office = demoOffice(addDays(today, days))
    const ahead = office.visits.filter((visit) => visit.outcome === 'booked' && visit.on > office.today)
    const next = Math.min(...ahead.map((visit) => visit.on))
    const wanted = ahead.filter((visit) => visit.on === next).flatMap((visit) => visit.fittings.map(({ part }) => part))
    const short = [...new Set(wanted)].filter((part) => {
      const moves = office.movements.filter(({ lot }) => office.lots[lot]?.part === part)
      const there = moves.reduce(
        (sum, { from, to, quantity }) => sum + (from === 'outside' ? quantity : 0) - (to === 'outside' ? quantity : 0),
        0,
      )
      return there < wanted.filter((other) => other === part).length
    })
    expect(short.length).toBeGreaterThan(0)
  }
})
