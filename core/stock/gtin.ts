/** Lengths of a GTIN: GTIN-8, GTIN-12 (UPC), GTIN-13 (EAN) and GTIN-14. */
const LENGTHS: readonly number[] = [8, 12, 13, 14]

/**
 * The check digit of the digits that come before it: from the right they count three and one in turn, and the digit fills the sum up
 * to the next ten (GS1 General Specifications, section 7.9.1). Throws RangeError for anything but digits.
 */
export function checkDigitOf(digits: string): string {
  if (!/^\d+$/.test(digits)) throw new RangeError(`Not digits: ${digits}`)
  let sum = 0
  for (let fromRight = 0; fromRight < digits.length; fromRight += 1)
    sum += Number(digits[digits.length - 1 - fromRight]) * (fromRight % 2 === 0 ? 3 : 1)
  return String((10 - (sum % 10)) % 10)
}

/** Whether a text is a GTIN of 8, 12, 13 or 14 digits whose check digit is right. */
export const isGtin = (text: string): boolean => gtinFault(text) === null

export type GtinFault = { readonly kind: 'not-digits' | 'length' } | { readonly kind: 'check-digit'; right: string }

/** What is wrong with a GTIN as it was typed, with the digit that would be right; null when nothing is. */
export function gtinFault(text: string): GtinFault | null {
  if (!/^\d+$/.test(text)) return { kind: 'not-digits' }
  if (!LENGTHS.includes(text.length)) return { kind: 'length' }
  const right = checkDigitOf(text.slice(0, -1))
  return right === text.at(-1) ? null : { kind: 'check-digit', right }
}

/** What is wrong with it, to go on in a sentence: "its last figure would be 3". */
export function gtinFaultWords(fault: GtinFault): string {
  if (fault.kind === 'check-digit') return `its last figure would be ${fault.right}`
  return fault.kind === 'length' ? 'it has 8, 12, 13 or 14 figures' : 'it has figures only'
}

/** The same number in 14 digits: 036000241457 and 0036000241457 are one part. */
export const gtin14 = (gtin: string): string => gtin.padStart(14, '0')
