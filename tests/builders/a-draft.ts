import type { BillableTask, Charges, DraftLine, VisitToBill } from '../../core/invoices/draft-invoice.ts'
import { ONE, quantity, unitPrice } from '../../core/invoices/invoice-lines.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { partIdSchema, visitTaskIdSchema } from '../../core/units/ids.ts'
import { cents, NO_MONEY, taxRate } from '../../core/units/money.ts'
import { minutes } from '../../core/units/time-of-day.ts'

/** A line of 20.00 at 5.6 %; the test states what matters. */
export function aLine(own: Partial<DraftLine> = {}): DraftLine {
  return {
    description: 'Sediment filter, P-1005',
    unit: 'each',
    quantity: ONE,
    unitPrice: unitPrice(200_000),
    allowance: NO_MONEY,
    charge: NO_MONEY,
    category: 'standard',
    rate: taxRate(5600),
    partId: null,
    visitTaskId: null,
    ...own,
  }
}
export const pieces = (count: number) => quantity(count * 1000)

/** A sediment filter of 18.00, changed in eight minutes. */
export function aTask(own: Partial<BillableTask> = {}): BillableTask {
  return {
    taskId: visitTaskIdSchema.parse(1),
    kind: 'change',
    description: 'Sediment filter changed',
    part: {
      partId: partIdSchema.parse(11),
      number: 'P-1005',
      name: 'Sediment filter, 10 in, 5 µm',
      price: cents(1800),
      taxFree: false,
    },
    pieces: 1,
    minutes: minutes(8),
    free: false,
    ...own,
  }
}
export function aVisitToBill(tasks: readonly BillableTask[] = [aTask()]): VisitToBill {
  return { doneOn: calendarDate('2026-11-24'), town: 'Tollard Mill', callFree: false, tasks }
}
/** 64.00 a call, labour in the price, 5.6 %. */
export function charges(own: Partial<Charges> = {}): Charges {
  return {
    currency: 'USD',
    locale: 'en-US',
    callOut: cents(6400),
    labourPerHour: NO_MONEY,
    taxRate: taxRate(5600),
    taxExempt: false,
    ...own,
  }
}
