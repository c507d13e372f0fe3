import type { DayNumber } from '../units/calendar-date.ts'
import { addMonths, dateOfDayNumber, dayNumberOf, partsOf } from '../units/calendar-date.ts'
import { lastWorkdayBefore, nextWorkday } from './demo-calendar.ts'
import type { DemoOrder, StockYears } from './demo-records.ts'
import { SCENARIO } from './scenario.ts'

/** Part and supplier of a kind; the dealer buys each part of one supplier. */
function partOf(number: string): { readonly part: number; readonly supplier: number; readonly cost: number } {
  const part = SCENARIO.parts.findIndex((each) => each.number === number)
  return { part, supplier: SCENARIO.parts[part]?.supplier ?? 0, cost: SCENARIO.parts[part]?.cost ?? 0 }
}

/**
 * What is awaited on the day: lamps in a week, mineral cartridges and O-rings that should have come a week ago, and membranes of which some came,
 * dearer than ordered.
 */
export function orderAwaited(years: StockYears, runsOut: number, today: DayNumber): void {
  const lamps = { part: runsOut, supplier: SCENARIO.parts[runsOut]?.supplier ?? 0 }
  years.orders.push({
    ...blank(lamps.supplier, today - 9, nextWorkday(nextWorkday(today + 5))),
    lines: [{ part: lamps.part, quantity: 4, received: 0, charged: null }],
  })
  const late = partOf('P-3020')
  years.orders.push({
    ...blank(late.supplier, today - 17, nextWorkday(today - 9)),
    lines: [
      { part: late.part, quantity: 20, received: 0, charged: null },
      { part: partOf('P-9001').part, quantity: 100, received: 0, charged: null },
    ],
  })
  comeInPart(years, today)
}

const blank = (supplier: number, sentOn: DayNumber, expectedOn: DayNumber) => ({
  supplier,
  number: '',
  sentOn,
  expectedOn,
  receivedOn: null,
})

function comeInPart(years: StockYears, today: DayNumber): void {
  const { part, supplier, cost } = partOf('P-2075')
  const order = years.orders.length
  const receivedOn = Math.min(nextWorkday(today - 5), lastWorkdayBefore(today))
  const charged = cost + 150
  years.orders.push({
    ...blank(supplier, today - 20, nextWorkday(today + 2)),
    receivedOn,
    lines: [{ part, quantity: 6, received: 4, charged }],
  })
  const shelfMonths = SCENARIO.parts[part]?.shelfMonths ?? 0
  const expiresOn = shelfMonths > 0 ? dayNumberOf(addMonths(dateOfDayNumber(receivedOn - 40), shelfMonths)) : null
  const date = dateOfDayNumber(receivedOn)
  const lot = years.lots.length
  years.lots.push({
    part,
    code: `${date.slice(2, 4)}${date.slice(5, 7)}-M4`,
    receivedOn,
    expiresOn,
    quantity: 4,
    order,
    charged,
  })
  const movement = { on: receivedOn, lot, quantity: 4, from: 'outside', to: 'bin', reason: 'receive' } as const
  years.movements.push({ ...movement, visit: null, order })
}

/** The orders by the numbers that the office gives them: in the order they were sent, from 1 in every year. */
export function numberedOrders(orders: readonly DemoOrder[]): DemoOrder[] {
  const last = new Map<number, number>()
  const numbers = new Map<DemoOrder, string>()
  for (const order of orders.toSorted((a, b) => a.sentOn - b.sentOn)) {
    const { year } = partsOf(dateOfDayNumber(order.sentOn))
    const next = (last.get(year) ?? 0) + 1
    last.set(year, next)
    numbers.set(order, `PO-${year}-${String(next).padStart(4, '0')}`)
  }
  return orders.map((order) => ({ ...order, number: numbers.get(order) ?? '' }))
}
