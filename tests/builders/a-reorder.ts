import fc from 'fast-check'
import type { PartTerm, ReorderInput, ReorderPart } from '../../core/orders/reorder.ts'
import { addDays, calendarDate } from '../../core/units/calendar-date.ts'
import { partIdSchema, supplierIdSchema } from '../../core/units/ids.ts'
import { cents } from '../../core/units/money.ts'

export const TODAY = calendarDate('2026-11-25')
const part = (id: number) => partIdSchema.parse(id)

/** Ten days of lead time, singly, at 4.00 a piece. */
export function aTerm(own: Partial<PartTerm> = {}): PartTerm {
  return {
    supplierId: supplierIdSchema.parse(1),
    leadTimeDays: 10,
    reviewDays: null,
    packSize: 1,
    minimumQuantity: 0,
    price: cents(400),
    preferred: false,
    ...own,
  }
}

export function aReorderPart(id: number, own: Partial<ReorderPart> = {}): ReorderPart {
  return {
    partId: part(id),
    name: `Part ${id}`,
    perVisitQuantity: 0,
    leastToKeep: null,
    serviceLevelPercent: 95,
    terms: [aTerm()],
    usedADay: { mean: 0, deviation: 0 },
    ...own,
  }
}

/** One part, ten days of lead time and seven of review (covers until Dec 12), 70 % of letters lead to a visit; nothing there. */
export function aReorderInput(own: Partial<ReorderInput> = {}): ReorderInput {
  return {
    today: TODAY,
    locale: 'en-US',
    parts: [aReorderPart(1)],
    demands: [],
    stock: [],
    promised: [],
    onOrder: [],
    drafted: [],
    visitsADay: { mean: 0, deviation: 0 },
    leadTimeDays: 10,
    reviewPeriodDays: 7,
    letterToVisitPercent: 70,
    ...own,
  }
}

/** So many stages of part 1, all due on one day. */
export function someDue(count: number, on: string, booked: boolean) {
  return Array.from({ length: count }, () => ({ partId: part(1), on: calendarDate(on), quantity: 1, booked }))
}

const anyPartId = fc.integer({ min: 1, max: 4 }).map(part)
const anyDay = fc.integer({ min: -60, max: 90 }).map((days) => addDays(TODAY, days))
const anyQuantities = fc.array(fc.record({ partId: anyPartId, quantity: fc.integer({ min: 1, max: 30 }) }), {
  maxLength: 5,
})
const anyPace = fc.record({
  mean: fc.double({ min: 0, max: 12, noNaN: true }),
  deviation: fc.double({ min: 0, max: 5, noNaN: true }),
})
const anyTerm = fc.record({
  supplierId: fc.integer({ min: 1, max: 3 }).map((id) => supplierIdSchema.parse(id)),
  leadTimeDays: fc.integer({ min: 0, max: 40 }),
  reviewDays: fc.option(fc.integer({ min: 1, max: 30 })),
  packSize: fc.integer({ min: 1, max: 24 }),
  minimumQuantity: fc.integer({ min: 0, max: 50 }),
  price: fc.integer({ min: 0, max: 9000 }).map(cents),
  preferred: fc.boolean(),
})

/** Any office's parts, dues and stock. */
export const anyReorderInput: fc.Arbitrary<ReorderInput> = fc
  .record({
    parts: fc.array(
      fc.record({
        perVisitQuantity: fc.constantFrom(0, 0, 1, 2),
        leastToKeep: fc.option(fc.integer({ min: 0, max: 20 })),
        serviceLevelPercent: fc.constantFrom(80, 95, 99),
        terms: fc.array(anyTerm, { maxLength: 2 }),
        usedADay: anyPace,
      }),
      { minLength: 4, maxLength: 4 },
    ),
    demands: fc.array(
      fc.record({ partId: anyPartId, on: anyDay, quantity: fc.integer({ min: 1, max: 3 }), booked: fc.boolean() }),
      { maxLength: 40 },
    ),
    stock: fc.array(
      fc.record({
        partId: anyPartId,
        expiresOn: fc.option(anyDay),
        recalled: fc.boolean(),
        quantity: fc.integer({ min: 1, max: 30 }),
      }),
      { maxLength: 8 },
    ),
    promised: anyQuantities,
    onOrder: anyQuantities,
    drafted: anyQuantities,
    visitsADay: anyPace,
    letterToVisitPercent: fc.double({ min: 0, max: 100, noNaN: true }),
  })
  .map((input) => ({
    ...aReorderInput(),
    ...input,
    parts: input.parts.map((own, index) => aReorderPart(index + 1, own)),
  }))
