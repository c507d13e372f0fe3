import { type CalendarDate, daysBetween } from '../units/calendar-date.ts'
import type { StockLot } from './reorder-shapes.ts'

export interface UsableStock {
  /** Pieces that are good on the day they will be needed. */
  readonly usable: number
  /** Pieces that expire before anybody needs them, with the first day after which some are lost; 0 and null for none. */
  readonly expiring: number
  readonly firstExpiry: CalendarDate | null
  /** Recalled, or expired already. */
  readonly lost: number
}

/**
 * Stock by the date of need: a lot that expires before `days` are over counts only for what is needed up to its last day, those that
 * expire first being used first. `neededBy` is what is needed in all until a day, today being 0.
 */
export function usableStock(
  lots: readonly StockLot[],
  neededBy: (day: number) => number,
  today: CalendarDate,
  days: number,
): UsableStock {
  const isGood = (lot: StockLot): boolean => !lot.recalled && (lot.expiresOn === null || lot.expiresOn >= today)
  const good = lots.filter(isGood).toSorted((a, b) => ((a.expiresOn ?? '9999') < (b.expiresOn ?? '9999') ? -1 : 1))
  let usable = 0
  let used = 0
  let expiring = 0
  let firstExpiry: CalendarDate | null = null
  for (const lot of good) {
    const lastDay = lot.expiresOn === null ? null : daysBetween(today, lot.expiresOn)
    if (lastDay === null || lastDay >= days) {
      usable += lot.quantity
      continue
    }
    // A hair of floating point makes no piece.
    const taken = Math.min(lot.quantity, Math.max(0, Math.floor(neededBy(lastDay) + 1e-9) - used))
    used += taken
    usable += taken
    expiring += lot.quantity - taken
    if (taken < lot.quantity) firstExpiry ??= lot.expiresOn
  }
  const lost = lots.reduce((sum, lot) => sum + (isGood(lot) ? 0 : lot.quantity), 0)
  return { usable, expiring, firstExpiry, lost }
}
