import { z } from 'zod'
import { type Cents, cents, centsSchema, divideHalfAwayFromZero, taxRateSchema } from '../units/money.ts'

/** How many, in thousandths: 1.5 is 1500. Below zero only where something is given back. */
export const quantitySchema = z.int().min(-1_000_000_000).max(1_000_000_000).brand<'Quantity'>()
export type Quantity = z.infer<typeof quantitySchema>

/** Price of one, in ten-thousandths of the currency unit: 0.1212 is 1212, 64.00 is 640000. */
export const unitPriceSchema = z.int().min(-100_000_000_000).max(100_000_000_000).brand<'UnitPrice'>()
export type UnitPrice = z.infer<typeof unitPriceSchema>

export const quantity = (thousandths: number): Quantity => quantitySchema.parse(thousandths)
export const unitPrice = (tenThousandths: number): UnitPrice => unitPriceSchema.parse(tenThousandths)
export const ONE = quantity(1000)

/** A price in whole cents as a unit price. `unitPriceOfCents(cents(6400), 2)` is 640000. */
export function unitPriceOfCents(amount: Cents, minorDigits: number): UnitPrice {
  return unitPrice(divideHalfAwayFromZero(BigInt(amount) * 10_000n, 10n ** BigInt(minorDigits)))
}

/** How tax meets a line, after the category codes of UNCL5305 as EN 16931 uses them. */
export const TAX_CATEGORIES = ['standard', 'zero', 'exempt', 'outside'] as const
export const taxCategorySchema = z.enum(TAX_CATEGORIES)
export type TaxCategory = z.infer<typeof taxCategorySchema>

/** The code that an electronic invoice would carry (UNCL5305). */
export const TAX_CATEGORY_CODES: Readonly<Record<TaxCategory, string>> = {
  standard: 'S',
  zero: 'Z',
  exempt: 'E',
  outside: 'O',
}

const taxed = { category: taxCategorySchema, rate: taxRateSchema }

/** A line as it is reckoned: what is asked, less its own allowances, plus its own charges, and how it is taxed. */
export const reckonedLineSchema = z.object({
  quantity: quantitySchema,
  unitPrice: unitPriceSchema,
  /** Taken off this line, whole cents. */
  allowance: centsSchema,
  /** Put on this line, whole cents. */
  charge: centsSchema,
  ...taxed,
})
export type ReckonedLine = z.infer<typeof reckonedLineSchema>

/** An allowance or a charge on the whole document; it belongs to one tax rate, as every line does. */
export const documentAmountSchema = z.object({
  kind: z.enum(['allowance', 'charge']),
  reason: z.string(),
  amount: centsSchema.min(0),
  ...taxed,
})
export type DocumentAmount = z.infer<typeof documentAmountSchema>

/** What a line comes to before tax (BT-131): quantity x price, rounded half away from zero, less allowance, plus charge. */
export function lineNet(line: ReckonedLine, minorDigits: number): Cents {
  const product = BigInt(line.quantity) * BigInt(line.unitPrice) * 10n ** BigInt(minorDigits)
  return cents(divideHalfAwayFromZero(product, 10_000_000n) - line.allowance + line.charge)
}
