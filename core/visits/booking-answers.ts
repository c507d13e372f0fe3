import type { Desk, OpenBooks } from '../answering.ts'
import type { ReadDb } from '../database/handles.ts'
import type { ProblemCode } from '../problems.ts'
import { ok, type Result, refused } from '../result.ts'
import type { OfficeSettings } from '../settings/office-settings.ts'
import { readSettings } from '../settings/settings-store.ts'
import { addDays, type CalendarDate, earlierOf } from '../units/calendar-date.ts'
import { weekdayAndDate } from '../units/date-words.ts'
import type { OfficeId, SiteId, VisitId } from '../units/ids.ts'
import { NO_MONEY } from '../units/money.ts'
import { type Minutes, minutes } from '../units/time-of-day.ts'
import {
  type Charges,
  cancelVisitRow,
  chargesOfVisit,
  insertVisit,
  listBookedBetween,
  listBookedOfDay,
  listBookedOfSite,
  listTechnicianTimes,
  replacePlannedTasks,
  updateVisit,
} from './booking-store.ts'
import { checkBooking, standingObjection, type TechnicianTime } from './check-booking.ts'
import { changesSince, daySeenOf } from './day-seen.ts'
import { expectedPrice } from './expected-price.ts'
import { freeDays } from './free-days.ts'
import { minutesOfTask, plannedMinutes, type WorkToTime } from './planned-minutes.ts'
import { readTrace } from './report-store.ts'
import { readHouseholds, readUnits, readVisits } from './visit-detail-store.ts'
import { type HouseholdShape, type StageShape, VISIT_STATE_WORDS, type VisitShape } from './visit-shapes.ts'
import type { ReadingRoom } from './visit-tasks-store.ts'
import { whenInWords, workInWords } from './visit-words.ts'
import type { BookingCheck, BookingForm, WantedVisit } from './visits-contract.ts'
import { latestLetters } from './waiting-store.ts'

/** What asking and writing have in common. */
interface Asks {
  readonly read: ReadDb
  readonly officeId: OfficeId
  readonly today: CalendarDate
}

export const roomOf = (asks: Asks, settings: OfficeSettings): ReadingRoom => ({
  db: asks.read,
  officeId: asks.officeId,
  today: asks.today,
  measures: settings.measures,
})

/** No more days than a telephone call has room for. */
const MOST_OFFERS = 12

export async function bookingForm(desk: Desk, { siteId }: { siteId: SiteId }): Promise<Result<BookingForm>> {
  const room = roomOf(desk, await readSettings(desk.read, desk.officeId))
  const household = (await readHouseholds(room, [siteId]))[0]
  if (!household) return refused('RECORD_GONE', { what: 'This household' })
  const units = await readUnits(room, [siteId])
  const letters = await latestLetters(desk.read, desk.officeId, [siteId])
  return ok({
    household,
    units: units.map(({ siteId: _, ...unit }) => unit),
    technicians: (await listTechnicianTimes(desk.read, desk.officeId, desk.today)).map(plainTime),
    letter: letters.get(siteId) ?? null,
    booked: await listBookedOfSite(desk.read, desk.officeId, siteId),
  })
}

/** A technician's time without what only the address book needs. */
function plainTime(technician: TechnicianTime): BookingForm['technicians'][number] {
  const { technicianId, name, workdays, startsAt, endsAt, minutesADay, leftOn, daysOff } = technician
  return { technicianId, name, workdays, startsAt, endsAt, minutesADay, leftOn, daysOff: [...daysOff] }
}

export async function offerFreeDays(
  desk: Desk,
  input: { siteId: SiteId; minutes: Minutes },
): Promise<Result<ReturnType<typeof freeDays>>> {
  const settings = await readSettings(desk.read, desk.officeId)
  const household = (await readHouseholds(roomOf(desk, settings), [input.siteId]))[0]
  if (!household) return refused('RECORD_GONE', { what: 'This household' })
  const from = addDays(desk.today, 1)
  const offers = freeDays(
    {
      town: household.town,
      minutes: input.minutes,
      driveMinutes: settings.driveMinutesPerVisit,
      windowMinutes: settings.arrivalWindowMinutes,
      from,
      days: settings.daysOffered,
    },
    await listTechnicianTimes(desk.read, desk.officeId, desk.today),
    await listBookedBetween(desk.read, desk.officeId, from, addDays(from, settings.daysOffered)),
  )
  return ok(offers.slice(0, MOST_OFFERS))
}

interface Judged extends BookingCheck {
  readonly household: HouseholdShape
  readonly technician: TechnicianTime | null
  readonly tasks: readonly (WantedVisit['tasks'][number] & {
    readonly stage: StageShape | null
    readonly freeOfCharge: boolean
  })[]
  readonly settings: OfficeSettings
}

/** Everything that a booking form shows about what it holds, and everything that saving it needs. */
async function judge(
  asks: Asks,
  wanted: WantedVisit,
  visitId: VisitId | null,
  charges: Charges | null = null,
): Promise<Result<Judged>> {
  const free = charges ?? (await chargesOfVisit(asks.read, asks.officeId, visitId))
  const settings = await readSettings(asks.read, asks.officeId)
  const room = roomOf(asks, settings)
  const household = (await readHouseholds(room, [wanted.siteId]))[0]
  if (!household) return refused('RECORD_GONE', { what: 'This household' })
  // A date that is past asks for technicians of that day, or one who has left since would seem unknown.
  const times = await listTechnicianTimes(asks.read, asks.officeId, earlierOf(wanted.on, asks.today))
  const technician = times.find((one) => one.technicianId === wanted.technicianId) ?? null
  if (wanted.technicianId !== null && technician === null) return refused('RECORD_GONE', { what: 'This technician' })
  const stages = (await readUnits(room, [wanted.siteId])).flatMap((unit) => unit.stages)
  const tasks = wanted.tasks.map((task) => ({
    ...task,
    stage: stages.find((stage) => stage.stageId === task.stageId) ?? null,
    freeOfCharge: task.stageId !== null && free.freeStages.has(task.stageId),
  }))
  if (tasks.some((task) => task.stageId !== null && task.stage === null)) return refused('VISIT_STAGE_ELSEWHERE')
  const timed = tasks.map(timeOfTask)
  const builtUp = plannedMinutes(timed, settings)
  const planned = wanted.ownMinutes ?? builtUp
  const ofDay =
    technician === null ? [] : await listBookedOfDay(asks.read, asks.officeId, technician.technicianId, wanted.on)
  const sameDay = ofDay.filter((visit) => visit.visitId !== visitId)
  const ofSite = await listBookedOfSite(asks.read, asks.officeId, wanted.siteId)
  const objections = checkBooking(
    {
      ...wanted,
      visitId,
      household: household.household,
      technician,
      minutes: minutes(planned),
      taskCount: tasks.length,
    },
    {
      today: asks.today,
      locale: settings.locale,
      driveMinutes: settings.driveMinutesPerVisit,
      others: [...sameDay, ...ofSite.filter((visit) => !sameDay.some((one) => one.visitId === visit.visitId))],
    },
  )
  return ok({
    objections,
    minutes: minutes(planned),
    builtUpMinutes: builtUp,
    price: priceOf(tasks, planned, household, free.callFree ? { ...settings, callOutCents: NO_MONEY } : settings),
    daySeen: daySeenOf(sameDay),
    sameDay,
    household,
    technician,
    tasks,
    settings,
  })
}

const timeOfTask = (task: Judged['tasks'][number]): WorkToTime => ({
  kind: task.kind,
  fitMinutes: task.stage?.part?.fitMinutes ?? null,
  ownMinutes: task.minutes,
})

function priceOf(
  tasks: Judged['tasks'],
  plannedOnSite: number,
  household: HouseholdShape,
  settings: OfficeSettings,
): BookingCheck['price'] {
  const parts = tasks.flatMap(({ kind, stage, freeOfCharge }) =>
    kind === 'change' && stage?.part && !freeOfCharge ? [{ ...stage.part, quantity: 1 }] : [],
  )
  const given = tasks.filter((task) => task.freeOfCharge).map((task) => minutesOfTask(timeOfTask(task), settings))
  const charged = plannedOnSite - settings.callMinutes - given.reduce((sum, each) => sum + each, 0)
  const price = expectedPrice(parts, Math.max(0, charged), {
    callOutCents: settings.callOutCents,
    labourCentsPerHour: settings.labourCentsPerHour,
    taxRate: settings.taxRate,
    taxExempt: household.taxExempt,
  })
  return { ...price, lines: [...price.lines] }
}

export async function checkWanted(
  desk: Desk,
  { visitId, ...wanted }: WantedVisit & { visitId: VisitId | null },
): Promise<Result<BookingCheck>> {
  const judged = await judge(desk, wanted, visitId)
  if (!judged.ok) return judged
  const { objections, minutes: planned, builtUpMinutes, price, daySeen, sameDay } = judged.value
  return ok({ objections, minutes: planned, builtUpMinutes, price, daySeen, sameDay })
}

interface Knowingly {
  readonly setAside: readonly ProblemCode[]
  readonly daySeen: string | null
}

/** Judges again inside the writing transaction: what was free when the form was opened may be taken by now. */
async function judgeToSave(
  books: OpenBooks,
  wanted: WantedVisit & Knowingly,
  visitId: VisitId | null,
  charges: Charges | null,
): Promise<Result<Judged>> {
  const judged = await judge(books, wanted, visitId, charges)
  if (!judged.ok) return judged
  const { settings, sameDay, technician, objections } = judged.value
  const changes =
    wanted.daySeen === null || technician === null ? null : changesSince(wanted.daySeen, sameDay, settings.locale)
  if (changes !== null && technician !== null)
    return refused('VISIT_DAY_CHANGED', {
      technician: technician.name,
      date: weekdayAndDate(wanted.on, settings.locale),
      changes,
    })
  const standing = standingObjection(objections, wanted.setAside)
  return standing === null ? judged : { ok: false, problem: standing }
}

type Changed = { visitId: VisitId; version: number }

export const bookVisit = (desk: Desk, wanted: WantedVisit & Knowingly): Promise<Result<Changed>> =>
  desk.write((books) => bookInBooks(books, wanted))

/** Books inside a transaction that is open already. `charges`: what of it is free, else nothing is. */
export async function bookInBooks(
  books: OpenBooks,
  wanted: WantedVisit & Knowingly,
  charges: Charges | null = null,
): Promise<Result<Changed>> {
  const judged = await judgeToSave(books, wanted, null, charges)
  if (!judged.ok) return judged
  const { minutes: planned } = judged.value
  const visit = { ...wanted, minutes: planned, callFree: charges?.callFree ?? false }
  const visitId = await insertVisit(books.tx, books.officeId, visit, books.now)
  await writeTasks(books, visitId, judged.value)
  const told = await books.happened({ kind: 'visit-booked', visitId, siteId: wanted.siteId })
  if (!told.ok) return told
  await logVisit(books, visitId, wanted.siteId, 'booked', `Visit booked for ${aboutVisit(wanted, judged.value)}`)
  return ok({ visitId, version: 1 })
}

const NOBODY_YET = 'nobody yet'

const aboutVisit = (wanted: WantedVisit, { technician, tasks, settings }: Judged): string =>
  `${whenInWords(wanted, settings.locale)}, ${technician?.name ?? NOBODY_YET}: ${workInWords(tasks.map((task) => ({ kind: task.kind, label: task.stage?.label ?? task.description })))}`

async function writeTasks(books: OpenBooks, visitId: VisitId, { tasks, settings }: Judged): Promise<void> {
  await replacePlannedTasks(
    books.tx,
    books.officeId,
    visitId,
    tasks.map((task) => ({
      kind: task.kind,
      stageId: task.stageId,
      partId: task.kind === 'change' ? (task.stage?.part?.partId ?? null) : null,
      description: task.description,
      minutes: minutesOfTask(timeOfTask(task), settings),
      freeOfCharge: task.freeOfCharge,
    })),
  )
}

export async function logVisit(
  books: OpenBooks,
  visitId: VisitId,
  siteId: SiteId,
  verb: string,
  sentence: string,
  details = '',
): Promise<void> {
  await books.record({ subjectKind: 'visit', subjectId: visitId, siteId, verb, sentence, details })
}

/** The visit as it stands, or why it cannot be changed: gone, changed by someone else, or not in the wanted state. */
export async function visitToChange(
  books: OpenBooks,
  settings: OfficeSettings,
  visitId: VisitId,
  version: number,
  states: readonly VisitShape['state'][],
): Promise<Result<VisitShape>> {
  const visit = (await readVisits(roomOf(books, settings), { visitId }))[0]
  if (!visit) return refused('RECORD_GONE', { what: 'This visit' })
  if (visit.version !== version) {
    const latest = (await readTrace(books.read, books.officeId, visitId))[0]
    const changes = latest ? `${latest.sentence} (${latest.by})` : 'it was saved in between'
    return refused('RECORD_CHANGED', { what: 'This visit', changes })
  }
  if (states.includes(visit.state)) return ok(visit)
  return visit.state === 'booked'
    ? refused('VISIT_NOT_RECORDED')
    : refused('VISIT_NOT_BOOKED', { state: VISIT_STATE_WORDS[visit.state] })
}

type WantedMove = WantedVisit & Knowingly & { visitId: VisitId; version: number; why: string }

export const moveVisit = (desk: Desk, wanted: WantedMove): Promise<Result<Changed>> =>
  desk.write((books) => moveInBooks(books, wanted))

/** Changes a booked visit inside a transaction that is open already. What was free of charge stays so unless `charges` says otherwise. */
export async function moveInBooks(
  books: OpenBooks,
  wanted: WantedMove,
  charges: Charges | null = null,
): Promise<Result<Changed>> {
  const settings = await readSettings(books.read, books.officeId)
  const found = await visitToChange(books, settings, wanted.visitId, wanted.version, ['booked'])
  if (!found.ok) return found
  const before = found.value
  if (before.household.siteId !== wanted.siteId) return refused('VISIT_STAGE_ELSEWHERE')
  const judged = await judgeToSave(books, wanted, wanted.visitId, charges)
  if (!judged.ok) return judged
  const to = { ...wanted, minutes: judged.value.minutes }
  await updateVisit(books.tx, books.officeId, wanted.visitId, wanted.version, to)
  await writeTasks(books, wanted.visitId, judged.value)
  const told = await books.happened({
    kind: 'visit-moved',
    visitId: wanted.visitId,
    siteId: wanted.siteId,
    before: { on: before.on, technicianId: before.technician?.technicianId ?? null },
  })
  if (!told.ok) return told
  const was = `${whenInWords(before, settings.locale)}, ${before.technician?.name ?? NOBODY_YET}`
  const sentence = `Visit is now ${aboutVisit(wanted, judged.value)}`
  const details = [`Before: ${was}.`, wanted.why].filter((part) => part !== '').join(' ')
  await logVisit(books, wanted.visitId, wanted.siteId, 'moved', sentence, details)
  return ok({ visitId: wanted.visitId, version: wanted.version + 1 })
}

export async function cancelVisit(
  desk: Desk,
  { visitId, version, why }: { visitId: VisitId; version: number; why: string },
): Promise<Result<Changed>> {
  if (why === '') return refused('VISIT_NEEDS_REASON')
  return desk.write(async (books) => {
    const settings = await readSettings(books.read, books.officeId)
    const found = await visitToChange(books, settings, visitId, version, ['booked'])
    if (!found.ok) return found
    const { siteId } = found.value.household
    await cancelVisitRow(books.tx, books.officeId, visitId, version, why)
    const told = await books.happened({ kind: 'visit-cancelled', visitId, siteId })
    if (!told.ok) return told
    const sentence = `Visit of ${whenInWords(found.value, settings.locale)} cancelled: ${why}`
    await logVisit(books, visitId, siteId, 'cancelled', sentence)
    return ok({ visitId, version: version + 1 })
  })
}
