import { type Problem, type ProblemCode, problem } from '../problems.ts'
import { type CalendarDate, weekdayOf } from '../units/calendar-date.ts'
import { weekdayAndDate, weekdayName } from '../units/date-words.ts'
import type { SiteId, TechnicianId, VisitId } from '../units/ids.ts'
import { formatWindow, type Minutes, type TimeOfDay } from '../units/time-of-day.ts'
import { canReachEveryDoor } from './doors-in-time.ts'
import { minutesInWords } from './planned-minutes.ts'

/** A technician's working time, as far as booking looks at it. */
export interface TechnicianTime {
  readonly technicianId: TechnicianId
  readonly name: string
  /** ISO weekdays, 1 Monday to 7 Sunday: '12345'. */
  readonly workdays: string
  readonly startsAt: TimeOfDay
  readonly endsAt: TimeOfDay
  /** Work and driving that fit into a day. */
  readonly minutesADay: Minutes
  readonly leftOn: CalendarDate | null
  readonly daysOff: readonly { readonly from: CalendarDate; readonly until: CalendarDate; readonly reason: string }[]
}

/** A booked visit as the check of another one sees it. */
export interface BookedVisit {
  readonly visitId: VisitId
  readonly siteId: SiteId
  readonly household: string
  readonly technicianId: TechnicianId | null
  readonly on: CalendarDate
  readonly windowFrom: TimeOfDay
  readonly windowUntil: TimeOfDay
  readonly minutes: Minutes
}

export interface WantedBooking {
  /** The visit that is being moved, null for a new one. */
  readonly visitId: VisitId | null
  readonly siteId: SiteId
  readonly household: string
  /** Null while nobody has the visit: then nobody's day can speak against it. */
  readonly technician: TechnicianTime | null
  readonly on: CalendarDate
  readonly windowFrom: TimeOfDay
  readonly windowUntil: TimeOfDay
  readonly minutes: Minutes
  readonly taskCount: number
}

export interface BookingSurroundings {
  readonly today: CalendarDate
  readonly locale: string
  readonly driveMinutes: Minutes
  /** Every booked visit of that technician on that day, and every booked visit of that household from today on. */
  readonly others: readonly BookedVisit[]
}

/** What speaks against a booking. A refusal stands; the rest can be booked all the same, knowingly. */
export interface Objection extends Problem {
  readonly weight: 'refusal' | 'asks'
}

/** The objections that a person may set aside knowingly. */
export const CAN_BE_SET_ASIDE = [
  'VISIT_NOT_A_WORKDAY',
  'VISIT_OUTSIDE_HOURS',
  'VISIT_DAY_FULL',
  'VISIT_HOUSEHOLD_BOOKED',
] as const satisfies readonly ProblemCode[]

/** Everything that speaks against a booking, refusals first; nothing when it can simply be saved. Days are the site's calendar. */
export function checkBooking(wanted: WantedBooking, around: BookingSurroundings): Objection[] {
  const others = around.others.filter((visit) => visit.visitId !== wanted.visitId)
  const { technician } = wanted
  return [
    ...checkDateAndWork(wanted, around),
    ...(technician === null ? [] : checkDay({ ...wanted, technician }, others, around)),
    ...checkHousehold(wanted, others, around),
  ]
}

interface WantedDay extends WantedBooking {
  readonly technician: TechnicianTime
}

/** What the technician's own day says. */
function checkDay(wanted: WantedDay, others: readonly BookedVisit[], around: BookingSurroundings): Objection[] {
  const sameDay = others.filter(
    (visit) => visit.technicianId === wanted.technician.technicianId && visit.on === wanted.on,
  )
  return [
    ...checkPresence(wanted, around.locale),
    ...checkDoors(wanted, sameDay, around),
    ...checkHours(wanted, around.locale),
    ...checkRoom(wanted, sameDay, around),
  ]
}

/** The first objection that still stands when the given ones are set aside; null when the booking may be saved. */
export function standingObjection(
  objections: readonly Objection[],
  setAside: readonly ProblemCode[],
): Objection | null {
  return objections.find(({ code, weight }) => weight === 'refusal' || !setAside.includes(code)) ?? null
}

const refusal = (code: ProblemCode, facts: Record<string, string> = {}): Objection => ({
  ...problem(code, facts),
  weight: 'refusal',
})
const asks = (code: (typeof CAN_BE_SET_ASIDE)[number], facts: Record<string, string>): Objection => ({
  ...problem(code, facts),
  weight: 'asks',
})

function checkDateAndWork(wanted: WantedBooking, { today, locale }: BookingSurroundings): Objection[] {
  const found: Objection[] = []
  if (wanted.on < today) found.push(refusal('VISIT_DATE_PAST', { date: weekdayAndDate(wanted.on, locale) }))
  if (wanted.windowUntil <= wanted.windowFrom) found.push(refusal('VISIT_WINDOW_EMPTY'))
  if (wanted.taskCount === 0) found.push(refusal('VISIT_NOTHING_TO_DO'))
  return found
}

function checkPresence({ technician, on }: WantedDay, locale: string): Objection[] {
  const facts = { technician: technician.name, date: weekdayAndDate(on, locale) }
  if (technician.leftOn !== null && technician.leftOn <= on) return [refusal('VISIT_TECHNICIAN_GONE', facts)]
  const off = technician.daysOff.find((day) => day.from <= on && on <= day.until)
  if (off) return [refusal('VISIT_DAY_OFF', { ...facts, why: off.reason === '' ? '' : ` (${off.reason})` })]
  if (!technician.workdays.includes(String(weekdayOf(on))))
    return [asks('VISIT_NOT_A_WORKDAY', { technician: technician.name, weekday: weekdayName(on) })]
  return []
}

function checkDoors(wanted: WantedDay, sameDay: readonly BookedVisit[], around: BookingSurroundings): Objection[] {
  if (wanted.windowUntil <= wanted.windowFrom) return []
  // A window before the usual hours means that the day begins earlier.
  const begins = Math.min(wanted.technician.startsAt, ...[wanted, ...sameDay].map((visit) => visit.windowFrom))
  if (canReachEveryDoor([wanted, ...sameDay], begins - around.driveMinutes, around.driveMinutes) !== false) return []
  const overlapping = sameDay.filter(
    (visit) => visit.windowFrom < wanted.windowUntil && wanted.windowFrom < visit.windowUntil,
  )
  const named = (overlapping.length > 0 ? overlapping : sameDay)
    .map((visit) => `${formatWindow(visit.windowFrom, visit.windowUntil, around.locale)} ${visit.household}`)
    .join('; ')
  const facts = { technician: wanted.technician.name, date: weekdayAndDate(wanted.on, around.locale), others: named }
  return sameDay.length === 0 ? [] : [refusal('VISIT_DOUBLE_BOOKED', facts)]
}

function checkHours(wanted: WantedDay, locale: string): Objection[] {
  const { startsAt, endsAt } = wanted.technician
  if (wanted.windowUntil <= wanted.windowFrom) return []
  if (wanted.windowFrom >= startsAt && wanted.windowUntil <= endsAt) return []
  return [
    asks('VISIT_OUTSIDE_HOURS', {
      window: formatWindow(wanted.windowFrom, wanted.windowUntil, locale),
      hours: formatWindow(startsAt, endsAt, locale),
    }),
  ]
}

/** Work and driving of a day: each visit counts its minutes and one drive. */
export function minutesTaken(visits: readonly { readonly minutes: number }[], driveMinutes: number): number {
  return visits.reduce((sum, visit) => sum + visit.minutes + driveMinutes, 0)
}

function checkRoom(wanted: WantedDay, sameDay: readonly BookedVisit[], around: BookingSurroundings): Objection[] {
  const taken = minutesTaken([wanted, ...sameDay], around.driveMinutes)
  if (taken <= wanted.technician.minutesADay) return []
  return [
    asks('VISIT_DAY_FULL', {
      date: weekdayAndDate(wanted.on, around.locale),
      booked: minutesInWords(taken),
      technician: wanted.technician.name,
      hours: minutesInWords(wanted.technician.minutesADay),
    }),
  ]
}

function checkHousehold(
  wanted: WantedBooking,
  others: readonly BookedVisit[],
  around: BookingSurroundings,
): Objection[] {
  const own = others.filter((visit) => visit.siteId === wanted.siteId && visit.on >= around.today)
  return own.slice(0, 1).map((visit) =>
    asks('VISIT_HOUSEHOLD_BOOKED', {
      household: wanted.household,
      date: weekdayAndDate(visit.on, around.locale),
      window: formatWindow(visit.windowFrom, visit.windowUntil, around.locale),
    }),
  )
}
