import fc from 'fast-check'
import type {
  BookedUse,
  LikelyUse,
  PartTerm,
  ReorderInput,
  ReorderPart,
  ReorderProposal,
} from '../../core/orders/reorder-shapes.ts'
import { addDays, calendarDate } from '../../core/units/calendar-date.ts'
import { partIdSchema, supplierIdSchema } from '../../core/units/ids.ts'
import { cents } from '../../core/units/money.ts'

export const TODAY = calendarDate('2026-11-25')
export const part = (id: number) => partIdSchema.parse(id)
export const supplier = (id: number) => supplierIdSchema.parse(id)

/** Ten days of lead time, singly, at 4.00 a piece. */
export function aTerm(own: Partial<PartTerm> = {}): PartTerm {
  return {
    supplierId: supplier(1),
    leadTimeDays: 10,
    reviewDays: null,
    packSize: 1,
    minimumQuantity: 0,
    price: cents(400),
    breaks: [],
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
    shelfMonths: null,
    comingADay: 0,
    ...own,
  }
}

/** One part, ten days of lead time and seven of review (covers until Dec 12); nothing there, nothing to come. */
export function aReorderInput(own: Partial<ReorderInput> = {}): ReorderInput {
  return {
    today: TODAY,
    locale: 'en-US',
    currency: 'USD',
    parts: [aReorderPart(1)],
    booked: [],
    likely: [],
    visits: { booked: [], likely: [] },
    stock: [],
    promised: [],
    incoming: [],
    drafted: [],
    suppliers: [],
    leadTimeDays: 10,
    reviewPeriodDays: 7,
    orderCost: cents(1500),
    holdingPercent: 20,
    ...own,
  }
}

/** So many pieces of part 1 on a visit that is booked. */
export const someBooked = (quantity: number, on: string, id = 1): BookedUse => ({
  partId: part(id),
  on: calendarDate(on),
  quantity,
})

/** Households that are visited on one day from today with a chance, and not at all otherwise. */
export function someLikely(
  households: number,
  chance: number,
  own: Partial<LikelyUse> & { day?: number } = {},
): LikelyUse {
  const { day = 0, ...rest } = own
  const visitedBy = Float64Array.from({ length: 100 }, (_, at) => (at >= day ? chance : 0))
  return { partId: part(1), pieces: 1, households, visitedBy, from: 0, ...rest }
}

export const linesOf = ({ lines }: ReorderProposal) => lines.map((line) => [line.kind, line.pieces])

const anyPartId = fc.integer({ min: 1, max: 4 }).map(part)
const anyDay = fc.integer({ min: -60, max: 90 }).map((days) => addDays(TODAY, days))
const anyQuantity = fc.integer({ min: 1, max: 30 })
const anyQuantities = fc.array(fc.record({ partId: anyPartId, quantity: anyQuantity }), { maxLength: 5 })
const anyPace = fc.record({
  mean: fc.double({ min: 0, max: 3, noNaN: true }),
  deviation: fc.double({ min: 0, max: 3, noNaN: true }),
})

/** The chance of a visit rises from nothing on one day to its end on a later one. */
const anyCourse = fc
  .record({
    from: fc.integer({ min: 0, max: 60 }),
    takes: fc.integer({ min: 1, max: 60 }),
    end: fc.double({ min: 0, max: 1, noNaN: true }),
  })
  .map(({ from, takes, end }) =>
    Float64Array.from({ length: 121 }, (_, day) => end * Math.min(1, Math.max(0, (day - from) / takes))),
  )

const anyTerm = fc
  .record({
    supplierId: fc.integer({ min: 1, max: 3 }).map(supplier),
    leadTimeDays: fc.integer({ min: 0, max: 40 }),
    reviewDays: fc.option(fc.integer({ min: 1, max: 30 })),
    packSize: fc.integer({ min: 1, max: 24 }),
    minimumQuantity: fc.integer({ min: 0, max: 50 }),
    price: fc.integer({ min: 100, max: 9000 }).map(cents),
    breaks: fc.array(fc.record({ from: fc.integer({ min: 2, max: 200 }), off: fc.integer({ min: 1, max: 60 }) }), {
      maxLength: 2,
    }),
    preferred: fc.boolean(),
  })
  .map(({ breaks, ...term }) => ({
    ...term,
    // A break of its own quantity each, and cheaper the more one takes.
    breaks: [...new Map(breaks.map((step) => [step.from, step])).values()]
      .toSorted((a, b) => a.from - b.from)
      .map(({ from, off }, at) => ({ from, price: cents(Math.max(1, term.price - off * (at + 1))) })),
  }))

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
        shelfMonths: fc.option(fc.integer({ min: 1, max: 36 })),
        comingADay: fc.double({ min: 0, max: 2, noNaN: true }),
      }),
      { minLength: 4, maxLength: 4 },
    ),
    booked: fc.array(fc.record({ partId: anyPartId, on: anyDay, quantity: fc.integer({ min: 1, max: 3 }) }), {
      maxLength: 12,
    }),
    likely: fc.array(
      fc.record({
        partId: fc.constantFrom(1, 2).map(part),
        pieces: fc.integer({ min: 1, max: 3 }),
        households: fc.integer({ min: 1, max: 30 }),
        visitedBy: anyCourse,
        from: fc.integer({ min: 0, max: 40 }),
      }),
      { maxLength: 10 },
    ),
    visits: fc.record({
      booked: fc.array(fc.record({ on: anyDay, visits: fc.integer({ min: 1, max: 4 }) }), { maxLength: 5 }),
      likely: fc.array(fc.record({ households: fc.integer({ min: 1, max: 20 }), visitedBy: anyCourse }), {
        maxLength: 4,
      }),
    }),
    stock: fc.array(
      fc.record({
        partId: anyPartId,
        expiresOn: fc.option(anyDay),
        recalled: fc.boolean(),
        quantity: anyQuantity,
      }),
      { maxLength: 8 },
    ),
    promised: anyQuantities,
    incoming: fc.array(fc.record({ partId: anyPartId, quantity: anyQuantity, expectedOn: fc.option(anyDay) }), {
      maxLength: 5,
    }),
    drafted: anyQuantities,
    suppliers: fc.constant(
      [1, 2].map((id) => ({ supplierId: supplier(id), name: `Supplier ${id}`, minimumOrder: cents(20_000) })),
    ),
    holdingPercent: fc.constantFrom(0, 20, 60),
    orderCost: fc.constantFrom(0, 1500).map(cents),
  })
  .map((input) => ({
    ...aReorderInput(),
    ...input,
    parts: input.parts.map((own, index) => aReorderPart(index + 1, own)),
  }))
