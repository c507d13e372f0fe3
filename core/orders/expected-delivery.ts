import { addDays, type CalendarDate, weekdayOf } from '../units/calendar-date.ts'

/**
 * The day on which an order is awaited: the supplier's days after the order day, and where nobody is there to take it in, the next
 * workday. `workdays` holds ISO weekdays, "12345". Without any workday the day itself.
 */
export function expectedDelivery(orderedOn: CalendarDate, leadTimeDays: number, workdays: string): CalendarDate {
  const day = addDays(orderedOn, leadTimeDays)
  for (let later = 0; later < 7; later += 1) {
    const candidate = addDays(day, later)
    if (workdays.includes(String(weekdayOf(candidate)))) return candidate
  }
  return day
}
