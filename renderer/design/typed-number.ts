/** "1,480.5" in the United States, "1.480,5" in Germany; no grouping below a thousand. */
export function writeNumber(value: number, locale: string, digits: number): string {
  return value.toLocaleString(locale, { maximumFractionDigits: digits })
}

/**
 * Reads a number as people type it; null when it is none, has more digits than wanted, or lies outside the bounds. In an office that writes a decimal comma, a
 * comma is decimal and a point groups; elsewhere the other way round. A single sign followed by other than three figures is decimal anywhere.
 */
export function readNumber(text: string, locale: string, digits: number, least?: number, most?: number): number | null {
  const typed = text
    .trim()
    .replace(/[\s\u00a0\u202f]/g, '')
    .replace(/^[−–]/, '-')
  const [decimal, group] = locale.startsWith('de') ? [',', '.'] : ['.', ',']
  const strays = typed.split(group).length === 2 && !typed.includes(decimal) && !/^-?\d{1,3}[.,]\d{3}$/.test(typed)
  const plain = strays ? typed.replace(group, '.') : typed.replaceAll(group, '').replace(decimal, '.')
  if (!/^-?(\d+\.?\d*|\.\d+)$/.test(plain)) return null
  const fraction = plain.split('.')[1] ?? ''
  if (fraction.replace(/0+$/, '').length > digits) return null
  const value = Number(plain)
  if ((least !== undefined && value < least) || (most !== undefined && value > most)) return null
  return value
}
