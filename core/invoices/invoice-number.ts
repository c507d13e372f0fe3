import { z } from 'zod'

/** A number is written with at least so many digits behind the year. */
export const NUMBER_DIGITS = 5

/** `2026-00042`: the year of issue, a hyphen, the place in the office's year, at least five digits. */
export const invoiceNumberSchema = z
  .string()
  .regex(/^\d{4}-(?!0{5}$)(\d{5}|[1-9]\d{5,})$/, { message: 'An invoice number looks like 2026-00042.' })
  .brand<'InvoiceNumber'>()
export type InvoiceNumber = z.infer<typeof invoiceNumberSchema>

/** `invoiceNumber(2026, 42)` is `2026-00042`. Throws RangeError when the place is not above zero. */
export function invoiceNumber(year: number, place: number): InvoiceNumber {
  if (!Number.isSafeInteger(place) || place < 1) throw new RangeError(`Not a place in the year: ${place}`)
  return invoiceNumberSchema.parse(`${String(year).padStart(4, '0')}-${String(place).padStart(NUMBER_DIGITS, '0')}`)
}

/** Year and place of a number; null when it is none. */
export function partsOfInvoiceNumber(text: string): { readonly year: number; readonly place: number } | null {
  if (!invoiceNumberSchema.safeParse(text).success) return null
  return { year: Number(text.slice(0, 4)), place: Number(text.slice(5)) }
}

/** Judge: the places missing or doubled between 1 and the last of the numbers of one year; empty when gapless. */
export function gapsInNumbers(places: readonly number[]): { readonly missing: number[]; readonly doubled: number[] } {
  const seen = new Set<number>()
  const doubled: number[] = []
  let last = 0
  for (const place of places) {
    if (seen.has(place)) doubled.push(place)
    seen.add(place)
    last = Math.max(last, place)
  }
  const missing: number[] = []
  for (let place = 1; place <= last; place += 1) if (!seen.has(place)) missing.push(place)
  return { missing, doubled }
}
