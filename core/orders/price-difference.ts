import { type Cents, cents, divideHalfAwayFromZero, formatCents } from '../units/money.ts'

/** What was charged against what was ordered; above zero when it was dearer. */
export interface PriceDifference {
  /** A piece. */
  readonly each: Cents
  /** On all pieces. */
  readonly all: Cents
  /** Tenths of a percent of the ordered price, rounded half away from zero; null where the ordered price was nothing. */
  readonly perMille: number | null
}

/** `priceDifference(600, 640, 12)` is 40 cents a piece, 480 in all, 67 tenths of a percent. Null when there is none. */
export function priceDifference(ordered: Cents, charged: Cents, pieces: number): PriceDifference | null {
  const each = charged - ordered
  if (each === 0 || pieces <= 0) return null
  const perMille = ordered === 0 ? null : divideHalfAwayFromZero(BigInt(each) * 1000n, BigInt(ordered))
  return { each: cents(each), all: cents(each * pieces), perMille }
}

/** "$0.40 more a piece (6.7 %), $4.80 on 12 pieces". */
export function differenceWords(
  { each, all, perMille }: PriceDifference,
  pieces: number,
  { currency, locale }: { readonly currency: string; readonly locale: string },
): string {
  const money = (amount: Cents): string => formatCents(cents(Math.abs(amount)), currency, locale)
  const tenths = { minimumFractionDigits: 1, maximumFractionDigits: 1 }
  const percent = perMille === null ? '' : ` (${(Math.abs(perMille) / 10).toLocaleString(locale, tenths)} %)`
  const sum = pieces === 1 ? '' : `, ${money(all)} on ${pieces} pieces`
  return `${money(each)} ${each > 0 ? 'more' : 'less'} a piece${percent}${sum}`
}
