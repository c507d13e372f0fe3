import { type CalendarDate, daysBetween } from '../units/calendar-date.ts'
import type { LotId } from '../units/ids.ts'

/** Pieces of a lot that may be fitted today. */
export interface UsableLot {
  readonly lotId: LotId
  /** The last day on which it may be fitted; null when it keeps. */
  readonly expiresOn: CalendarDate | null
  readonly pieces: number
}

/** What becomes of a lot until it expires. Parts of a piece are chances. */
export interface LotOutlook {
  readonly lotId: LotId
  readonly expiresOn: CalendarDate
  readonly pieces: number
  readonly willBeUsed: number
  /** Pieces less what will be used. */
  readonly willBeLeft: number
}

/**
 * What of each lot of one part will be used by its date when the first to expire is used first. `use[d]` is what is to be expected on the
 * day d days from today; beyond the last of them the average of all goes on. Lots that keep are not in the answer; by expiry, then lot.
 */
export function outlookOfLots(lots: readonly UsableLot[], use: Float64Array, today: CalendarDate): LotOutlook[] {
  const until = usedUntil(use)
  let taken = 0
  return lots
    .filter((lot): lot is UsableLot & { expiresOn: CalendarDate } => lot.expiresOn !== null)
    .sort((a, b) => daysBetween(b.expiresOn, a.expiresOn) || a.lotId - b.lotId)
    .map(({ lotId, expiresOn, pieces }) => {
      const asked = until(daysBetween(today, expiresOn)) - taken
      const willBeUsed = Math.min(pieces, Math.max(0, asked))
      taken += willBeUsed
      return { lotId, expiresOn, pieces, willBeUsed, willBeLeft: pieces - willBeUsed }
    })
}

/** What is used up to and including the day `days` days from today; nothing for days that are past. */
function usedUntil(use: Float64Array): (days: number) => number {
  const sums = new Float64Array(use.length + 1)
  for (let day = 0; day < use.length; day++) sums[day + 1] = (sums[day] as number) + (use[day] as number)
  const all = sums[use.length] as number
  const pace = use.length === 0 ? 0 : all / use.length
  return (days) => {
    if (days < 0) return 0
    return days < use.length ? (sums[days + 1] as number) : all + pace * (days + 1 - use.length)
  }
}
