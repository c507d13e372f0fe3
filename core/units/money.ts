import { z } from 'zod'

/** A whole number of minor units (US cents, euro cents). Never a fraction. */
export const centsSchema = z.int().brand<'Cents'>()
export type Cents = z.infer<typeof centsSchema>

/** Checked constructor. Throws RangeError for anything but a safe whole number. `cents(1250)` is 12.50. */
export function cents(amount: number): Cents {
  if (!Number.isSafeInteger(amount)) throw new RangeError(`Not a whole number of cents: ${amount}`)
  return (amount === 0 ? 0 : amount) as Cents
}

export const NO_MONEY = cents(0)

export function addCents(...amounts: readonly Cents[]): Cents {
  let sum = 0
  for (const amount of amounts) sum += amount
  return cents(sum)
}

export function subtractCents(from: Cents, amount: Cents): Cents {
  return cents(from - amount)
}

export function negateCents(amount: Cents): Cents {
  return cents(-amount)
}

/**
 * `numerator / denominator`, rounded half away from zero, the rounding of EN 16931 examples
 * (156 435.885 becomes 156 435.89, and the same below zero). Exact for any size: works in BigInt.
 */
export function divideHalfAwayFromZero(numerator: bigint, denominator: bigint): number {
  if (denominator <= 0n) throw new RangeError('The denominator must be above zero')
  const negative = numerator < 0n
  const size = negative ? -numerator : numerator
  const rounded = (size * 2n + denominator) / (denominator * 2n)
  return Number(negative ? -rounded : rounded)
}

/** Splits an amount by weights so that no cent is lost: the parts always add up to the amount (largest remainder first). */
export function splitCents(amount: Cents, weights: readonly number[]): Cents[] {
  const total = weights.reduce((sum, weight) => sum + weight, 0)
  if (weights.some((weight) => !Number.isInteger(weight) || weight < 0) || total <= 0)
    throw new RangeError('Weights must be whole, not below zero, and not all zero')
  const sign = amount < 0 ? -1 : 1
  const size = Math.abs(amount)
  const parts = weights.map((weight) => Number((BigInt(size) * BigInt(weight)) / BigInt(total)))
  const remainders = weights.map((weight, index) => ({
    index,
    rest: (BigInt(size) * BigInt(weight)) % BigInt(total),
  }))
  remainders.sort((a, b) => (a.rest === b.rest ? a.index - b.index : a.rest < b.rest ? 1 : -1))
  let left = size - parts.reduce((sum, part) => sum + part, 0)
  for (const { index } of remainders) {
    if (left === 0) break
    parts[index] = (parts[index] ?? 0) + 1
    left -= 1
  }
  return parts.map((part) => cents(sign * part))
}

/** ISO 4217 codes whose minor unit is not 2 digits (list dated 2024-06-25). Intl's digits are display digits: not used. */
const MINOR_DIGITS: Readonly<Record<string, number>> = {
  BIF: 0,
  CLP: 0,
  DJF: 0,
  GNF: 0,
  ISK: 0,
  JPY: 0,
  KMF: 0,
  KRW: 0,
  PYG: 0,
  RWF: 0,
  UGX: 0,
  UYI: 0,
  VND: 0,
  VUV: 0,
  XAF: 0,
  XOF: 0,
  XPF: 0,
  KWD: 3,
  BHD: 3,
  OMR: 3,
  JOD: 3,
  TND: 3,
  LYD: 3,
  IQD: 3,
  CLF: 4,
  UYW: 4,
}

/** Digits after the decimal sign of a currency's amounts (ISO 4217 minor unit). */
export function minorDigits(currency: string): number {
  return MINOR_DIGITS[currency] ?? 2
}

const moneyFormats = new Map<string, Intl.NumberFormat>()

/** `formatCents(cents(15620), 'USD', 'en-US')` is "$156.20"; with `bare` it is "156.20" for a column that names its currency once. */
export function formatCents(amount: Cents, currency: string, locale: string, bare = false): string {
  const key = `${locale}|${currency}|${bare}`
  let format = moneyFormats.get(key)
  const digits = minorDigits(currency)
  if (!format) {
    const shape = { minimumFractionDigits: digits, maximumFractionDigits: digits }
    format = new Intl.NumberFormat(locale, bare ? shape : { ...shape, style: 'currency', currency })
    moneyFormats.set(key, format)
  }
  return format.format(amount / 10 ** digits)
}

/**
 * Reads an amount as people type it: "$1,234.50", "1.234,50", "12", "-3.5". Text to whole cents directly, no floating point.
 * Null when it is not an amount or has more digits than the currency.
 */
export function parseCents(text: string, currency: string): Cents | null {
  const digits = minorDigits(currency)
  const bare = text.replace(/[^\d.,()-]/g, '')
  if (bare === '') return null
  const negative = bare.startsWith('-') || (bare.startsWith('(') && bare.endsWith(')'))
  const figures = bare.replace(/[()-]/g, '')
  const lastSign = Math.max(figures.lastIndexOf('.'), figures.lastIndexOf(','))
  const tail = lastSign < 0 ? '' : figures.slice(lastSign + 1)
  const signs = figures.replace(/\d/g, '')
  const isFraction = lastSign >= 0 && tail.length <= digits && (signs.length === 1 || new Set(signs).size === 2)
  const isGrouped = lastSign >= 0 && !isFraction
  if (isGrouped && !/^\d{1,3}([.,]\d{3})+$/.test(figures)) return null
  const whole = (isFraction ? figures.slice(0, lastSign) : figures).replace(/[.,]/g, '')
  if (!/^\d*$/.test(whole) || (whole === '' && tail === '')) return null
  const amount = Number((whole || '0') + (isFraction ? tail : '').padEnd(digits, '0'))
  return Number.isSafeInteger(amount) ? cents(negative ? -amount : amount) : null
}

/** A rate in thousandths of a percent: 8.875 % is 8875. */
export const taxRateSchema = z.int().min(0).max(100_000).brand<'TaxRate'>()
export type TaxRate = z.infer<typeof taxRateSchema>

export function taxRate(thousandthsOfPercent: number): TaxRate {
  return taxRateSchema.parse(thousandthsOfPercent)
}

/** `formatTaxRate(taxRate(8875), 'en-US')` is "8.875 %". */
export function formatTaxRate(rate: TaxRate, locale: string): string {
  return `${new Intl.NumberFormat(locale, { maximumFractionDigits: 3 }).format(rate / 1000)} %`
}
