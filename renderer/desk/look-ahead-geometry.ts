import type { Box } from '../../core/installations/stage-train-geometry.ts'
import type { LookAhead, WeekAhead } from '../../core/visits/look-ahead-shapes.ts'
import { minutesAsPlanned } from '../../core/visits/look-ahead-words.ts'

export const PICTURE_HEIGHT = 260
const LEFT = 56
const TOP = 24
const FOOT = 228
/** Room for what is late, apart from the weeks. */
const LATE = { width: 28, gap: 16 } as const

/** One week as it is drawn. Lengths are px, y grows downward. */
export interface DrawnWeek {
  readonly week: WeekAhead
  /** The whole height of the week, for marking it. */
  readonly column: Box
  readonly booked: Box | null
  readonly planned: Box | null
  /** Every fourth week carries its date. */
  readonly isDated: boolean
}

export interface DrawnLookAhead {
  readonly left: number
  readonly foot: number
  readonly step: number
  readonly weeks: readonly DrawnWeek[]
  readonly marks: readonly { readonly y: number; readonly hours: number }[]
  /** Steps of the hours there are, and of the evened-out weeks: SVG path data. */
  readonly hoursPath: string
  readonly evenedPath: string
  readonly late: { readonly box: Box; readonly isCut: boolean } | null
}

/** The round number at or above, even so that half of it is whole: 2, 4, 6, 8, 10, 12, 16, 20, 30, 40, 50, 60, 80, 100, 120 ... */
export function niceCeiling(count: number): number {
  if (count <= 2) return 2
  const power = 10 ** Math.floor(Math.log10(count))
  const rounds = [1, 1.2, 1.6, 2, 3, 4, 5, 6, 8, 10].map((step) => step * power)
  return Math.round(rounds.find((round) => round >= count && Number.isInteger(round / 2)) ?? 10 * power)
}

/** Lays the weeks side by side, hours upward. Late visits stand apart on the left, cut off where they are more than the scale holds. */
export function drawLookAhead({ weeks, late }: LookAhead, width: number): DrawnLookAhead {
  const left = LEFT + (late.visits > 0 ? LATE.width + LATE.gap : 0)
  const step = (width - left) / Math.max(1, weeks.length)
  const most = Math.max(60, ...weeks.map((week) => Math.max(minutesAsPlanned(week), week.hours, week.evenedMinutes)))
  const top = niceCeiling(most / 60)
  const yOf = (minutes: number): number => FOOT - (minutes / (top * 60)) * (FOOT - TOP)
  const lateTop = Math.max(TOP - 6, yOf(late.minutes))
  return {
    left,
    foot: FOOT,
    step,
    weeks: weeks.map((week, at) => drawWeek(week, at, left + at * step, step, yOf)),
    marks: [0, top / 2, top].map((hours) => ({ y: yOf(hours * 60), hours })),
    hoursPath: stepsOf(weeks, left, step, (week) => yOf(week.hours)),
    evenedPath: stepsOf(weeks, left, step, (week) => yOf(week.evenedMinutes)),
    late:
      late.visits > 0
        ? {
            box: { x: LEFT + 2, y: lateTop, width: LATE.width, height: FOOT - lateTop },
            isCut: yOf(late.minutes) < TOP,
          }
        : null,
  }
}

function drawWeek(week: WeekAhead, at: number, x: number, step: number, yOf: (minutes: number) => number): DrawnWeek {
  const inset = step * 0.18
  const bar = (from: number, until: number): Box | null =>
    until > from ? { x: x + inset, y: yOf(until), width: step - 2 * inset, height: yOf(from) - yOf(until) } : null
  return {
    week,
    column: { x, y: TOP, width: step, height: FOOT - TOP },
    booked: bar(0, week.booked.minutes),
    planned: bar(week.booked.minutes, minutesAsPlanned(week)),
    isDated: at % 4 === 0,
  }
}

function stepsOf(weeks: readonly WeekAhead[], left: number, step: number, yOf: (week: WeekAhead) => number): string {
  return weeks
    .map((week, at) => `${at === 0 ? `M${round(left)} ` : 'V'}${round(yOf(week))}H${round(left + (at + 1) * step)}`)
    .join('')
}

const round = (length: number): number => Math.round(length * 10) / 10
