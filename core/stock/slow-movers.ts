import { type CalendarDate, daysBetween } from '../units/calendar-date.ts'

export interface PartAtRest {
  readonly pieces: number
  /** The last day a piece was fitted or used up; null for never. */
  readonly usedOn: CalendarDate | null
  /** When the oldest lot that lies there came. */
  readonly cameOn: CalendarDate
}

/**
 * Days since a part was last of use: since it was fitted, or since what lies there came, whichever is later: what came last week has
 * had no chance yet. Null where nothing lies.
 */
export function daysAtRest(part: PartAtRest, on: CalendarDate): number | null {
  if (part.pieces === 0) return null
  const since = part.usedOn !== null && part.usedOn > part.cameOn ? part.usedOn : part.cameOn
  return Math.max(0, daysBetween(since, on))
}
