import { addCents, type Cents, cents, divideHalfAwayFromZero, NO_MONEY, type TaxRate } from '../units/money.ts'

/** A part that the visit is to fit. */
export interface PricedPart {
  readonly name: string
  readonly priceCents: Cents
  readonly taxFree: boolean
  readonly quantity: number
}

export interface PriceTerms {
  readonly callOutCents: Cents
  readonly labourCentsPerHour: Cents
  readonly taxRate: TaxRate
  readonly taxExempt: boolean
}

export interface ExpectedLine {
  readonly what: string
  readonly netCents: Cents
}

export interface ExpectedPrice {
  readonly lines: readonly ExpectedLine[]
  readonly netCents: Cents
  readonly taxCents: Cents
  readonly grossCents: Cents
}

/**
 * What the household is told on the phone: parts, labour by the minute where the office charges it, and the call.
 * Tax is taken on the sum of what is taxed, rounded half away from zero, as the invoice will.
 */
export function expectedPrice(parts: readonly PricedPart[], labourMinutes: number, terms: PriceTerms): ExpectedPrice {
  const labour = cents(divideHalfAwayFromZero(BigInt(terms.labourCentsPerHour) * BigInt(labourMinutes), 60n))
  const lines: (ExpectedLine & { readonly taxFree: boolean })[] = parts.map((part) => ({
    what: part.quantity === 1 ? part.name : `${part.quantity} × ${part.name}`,
    netCents: cents(part.priceCents * part.quantity),
    taxFree: part.taxFree,
  }))
  if (labour !== 0) lines.push({ what: 'Labour', netCents: labour, taxFree: false })
  if (terms.callOutCents !== 0) lines.push({ what: 'The call', netCents: terms.callOutCents, taxFree: false })
  const netCents = addCents(...lines.map((line) => line.netCents))
  const taxable = addCents(...lines.filter((line) => !line.taxFree).map((line) => line.netCents))
  const taxCents = terms.taxExempt
    ? NO_MONEY
    : cents(divideHalfAwayFromZero(BigInt(taxable) * BigInt(terms.taxRate), 100_000n))
  return {
    lines: lines.map(({ what, netCents: net }) => ({ what, netCents: net })),
    netCents,
    taxCents,
    grossCents: addCents(netCents, taxCents),
  }
}
