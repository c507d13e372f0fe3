import type { CalendarDate } from '../units/calendar-date.ts'
import { stageNamed } from './column-words.ts'
import { looksLikeDate, looksLikeSerial } from './judge-dates.ts'

/** What kinds of thing the cells of a column look like, each as the share of its filled cells, 0 to 1. */
export interface ColumnLooks {
  readonly filled: number
  readonly date: number
  readonly serial: number
  readonly email: number
  readonly phone: number
  readonly postalCode: number
  readonly wholeAddress: number
  readonly street: number
  readonly region: number
  readonly stage: number
  readonly yesNo: number
  readonly smallNumber: number
  readonly number: number
  readonly personName: number
  /** Different cells among the filled ones: 1 when no two are alike. */
  readonly variety: number
}

const EMAIL = /^[^\s@,;]+@[^\s@,;]+\.[^\s@,;]{2,}$/
const PHONE = /^(?:\+?\d{1,3}[\s.-]?)?(?:\(?\d{2,5}\)?[\s./-]?)?\d{3}[\s.-]?\d{3,4}(?:\s*(?:x|ext\.?)\s*\d+)?$/i
const POSTAL_CODE = /^'?\d{3,5}(?:-\d{4})?$|^[A-Z]{1,2}\d[A-Z\d]?\s?\d[A-Z]{2}$|^[A-Z]\d[A-Z]\s?\d[A-Z]\d$/i
const WHOLE_ADDRESS = /\d.*[,\n].*\b\d{5}(?:-\d{4})?\s*$|[,\n]\s*\d{5}\s+\p{L}/u
const STREET = /^\d+[A-Za-z]?\s+\p{L}|\p{L}{3,}\.?\s+\d+\s?[a-z]?$|^p\.?\s?o\.?\s?box/iu
const REGION = /^[A-Z]{2}$/
const YES_NO = /^(?:y|yes|n|no|x|true|false|ja|nein|j|1|0|opt(?:ed)?[ -]?out|no mail)$/i
const PERSON_NAME = /^\p{Lu}[\p{L}'’.-]+(?:,\s*\p{Lu}|\s+(?:&\s+|and\s+)?\p{Lu})/u

/** Looks at a sample of a column's filled cells. */
export function looksOf(cells: readonly string[], today: CalendarDate): ColumnLooks {
  const filled = cells.map((cell) => cell.trim()).filter((cell) => cell !== '')
  const share = (test: (cell: string) => boolean): number =>
    filled.length === 0 ? 0 : filled.filter(test).length / filled.length
  return {
    filled: filled.length,
    date: share((cell) => looksLikeDate(cell, today)),
    serial: share(looksLikeSerial),
    email: share((cell) => EMAIL.test(cell)),
    phone: share((cell) => PHONE.test(cell) && cell.replaceAll(/\D/g, '').length >= 7 && !looksLikeDate(cell, today)),
    postalCode: share((cell) => POSTAL_CODE.test(cell)),
    wholeAddress: share((cell) => WHOLE_ADDRESS.test(cell)),
    street: share((cell) => STREET.test(cell) && !looksLikeDate(cell, today)),
    region: share((cell) => REGION.test(cell)),
    stage: share((cell) => cell.length <= 40 && stageNamed(cell) !== null),
    yesNo: share((cell) => YES_NO.test(cell)),
    smallNumber: share((cell) => /^\d{1,3}(?:\s*(?:months?|mos?|people|persons|\+))?$/i.test(cell)),
    number: share((cell) => /^'?-?[\d.,]+\s*\p{L}{0,4}(?:\/\p{L}+)?$/u.test(cell)),
    personName: share((cell) => PERSON_NAME.test(cell) && !/\d/.test(cell)),
    variety: filled.length === 0 ? 0 : new Set(filled).size / filled.length,
  }
}
