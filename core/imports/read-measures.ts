import { MG_PER_LITRE_PER_GPG } from '../units/measures.ts'

export const HARDNESS_UNITS = ['gpg', 'mg/L', 'dH'] as const
export type HardnessUnit = (typeof HARDNESS_UNITS)[number]

/** mg/L as CaCO3 in one of the unit. A German degree is 10 mg/L of CaO, by the weights 100.087 and 56.077 of CaCO3 and CaO (IUPAC). */
const MG_PER_LITRE: Readonly<Record<HardnessUnit, number>> = {
  gpg: MG_PER_LITRE_PER_GPG,
  'mg/L': 1,
  dH: (10 * 100.087) / 56.077,
}

/** A number as people write it: "1,234.5", "1.234,5", "7,5", "about 12", "12 gpg". Null when there is none, or more than one. */
export function readNumber(cell: string): number | null {
  const found = cell.match(/-?\d[\d.,]*/g)
  if (found?.length !== 1) return null
  const text = (found[0] ?? '').replace(/[.,]$/, '')
  const lastPoint = Math.max(text.lastIndexOf('.'), text.lastIndexOf(','))
  const whole = lastPoint < 0 ? text : text.slice(0, lastPoint)
  const fraction = lastPoint < 0 ? '' : text.slice(lastPoint + 1)
  const grouped = fraction.length === 3 && /^-?\d{1,3}(?:[.,]\d{3})*$/.test(text) && !/^-?0/.test(text)
  const digits = grouped ? text.replaceAll(/[.,]/g, '') : `${whole.replaceAll(/[.,]/g, '')}.${fraction || '0'}`
  const value = Number(digits)
  return Number.isFinite(value) ? value : null
}

/** The unit that a text names: "Hardness (gpg)", "12 grains", "200 ppm", "18 °dH"; null when it names none. */
export function hardnessUnitNamed(text: string): HardnessUnit | null {
  if (/\b(?:gpg|grains?|gr)\b/i.test(text)) return 'gpg'
  if (/°\s?d\b|\bd\.?\s?h\b|deutsch/i.test(text)) return 'dH'
  return /mg\s?\/\s?l|\bppm\b|caco3/i.test(text) ? 'mg/L' : null
}

/**
 * The unit of a whole column of bare numbers: above 60 they can hardly be grains per gallon (1,027 mg/L), so a column that goes
 * higher is mg/L; else what the office measures in. Common practice, no source.
 */
export function hardnessUnitOfColumn(name: string, cells: readonly string[], measures: 'us' | 'metric'): HardnessUnit {
  const named = hardnessUnitNamed(name)
  if (named !== null) return named
  const highest = cells.reduce((most, cell) => Math.max(most, readNumber(cell) ?? 0), 0)
  return highest > 60 || measures === 'metric' ? 'mg/L' : 'gpg'
}

/** Hardness in mg/L as CaCO3, whole tenths; a unit in the cell beats the column's. Null for what is no number or is out of reason. */
export function readHardness(cell: string, unit: HardnessUnit): number | null {
  const value = readNumber(cell.replace(/caco3/gi, ''))
  if (value === null || value < 0) return null
  const milligrams = value * MG_PER_LITRE[hardnessUnitNamed(cell) ?? unit]
  return milligrams > 5000 ? null : Math.round(milligrams * 10) / 10
}

/** Total dissolved solids in mg/L (ppm is the same thing here). */
export function readTds(cell: string): number | null {
  const value = readNumber(cell)
  return value === null || value < 0 || value > 100_000 ? null : value
}

/** People in the house: "4", "4+", "2 adults, 2 kids" (added up), "3-4" (the larger). Null for what is no count from 1 to 50. */
export function readPeople(cell: string): number | null {
  const numbers = (cell.match(/\d+(?:[.,]\d+)?/g) ?? []).map((text) => Number(text.replace(',', '.')))
  if (numbers.length === 0 || numbers.some((value) => !Number.isInteger(value))) return null
  const range = /^\s*\d+\s*(?:-|–|to|or)\s*\d+\s*(?:people|persons)?\s*$/i.test(cell)
  const count = range ? Math.max(...numbers) : numbers.reduce((sum, value) => sum + value, 0)
  return count >= 1 && count <= 50 ? count : null
}

const INTERVAL_WORDS: readonly (readonly [RegExp, number])[] = [
  [/^(?:semi|half|bi)[ -]?(?:annual|yearly)(?:ly)?$|^twice a year$|^halbjährlich$/i, 6],
  [/^(?:annual(?:ly)?|yearly|once a year|every year|jährlich|yr|year)$/i, 12],
  [/^(?:quarterly|every quarter|vierteljährlich)$/i, 3],
  [/^(?:monthly|every month|monatlich)$/i, 1],
]

/** An interval in whole months, 1 to 240: "6", "6 mo", "2 years", "semi-annual", "26 weeks". Null when it is none. */
export function readMonths(cell: string): number | null {
  const text = cell.trim()
  const worded = INTERVAL_WORDS.find(([pattern]) => pattern.test(text))
  if (worded) return worded[1]
  const value = readNumber(text)
  if (value === null) return null
  const inMonths = value * monthsPerUnit(text)
  const months = Math.round(inMonths)
  return months >= 1 && months <= 240 && Math.abs(inMonths - months) < 0.26 ? months : null
}

function monthsPerUnit(text: string): number {
  if (/\d\s*(?:y|yr|yrs|years?|jahre?)\b/i.test(text)) return 12
  if (/\d\s*(?:w|wk|wks|weeks?|wochen)\b/i.test(text)) return 7 / 30.44
  return /\d\s*(?:d|days?|tage?)\b/i.test(text) ? 1 / 30.44 : 1
}

/** Yes and no as lists have them; null for anything else. A blank cell is nobody's answer. */
export function readYesNo(cell: string): boolean | null {
  const text = cell.trim().toLowerCase()
  if (/^(?:y|yes|true|x|✓|1|ja|j|on|opt(?:ed)?[ -]?out|no mail|do not mail|stop)$/.test(text)) return true
  return /^(?:n|no|false|0|nein|off|-|none|ok|mail|mail ok)$/.test(text) ? false : null
}
