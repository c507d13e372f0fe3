import { z } from 'zod'
import { monthName } from '../units/date-words.ts'

/** Months of the year in which nobody is there, 1 to 12, ascending; none for most households. */
export type MonthsAway = readonly number[]

const FORM = /^$|^(1[0-2]|[1-9])(,(1[0-2]|[1-9]))*$/

/** As a household keeps them: "6,7,8", ascending, each once; blank for none. Not all twelve: nobody would live there. */
export const monthsAwaySchema = z
  .string()
  .regex(FORM, 'Months are numbers from 1 to 12.')
  .refine((text) => monthsAwayText(listOf(text)) === text, 'Each month once, in order.')
  .refine((text) => listOf(text).length < 12, 'Leave a month in which somebody is there, or close the household.')

const listOf = (text: string): number[] => (text === '' ? [] : text.split(',').map(Number))

/** The months that the text of a household names. Anything that is no month is passed over, and all twelve count as none. */
export function readMonthsAway(text: string): MonthsAway {
  if (text === '') return NEVER_AWAY
  const months = [...new Set(listOf(text))].filter((month) => Number.isInteger(month) && month >= 1 && month <= 12)
  return months.length === 12 ? NEVER_AWAY : months.sort((a, b) => a - b)
}

export const NEVER_AWAY: MonthsAway = []

export function monthsAwayText(months: MonthsAway): string {
  return [...new Set(months)].sort((a, b) => a - b).join(',')
}

/** "June to August", "December and January", "April and October to December"; empty for none. */
export function monthsAwayInWords(months: MonthsAway): string {
  const away = new Set(months)
  const runs: string[] = []
  const [one, other] = months
  if (months.length === 2 && one !== undefined && other !== undefined)
    return one === 1 && other === 12 ? 'December and January' : `${monthName(one)} and ${monthName(other)}`
  for (const first of months) {
    const before = first === 1 ? 12 : first - 1
    if (away.has(before) && away.size < 12) continue
    let last = first
    while (away.has((last % 12) + 1) && (last % 12) + 1 !== first) last = (last % 12) + 1
    runs.push(first === last ? monthName(first) : `${monthName(first)} to ${monthName(last)}`)
  }
  return runs.length < 2 ? (runs[0] ?? '') : `${runs.slice(0, -1).join(', ')} and ${runs.at(-1)}`
}
