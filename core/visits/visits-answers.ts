import { implement } from '@orpc/server'
import { answer, type Desk } from '../answering.ts'
import { householdReason } from '../due/household-reason.ts'
import { ok, type Result } from '../result.ts'
import { readSettings } from '../settings/settings-store.ts'
import { addDays, type CalendarDate, mondayOf } from '../units/calendar-date.ts'
import type { SiteId } from '../units/ids.ts'
import {
  bookingForm,
  bookVisit,
  cancelVisit,
  checkWanted,
  moveVisit,
  offerFreeDays,
  roomOf,
} from './booking-answers.ts'
import { listBookedOfNobody, listTechnicianTimes, listVisitsOfWeek, type WeekVisitRow } from './booking-store.ts'
import { minutesTaken, type TechnicianTime } from './check-booking.ts'
import { isAtWork } from './free-days.ts'
import { planOfHousehold, proposalForVisit, savePlanWishes } from './plan-answers.ts'
import { countStalePlans } from './plan-store.ts'
import { correctReport, oneVisit, recordReport } from './record-answers.ts'
import { readUnits } from './visit-detail-store.ts'
import { tasksInLine } from './visit-tasks-store.ts'
import { workInWords } from './visit-words.ts'
import { visitsContract, type WaitingHousehold, type Week } from './visits-contract.ts'
import { countWaiting, latestLetters, listWaiting, WAITING_AT_ONCE, type WaitingEnd } from './waiting-store.ts'

interface WaitingPage {
  readonly count: number
  readonly late: number
  readonly rows: WaitingHousehold[]
  readonly next: WaitingEnd | null
}

async function waiting(
  { read, officeId, today }: Pick<Desk, 'read' | 'officeId' | 'today'>,
  { who, after }: { who: 'with-letter' | 'all-due'; after: WaitingEnd | null },
): Promise<Result<WaitingPage>> {
  const settings = await readSettings(read, officeId)
  const until = addDays(today, settings.firstLetterLeadDays)
  const onlyWithLetter = who === 'with-letter'
  const rows = await listWaiting(read, officeId, until, onlyWithLetter, { after, limit: WAITING_AT_ONCE })
  const siteIds = rows.map((row) => row.siteId)
  const letters = await latestLetters(read, officeId, siteIds)
  const units = await readUnits(roomOf({ read, officeId, today }, settings), siteIds)
  const stagesOf = new Map<SiteId, (typeof units)[number]['stages'][number][]>()
  for (const unit of units) stagesOf.set(unit.siteId, [...(stagesOf.get(unit.siteId) ?? []), ...unit.stages])
  const last = rows.at(-1)
  return ok({
    count: await countWaiting(read, officeId, until, onlyWithLetter),
    late: await countWaiting(read, officeId, addDays(today, -1), onlyWithLetter),
    next: last && rows.length === WAITING_AT_ONCE ? { dueOn: last.dueOn, siteId: last.siteId } : null,
    rows: rows.map((row) => {
      const stages = stagesOf.get(row.siteId) ?? []
      return {
        ...row,
        reason: householdReason(stages),
        stages: stages.map((stage) => stage.train),
        letter: letters.get(row.siteId) ?? null,
      }
    }),
  })
}

/** The week around a day: a row for everyone who works here, and one for visits that nobody has been sent to. */
async function week(desk: Desk, { on }: { on: CalendarDate }): Promise<Result<Week>> {
  const settings = await readSettings(desk.read, desk.officeId)
  const monday = mondayOf(on)
  const visits = await listVisitsOfWeek(desk.read, desk.officeId, monday)
  const technicians = await listTechnicianTimes(desk.read, desk.officeId, monday)
  const what = await tasksInLine(
    roomOf(desk, settings),
    visits.map((visit) => visit.visitId),
  )
  const days = [0, 1, 2, 3, 4, 5, 6].map((ahead) => addDays(monday, ahead))
  const dayOf = (own: readonly WeekVisitRow[], technician: TechnicianTime | null, day: CalendarDate) => {
    const ofDay = own.filter((visit) => visit.on === day)
    return {
      on: day,
      away: technician === null ? '' : awayInWords(technician, day),
      minutesTaken: minutesTaken(ofDay, settings.driveMinutesPerVisit),
      minutesThere: technician === null || !isAtWork(technician, day) ? 0 : technician.minutesADay,
      visits: ofDay.map(({ technicianId: _, on: __, ...visit }) => ({
        ...visit,
        what: workInWords(what.filter((task) => task.visitId === visit.visitId)),
      })),
    }
  }
  const nobody = visits.filter((visit) => !technicians.some((one) => one.technicianId === visit.technicianId))
  const rows: Week['rows'] = technicians.map(({ technicianId, name, shortName, phone, ...time }) => {
    const own = visits.filter((visit) => visit.technicianId === technicianId)
    const technician = { technicianId, name, shortName, phone }
    return { technician, days: days.map((day) => dayOf(own, { ...technician, ...time }, day)) }
  })
  if (nobody.length > 0) rows.push({ technician: null, days: days.map((day) => dayOf(nobody, null, day)) })
  return ok({ monday, days, rows })
}

function awayInWords(technician: TechnicianTime, on: CalendarDate): string {
  if (isAtWork(technician, on)) return ''
  const off = technician.daysOff.find((day) => day.from <= on && on <= day.until)
  if (off) return off.reason === '' ? 'off' : `off: ${off.reason}`
  return technician.leftOn !== null && technician.leftOn <= on ? 'has left' : 'not a workday'
}

const door = implement(visitsContract).$context<Desk>()
export const visitsAnswers = door.router({
  plan: door.plan.handler(answer(planOfHousehold)),
  proposal: door.proposal.handler(answer(proposalForVisit)),
  plansToMake: door.plansToMake.handler(
    answer(async (desk: Desk) => ok({ count: await countStalePlans(desk.read, desk.officeId, desk.today) })),
  ),
  planWishes: door.planWishes.handler(answer(savePlanWishes)),
  waiting: door.waiting.handler(answer(waiting)),
  bookingForm: door.bookingForm.handler(answer(bookingForm)),
  check: door.check.handler(answer(checkWanted)),
  freeDays: door.freeDays.handler(answer(offerFreeDays)),
  book: door.book.handler(answer(bookVisit)),
  move: door.move.handler(answer(moveVisit)),
  cancel: door.cancel.handler(answer(cancelVisit)),
  nobodyYet: door.nobodyYet.handler(
    answer(async (desk: Desk) => ok(await listBookedOfNobody(desk.read, desk.officeId))),
  ),
  week: door.week.handler(answer(week)),
  one: door.one.handler(answer(oneVisit)),
  record: door.record.handler(answer(recordReport)),
  correct: door.correct.handler(answer(correctReport)),
})
