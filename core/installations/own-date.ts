import { type CalendarDate, calendarDate } from '../units/calendar-date.ts'

/** A due date set by hand, as the books keep it. */
export interface KeptOwnDate {
  readonly ownDueOn: CalendarDate | null
  /** The fitting it was set against. */
  readonly against: CalendarDate | null
  /** The last day on which it stands; null: until the stage is changed. */
  readonly endsOn: CalendarDate | null
}

/**
 * The due date set by hand, if it still stands today. A later change of the stage than the one it was set against ends it, and so does the
 * day after its end. Null when there is none or it is spent.
 */
export function standingOwnDate(
  { ownDueOn, against, endsOn }: KeptOwnDate,
  changedOn: CalendarDate | null,
  today: CalendarDate,
): CalendarDate | null {
  if (ownDueOn === null || (endsOn !== null && endsOn < today)) return null
  if (against === null || changedOn === null) return ownDueOn
  return changedOn > against ? null : ownDueOn
}

/** What to keep beside a date set by hand for a stage that was never dated: before every date, so that any change ends it. */
export const NEVER_FITTED: CalendarDate = calendarDate('0001-01-01')
