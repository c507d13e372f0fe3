import { type CalendarDate, dateFromParts, daysInMonth, partsOf } from '../units/calendar-date.ts'
import { gtin14, isGtin } from './gtin.ts'

/** What a scanner typed, read. `text` is always what came, without blanks around it: whoever finds nothing under the rest looks it up. */
export type ScannedCode =
  /** A maker's number, in 14 digits, with what else the code carried. */
  | {
      readonly kind: 'gtin'
      readonly text: string
      readonly gtin: string
      readonly lot: string | null
      readonly expiresOn: CalendarDate | null
    }
  /** A label of our own, of a part, or of a lot of it. */
  | { readonly kind: 'label'; readonly text: string; readonly partNumber: string; readonly lot: string | null }
  /** The lower of two rows of bars on a label of our own, where part and lot are too long for one: the lot alone. */
  | { readonly kind: 'lot'; readonly text: string; readonly lot: string }
  /** A label of our own, of a bin. */
  | { readonly kind: 'bin'; readonly text: string; readonly bin: string }
  /** A code that says it is one of GS1's and does not add up: to be scanned once more. */
  | { readonly kind: 'spoilt'; readonly text: string; readonly what: 'gtin' | 'date' | 'form' }
  /** To be looked up as a lot, a part number or a bin. */
  | { readonly kind: 'text'; readonly text: string }

const PARTED = '+'

/**
 * What stands in the Code 128 of our labels: `P-1005+2608-114` is a lot of a part, `P-1005+` a part, `++2608-114` a lot alone,
 * `+A-02-1` a bin. Within the names a plus, a per cent sign and whatever is not printable ASCII are written as RFC 3986 percent-encodes them, so the one bare
 * plus parts them and every name can be set in bars.
 */
export const labelOfLot = (partNumber: string, lot: string): string => `${inBars(partNumber)}${PARTED}${inBars(lot)}`
export const labelOfPart = (partNumber: string): string => `${inBars(partNumber)}${PARTED}`
export const labelOfLotAlone = (lot: string): string => `${PARTED}${PARTED}${inBars(lot)}`
export const labelOfBin = (bin: string): string => `${PARTED}${inBars(bin)}`

function inBars(name: string): string {
  const plain = name.trim().replace(/\p{Surrogate}/gu, '\ufffd')
  return plain.replace(/[^ -~]|[+%]/gu, (sign) => encodeURIComponent(sign))
}

/**
 * Reads what a scanner typed before it pressed Enter. Knows our own labels, GTINs (8, 12, 13, 14 digits with the right check digit)
 * and GS1 element strings with GTIN, lot and date: in brackets as people read them, with the scanner's mark of the kind of code, or
 * bare. A number that only looks like a GTIN stays a text. `today` gives a year of two digits its century.
 */
export function readScan(typed: string, today: CalendarDate): ScannedCode {
  const text = typed.trim()
  const { body, isGs1 } = withoutMark(text)
  if (isGtin(body)) return { kind: 'gtin', text, gtin: gtin14(body), lot: null, expiresOn: null }
  if (isGs1 || /^\((01|02|10|11|15|17|21)\)/.test(body)) return readElements(text, body, today)
  if (/^01\d{14}/.test(body)) {
    const read = readElements(text, body, today)
    if (read.kind === 'gtin') return read
  }
  return readOwn(text, body) ?? { kind: 'text', text: body }
}

/** Scanners may send the kind of code ahead of it, as ISO/IEC 15424 says: `]C1` is GS1-128, `]C0` another Code 128. */
function withoutMark(text: string): { readonly body: string; readonly isGs1: boolean } {
  const mark = /^\][A-Za-z]\d/.exec(text)?.[0]
  if (mark === undefined) return { body: text, isGs1: false }
  return { body: text.slice(mark.length).trim(), isGs1: [']C1', ']e0', ']d2', ']Q3', ']J1'].includes(mark) }
}

function readOwn(text: string, body: string): ScannedCode | null {
  const names = body.split(PARTED).map(outOfBars)
  const [first, second, third] = names
  if (names.length === 2 && first && second !== undefined && second !== null)
    return { kind: 'label', text, partNumber: first, lot: second === '' ? null : second }
  if (names.length === 2 && first === '' && second) return { kind: 'bin', text, bin: second }
  return names.length === 3 && first === '' && second === '' && third ? { kind: 'lot', text, lot: third } : null
}

/** Null when no label of ours says it so. */
function outOfBars(name: string): string | null {
  if (/%(?![0-9A-Fa-f]{2})/.test(name)) return null
  try {
    return decodeURIComponent(name)
  } catch {
    return null
  }
}

/** Element strings of a fixed length, by their application identifiers: the digits after it (GS1 General Specifications, 7.8.5). */
const FIXED: Readonly<Record<string, number>> = { '01': 14, '02': 14, 11: 6, 12: 6, 13: 6, 15: 6, 16: 6, 17: 6, 20: 2 }
/** Of any length up to this; they end at the separator or with the code. */
const UP_TO: Readonly<Record<string, number>> = {
  10: 20,
  21: 20,
  22: 20,
  30: 8,
  37: 8,
  240: 30,
  241: 30,
  250: 30,
  400: 30,
}
/** FNC1 between elements is sent as the ASCII group separator. */
const GROUP = '\u001d'

function readElements(text: string, body: string, today: CalendarDate): ScannedCode {
  const spoilt = (what: 'gtin' | 'date' | 'form'): ScannedCode => ({ kind: 'spoilt', text, what })
  const elements = body.startsWith('(') ? bracketedElements(body) : bareElements(body)
  const gtin = elements?.get('01') ?? elements?.get('02')
  if (!elements || gtin === undefined) return spoilt('form')
  if (!isGtin(gtin)) return spoilt('gtin')
  const dated = elements.get('17')
  const expiresOn = dated === undefined ? null : dateOfSixDigits(dated, today)
  if (dated !== undefined && expiresOn === null) return spoilt('date')
  return { kind: 'gtin', text, gtin, lot: elements.get('10')?.trim() ?? null, expiresOn }
}

/** `(01)06291041500213(17)280831(10)2608-114`, as it is printed under the bars. */
function bracketedElements(body: string): Map<string, string> | null {
  const elements = new Map<string, string>()
  let rest = body
  while (rest !== '') {
    const found = /^\((\d{2,4})\)/.exec(rest)
    const identifier = found?.[1]
    if (!found || identifier === undefined) return null
    rest = rest.slice(found[0].length)
    const fixed = FIXED[identifier]
    const next = /\(\d{2,4}\)/.exec(rest)
    const value = fixed === undefined ? rest.slice(0, next?.index ?? rest.length) : rest.slice(0, fixed)
    if (!isValueOf(identifier, value)) return null
    elements.set(identifier, value)
    rest = rest.slice(value.length)
  }
  return elements
}

/** One after the other, without brackets; what has no fixed length ends at the separator. */
function bareElements(body: string): Map<string, string> | null {
  const elements = new Map<string, string>()
  let rest = body
  while (rest !== '') {
    if (rest.startsWith(GROUP)) {
      rest = rest.slice(1)
      continue
    }
    const identifier = [2, 3].map((length) => rest.slice(0, length)).find((start) => start in FIXED || start in UP_TO)
    if (identifier === undefined) return null
    rest = rest.slice(identifier.length)
    const end = rest.indexOf(GROUP)
    const value = rest.slice(0, FIXED[identifier] ?? (end === -1 ? rest.length : end))
    if (!isValueOf(identifier, value)) return null
    elements.set(identifier, value)
    rest = rest.slice(value.length)
  }
  return elements
}

function isValueOf(identifier: string, value: string): boolean {
  const fixed = FIXED[identifier]
  if (fixed !== undefined) return value.length === fixed && /^\d+$/.test(value)
  const most = UP_TO[identifier]
  return value !== '' && (most === undefined || value.length <= most)
}

/**
 * YYMMDD. Day 00 is the last of the month; a year more than fifty ahead of today's lies in the century before, one fifty or more
 * behind it in the century after (GS1 General Specifications, 3.4.7 and 7.12). Null when there is no such day.
 */
function dateOfSixDigits(digits: string, today: CalendarDate): CalendarDate | null {
  const { year: thisYear } = partsOf(today)
  const [year, month, day] = [0, 2, 4].map((at) => Number(digits.slice(at, at + 2)))
  if (year === undefined || month === undefined || day === undefined || month < 1 || month > 12) return null
  const ahead = year - (thisYear % 100)
  const century = thisYear - (thisYear % 100) + (ahead >= 51 ? -100 : ahead <= -50 ? 100 : 0)
  return dateFromParts(century + year, month, day === 0 ? daysInMonth(century + year, month) : day)
}
