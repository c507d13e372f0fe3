import { type CalendarDate, dateFromParts, daysBetween, partsOf } from '../units/calendar-date.ts'
import { monthName } from '../units/date-words.ts'
import type { Mark } from '../units/drawing.ts'

/** Where the figures of a picture stand: days across, something measured upward. */
export interface Frame {
  readonly left: number
  readonly right: number
  readonly top: number
  readonly foot: number
  readonly from: CalendarDate
  readonly until: CalendarDate
}

/** Where a day stands, kept within the frame. */
export function acrossOf(frame: Frame, date: CalendarDate): number {
  const share = daysBetween(frame.from, date) / Math.max(1, daysBetween(frame.from, frame.until))
  return frame.left + Math.min(1, Math.max(0, share)) * (frame.right - frame.left)
}

export const isWithin = (frame: Frame, date: CalendarDate): boolean => date >= frame.from && date <= frame.until

/** "May 2023". */
export function monthAndYear(date: CalendarDate): string {
  const { year, month } = partsOf(date)
  return `${monthName(month).slice(0, 3)} ${year}`
}

/** The foot of a picture with the years on it, or with quarters where it shows less than two years; and today as a line from top to foot. */
export function timeAxis(frame: Frame, today: CalendarDate): Mark[] {
  const marks: Mark[] = [
    { kind: 'line', look: 'hair', lines: [[spot(frame.left, frame.foot), spot(frame.right, frame.foot)]] },
  ]
  let free = Number.NEGATIVE_INFINITY
  for (const { date, words } of beginnings(frame)) {
    const x = acrossOf(frame, date)
    marks.push({ kind: 'line', look: 'hair', lines: [[spot(x, frame.foot), spot(x, frame.foot + 4)]] })
    const half = words.length * 3.6
    if (x - half < free || x + half > frame.right + 24) continue
    free = x + half + 8
    marks.push({ kind: 'words', text: words, at: spot(x, frame.foot + 18), align: 'middle', look: 'second' })
  }
  if (!isWithin(frame, today)) return marks
  const x = acrossOf(frame, today)
  const align = x > frame.right - 40 ? 'end' : x < frame.left + 40 ? 'start' : 'middle'
  return [
    ...marks,
    { kind: 'line', look: 'dotted', lines: [[spot(x, frame.top - 2), spot(x, frame.foot)]] },
    { kind: 'words', text: 'today', at: spot(x, frame.top - 7), align, look: 'second' },
  ]
}

function beginnings({ from, until }: Frame): { date: CalendarDate; words: string }[] {
  const isShort = daysBetween(from, until) < 2 * 365
  const found: { date: CalendarDate; words: string }[] = []
  for (let year = partsOf(from).year; year <= partsOf(until).year; year += 1)
    for (const month of isShort ? [1, 4, 7, 10] : [1]) {
      const date = dateFromParts(year, month, 1)
      if (date !== null && date >= from && date <= until)
        found.push({ date, words: isShort ? monthAndYear(date) : String(year) })
    }
  return found
}

export const spot = (x: number, y: number) => ({ x, y })
