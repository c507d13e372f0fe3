import { type CalendarDate, calendarDate } from '../units/calendar-date.ts'

/**
 * The due date set by hand, if it still stands. It was set against one fitting (`against`, the fitting date at that time): a later
 * change of the stage ends it. Null when there is none or it is spent.
 */
export function standingOwnDate(
  ownDueOn: CalendarDate | null,
  against: CalendarDate | null,
  changedOn: CalendarDate | null,
): CalendarDate | null {
  if (ownDueOn === null || against === null || changedOn === null) return ownDueOn
  return changedOn > against ? null : ownDueOn
}

/** What to keep beside a date set by hand for a stage that was never dated: before every date, so that any change ends it. */
export const NEVER_FITTED: CalendarDate = calendarDate('0001-01-01')
