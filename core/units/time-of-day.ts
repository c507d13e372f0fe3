import { z } from 'zod'

/** Minutes: of a duration, or since midnight at the site. Whole. */
export const minutesSchema = z.int().min(0).brand<'Minutes'>()
export type Minutes = z.infer<typeof minutesSchema>

export function minutes(count: number): Minutes {
  if (!Number.isSafeInteger(count) || count < 0) throw new RangeError(`Not a whole number of minutes: ${count}`)
  return count as Minutes
}

/** Minutes since midnight, 0 to 1440. */
export const timeOfDaySchema = z.int().min(0).max(1440).brand<'TimeOfDay'>()
export type TimeOfDay = z.infer<typeof timeOfDaySchema>

export function timeOfDay(minutesSinceMidnight: number): TimeOfDay {
  return timeOfDaySchema.parse(minutesSinceMidnight)
}

/** Reads "8", "8:30", "08.30", "2 pm", "14:05". Null when it is no time of day. */
export function parseTimeOfDay(text: string): TimeOfDay | null {
  const match = /^\s*(\d{1,2})(?:[:.](\d{2}))?\s*([ap])?\.?(?:m\.?)?\s*$/i.exec(text)
  if (!match) return null
  let hour = Number(match[1])
  const minute = Number(match[2] ?? '0')
  const half = match[3]?.toLowerCase()
  if (minute > 59 || (half !== undefined && (hour < 1 || hour > 12))) return null
  if (half === 'p' && hour !== 12) hour += 12
  if (half === 'a' && hour === 12) hour = 0
  const total = hour * 60 + minute
  return total <= 1440 ? (total as TimeOfDay) : null
}

/** "8:30 am" in the United States, "08:30" elsewhere. */
export function formatTimeOfDay(time: TimeOfDay, locale: string): string {
  const hour = Math.floor(time / 60)
  const minute = String(time % 60).padStart(2, '0')
  if (!locale.endsWith('-US')) return `${String(hour).padStart(2, '0')}:${minute}`
  const half = hour % 24 < 12 ? 'am' : 'pm'
  return `${hour % 12 === 0 ? 12 : hour % 12}:${minute} ${half}`
}

/** "8:00–10:00 am" in the United States; "08:00–10:00" elsewhere. */
export function formatWindow(from: TimeOfDay, until: TimeOfDay, locale: string): string {
  const first = formatTimeOfDay(from, locale)
  const last = formatTimeOfDay(until, locale)
  const sameHalf = first.slice(-2) === last.slice(-2) && locale.endsWith('-US')
  return `${sameHalf ? first.slice(0, -3) : first}–${last}`
}
