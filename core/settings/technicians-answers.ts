import type { Desk } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import { type CalendarDate, laterOf } from '../units/calendar-date.ts'
import { counted, longDate } from '../units/date-words.ts'
import type { TechnicianId } from '../units/ids.ts'
import type { TechnicianForm } from './settings-contract.ts'
import { readSettings } from './settings-store.ts'
import {
  countVisitsFrom,
  deleteDayOff,
  insertDayOff,
  insertTechnician,
  listTechniciansInFull,
  setLeftOn,
  updateTechnician,
} from './technicians-store.ts'

type Done = Result<Record<string, never>>

export function saveTechnician(
  desk: Desk,
  { technicianId, version, form }: { technicianId: TechnicianId | null; version: number; form: TechnicianForm },
): Promise<Result<{ technicianId: TechnicianId }>> {
  return desk.write(async (books) => {
    const id = technicianId ?? (await insertTechnician(books.tx, books.officeId, form))
    if (technicianId !== null && !(await updateTechnician(books.tx, books.officeId, technicianId, version, form))) {
      const now = (await listTechniciansInFull(books.read, books.officeId, books.today)).find(
        (each) => each.technicianId === technicianId,
      )
      return now
        ? refused('RECORD_CHANGED', {
            what: now.name,
            changes: `${now.shortName}, ${now.phone}, workdays ${now.workdays}`,
          })
        : refused('RECORD_GONE', { what: form.name })
    }
    await books.record({
      subjectKind: 'technician',
      subjectId: id,
      verb: technicianId === null ? 'added' : 'changed',
      sentence: technicianId === null ? `${form.name} works here` : `${form.name} was changed`,
    })
    return ok({ technicianId: id })
  })
}

/** Someone leaves on a day (the last one they work), or stays after all. Refused while visits are booked with them later on. */
export function technicianLeaves(
  desk: Desk,
  { technicianId, leftOn }: { technicianId: TechnicianId; leftOn: CalendarDate | null },
): Promise<Done> {
  return desk.write(async (books) => {
    const technician = (await listTechniciansInFull(books.read, books.officeId, books.today)).find(
      (each) => each.technicianId === technicianId,
    )
    if (!technician) return refused('RECORD_GONE', { what: 'This technician' })
    const visits = leftOn === null ? 0 : await countVisitsFrom(books.read, books.officeId, technicianId, leftOn)
    if (leftOn !== null && visits > 0) {
      const { locale } = await readSettings(books.read, books.officeId)
      return refused('TECHNICIAN_HAS_VISITS', {
        technician: technician.name,
        visits: counted(visits, 'visit'),
        date: longDate(leftOn, locale),
      })
    }
    await setLeftOn(books.tx, books.officeId, technicianId, leftOn)
    await books.record({
      subjectKind: 'technician',
      subjectId: technicianId,
      verb: leftOn === null ? 'stayed' : 'left',
      sentence: leftOn === null ? `${technician.name} works here` : `${technician.name} leaves on ${leftOn}`,
    })
    return ok({})
  })
}

export function addDayOff(
  desk: Desk,
  day: { technicianId: TechnicianId; fromOn: CalendarDate; untilOn: CalendarDate; reason: string },
): Promise<Result<{ dayOffId: number }>> {
  return desk.write(async (books) => {
    const dayOffId = await insertDayOff(books.tx, books.officeId, {
      ...day,
      untilOn: laterOf(day.fromOn, day.untilOn),
      reason: day.reason.trim(),
    })
    await books.record({
      subjectKind: 'technician',
      subjectId: day.technicianId,
      verb: 'off',
      sentence: `Off from ${day.fromOn} to ${laterOf(day.fromOn, day.untilOn)}`,
      details: day.reason.trim(),
    })
    return ok({ dayOffId })
  })
}

export function removeDayOff(desk: Desk, { dayOffId }: { dayOffId: number }): Promise<Done> {
  return desk.write(async (books) => {
    await deleteDayOff(books.tx, books.officeId, dayOffId)
    await books.record({
      subjectKind: 'office',
      subjectId: books.officeId,
      verb: 'changed',
      sentence: 'A day off was taken out again',
    })
    return ok({})
  })
}
