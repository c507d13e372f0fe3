import type { Desk, OpenBooks } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import { readSettings } from '../settings/settings-store.ts'
import { addDays, type CalendarDate, laterOf } from '../units/calendar-date.ts'
import type { LotId, PartId, SiteId, StageId, VisitId } from '../units/ids.ts'
import { minutes } from '../units/time-of-day.ts'
import { bookInBooks, moveInBooks, roomOf } from '../visits/booking-answers.ts'
import { chargesOfVisit, listBookedBetween, listTechnicianTimes } from '../visits/booking-store.ts'
import { CAN_BE_SET_ASIDE } from '../visits/check-booking.ts'
import { minutesOfTask, plannedMinutes, type WorkToTime } from '../visits/planned-minutes.ts'
import { readVisits } from '../visits/visit-detail-store.ts'
import type { TaskShape } from '../visits/visit-shapes.ts'
import { findLot } from './movements-store.ts'
import { listParts } from './parts-store.ts'
import { stockForPulls } from './pull-needs-store.ts'
import type { RecallVisits } from './recall-contract.ts'
import { visitFor } from './recall-homes.ts'
import { type FittedStage, findRecall, stagesFittedWith, type VisitAhead, visitsAheadFor } from './recall-store.ts'
import { type HomeToVisit, planRecallVisits, type RecallBooking } from './recall-visits.ts'

/** So that a letter arrives before the visit it speaks of. */
const DAYS_FOR_LETTERS = 4
/** How far ahead room is looked for. */
const DAYS_LOOKED_AT = 60

type Asked = Pick<Desk, 'read' | 'officeId' | 'today'>

/** A booked visit that is to change what is recalled as well. */
export interface VisitToAddTo {
  readonly home: FittedStage
  readonly visit: VisitAhead
}

export interface RecallVisitsSeen {
  readonly from: CalendarDate
  readonly stages: readonly FittedStage[]
  readonly bookings: readonly RecallBooking[]
  readonly left: readonly HomeToVisit[]
  readonly added: readonly VisitToAddTo[]
}

/** What one press would do: reads the homes, what is booked there, and the room of the coming days. */
export async function readRecallVisits(
  asked: Asked,
  { lotId, from: wanted }: { lotId: LotId; from: CalendarDate | null },
): Promise<Result<RecallVisitsSeen>> {
  const { read, officeId, today } = asked
  const lot = await findLot(read, officeId, lotId)
  if (!lot) return refused('RECORD_GONE', { what: 'This lot' })
  if (lot.recalledOn === null) return refused('LOT_NOT_RECALLED', { lot: lot.lotNumber, part: lot.partName })
  const settings = await readSettings(read, officeId)
  const from = laterOf(wanted ?? addDays(today, DAYS_FOR_LETTERS), addDays(today, 1))
  const stages = await stagesFittedWith(read, officeId, lotId)
  const ahead = await visitsAheadFor(read, officeId, lotId, today)
  const homes: HomeToVisit[] = []
  const added: VisitToAddTo[] = []
  for (const [siteId, own] of bySite(stages)) {
    const [home] = own
    if (!home) continue
    const visit = visitFor(ahead.filter((each) => each.siteId === siteId))
    if (visit === null) {
      const { household, town, monthsAway } = home
      homes.push({ siteId, household, town, monthsAway, minutes: plannedMinutes(own.map(workOf), settings) })
    } else if (visit.free < own.length) added.push({ home, visit })
  }
  const { bookings, left } = planRecallVisits(homes, {
    from,
    days: DAYS_LOOKED_AT,
    driveMinutes: settings.driveMinutesPerVisit,
    windowMinutes: settings.arrivalWindowMinutes,
    technicians: await listTechnicianTimes(read, officeId, today),
    booked: await listBookedBetween(read, officeId, from, addDays(from, DAYS_LOOKED_AT)),
  })
  return ok({ from, stages, bookings, left, added })
}

function bySite(stages: readonly FittedStage[]): Map<SiteId, FittedStage[]> {
  const homes = new Map<SiteId, FittedStage[]>()
  for (const stage of stages) homes.set(stage.siteId, [...(homes.get(stage.siteId) ?? []), stage])
  return homes
}

const workOf = ({ fitMinutes }: FittedStage): WorkToTime => ({ kind: 'change', fitMinutes, ownMinutes: 0 })

export async function proposeRecallVisits(
  desk: Desk,
  input: { lotId: LotId; from: CalendarDate | null },
): Promise<Result<RecallVisits>> {
  const read = await readRecallVisits(desk, input)
  if (!read.ok) return read
  const { from, bookings, stages, added, left } = read.value
  const homes = bySite(stages)
  const phoneOf = (siteId: SiteId): string => homes.get(siteId)?.[0]?.phone ?? ''
  return ok({
    from,
    visits: bookings.length,
    until:
      bookings
        .map((booking) => booking.on)
        .sort()
        .at(-1) ?? null,
    days: daysOf(bookings),
    added: added.map(({ home, visit }) => {
      const { siteId, household, town, phone } = home
      return { siteId, household, town, phone, on: visit.on, technician: visit.technician }
    }),
    left: left.map(({ siteId, household, town }) => ({ siteId, household, town, phone: phoneOf(siteId) })),
    parts: await partsNeeded(desk, read.value),
  })
}

function daysOf(bookings: readonly RecallBooking[]): RecallVisits['days'] {
  const days = new Map<string, RecallBooking[]>()
  for (const booking of bookings) {
    const key = `${booking.on} ${booking.technician}`
    days.set(key, [...(days.get(key) ?? []), booking])
  }
  return [...days.values()].flatMap((own) => {
    const [first] = own
    if (!first) return []
    const towns = [...new Set(own.map((booking) => booking.town))].join(', ')
    return [{ on: first.on, technician: first.technician, visits: own.length, towns }]
  })
}

/** What the changes need of each part, beside what lies usable in bins and on vans and is promised to nobody. */
async function partsNeeded(
  { read, officeId }: Asked,
  { bookings, added, stages, from }: RecallVisitsSeen,
): Promise<RecallVisits['parts']> {
  const sites = new Set([...bookings.map((each) => each.siteId), ...added.map((each) => each.home.siteId)])
  const needed = new Map<PartId, number>()
  for (const { siteId, partId } of stages)
    if (sites.has(siteId) && partId !== null) needed.set(partId, (needed.get(partId) ?? 0) + 1)
  const stock = await stockForPulls(read, officeId, [...needed.keys()])
  const parts = await listParts(read, officeId)
  return [...needed].flatMap(([partId, count]) => {
    const part = parts.find((each) => each.partId === partId)
    if (!part) return []
    const usable = stock
      .filter((heap) => heap.partId === partId && !heap.recalled && (heap.expiresOn === null || heap.expiresOn >= from))
      .reduce((sum, heap) => sum + Math.max(0, heap.onHand - heap.promised), 0)
    return [{ number: part.number, name: part.name, needed: count, usable }]
  })
}

/** Books the visit of a home, free of charge, as promised; nothing when the home holds none of the lot any more. */
export async function bookRecallVisit(
  books: OpenBooks,
  lotId: LotId,
  booking: RecallBooking,
): Promise<Result<'done' | 'needless'>> {
  const stages = await stagesFittedWith(books.read, books.officeId, lotId, booking.siteId)
  if (stages.length === 0) return ok('needless')
  const { siteId, technicianId, on, windowFrom, windowUntil } = booking
  const made = await bookInBooks(
    books,
    {
      ...{ siteId, technicianId, on, windowFrom, windowUntil },
      tasks: stages.map(changeOf),
      ownMinutes: null,
      note: await noteOf(books, lotId),
      promised: true,
      setAside: [],
      daySeen: null,
    },
    { freeStages: new Set(stages.map((stage) => stage.stageId)), callFree: true },
  )
  return made.ok ? ok('done') : made
}

const changeOf = ({ stageId }: FittedStage) => ({
  kind: 'change' as const,
  stageId,
  description: '',
  minutes: minutes(0),
})

/** "Recall: change lot K-77 (the maker wrote), free of charge." */
async function noteOf(books: OpenBooks, lotId: LotId): Promise<string> {
  const lot = await findLot(books.read, books.officeId, lotId)
  const recall = await findRecall(books.read, books.officeId, lotId)
  return `Recall of lot ${lot?.lotNumber ?? ''}: ${recall?.why ?? ''}. Changed free of charge; bring the old piece back.`
}

/** Adds the change, free of charge, to a visit that is booked already; whatever else it is for stays. */
export async function addRecallChange(
  books: OpenBooks,
  lotId: LotId,
  visitId: VisitId,
): Promise<Result<'done' | 'needless'>> {
  const settings = await readSettings(books.read, books.officeId)
  const visit = (await readVisits(roomOf(books, settings), { visitId, states: ['booked'] }))[0]
  if (!visit) return refused('RECORD_GONE', { what: 'The visit' })
  const { siteId } = visit.household
  const stages = await stagesFittedWith(books.read, books.officeId, lotId, siteId)
  const charges = await chargesOfVisit(books.read, books.officeId, visitId)
  if (stages.every((stage) => charges.freeStages.has(stage.stageId))) return ok('needless')
  const further = stages.filter((stage) => !visit.tasks.some((task) => changes(task, stage.stageId)))
  const builtUp = plannedMinutes(visit.tasks.map(workOfTask), settings)
  const more = further.reduce((sum, stage) => sum + minutesOfTask(workOf(stage), settings), 0)
  const note = await noteOf(books, lotId)
  const made = await moveInBooks(
    books,
    {
      ...{ visitId, siteId, version: visit.version, on: visit.on },
      ...{ windowFrom: visit.windowFrom, windowUntil: visit.windowUntil },
      technicianId: visit.technician?.technicianId ?? null,
      tasks: [
        ...visit.tasks.map(({ kind, stageId, description, minutes: own }) => ({
          kind,
          stageId,
          description,
          minutes: own,
        })),
        ...further.map(changeOf),
      ],
      ownMinutes: visit.plannedMinutes === builtUp ? null : minutes(visit.plannedMinutes + more),
      note: [visit.note, note].filter((part) => part !== '').join('\n'),
      promised: true,
      setAside: [...CAN_BE_SET_ASIDE],
      daySeen: null,
      why: note,
    },
    { ...charges, freeStages: new Set([...charges.freeStages, ...stages.map((stage) => stage.stageId)]) },
  )
  return made.ok ? ok('done') : made
}

const changes = (task: TaskShape, stageId: StageId): boolean => task.kind === 'change' && task.stageId === stageId

const workOfTask = (task: TaskShape): WorkToTime => ({
  kind: task.kind,
  fitMinutes: task.part?.fitMinutes ?? null,
  ownMinutes: task.minutes,
})
