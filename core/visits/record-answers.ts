import type { Desk, OpenBooks } from '../answering.ts'
import type { RecordedVisit } from '../happenings.ts'
import { ok, type Result, refused } from '../result.ts'
import type { OfficeSettings } from '../settings/office-settings.ts'
import { readSettings } from '../settings/settings-store.ts'
import { weekdayAndDate } from '../units/date-words.ts'
import type { InstallationId, PartId, VisitId } from '../units/ids.ts'
import { isNothingMeasured } from '../water/figures.ts'
import { judgeReading } from '../water/judge-reading.ts'
import { logVisit, roomOf, visitToChange } from './booking-answers.ts'
import { checkRecordedVisit } from './check-recorded-visit.ts'
import { recordVisit, type VisitReport } from './record-visit.ts'
import type { ReportForm, VisitReportInput } from './report-shapes.ts'
import {
  listLotsToFit,
  partsOfLots,
  readStageBooks,
  readTrace,
  replaceReadings,
  stagesOfSite,
  writeClocks,
  writeOutcome,
  writeReportedTasks,
} from './report-store.ts'
import { readVisits } from './visit-detail-store.ts'
import type { TaskShape, VisitShape } from './visit-shapes.ts'
import { correctionInWords, workInWords } from './visit-words.ts'

/** A visit with what its report form needs: lots that could be fitted, and its trace. */
export async function oneVisit(desk: Desk, { visitId }: { visitId: VisitId }): Promise<Result<ReportForm>> {
  const settings = await readSettings(desk.read, desk.officeId)
  const visit = (await readVisits(roomOf(desk, settings), { visitId }))[0]
  if (!visit) return refused('RECORD_GONE', { what: 'This visit' })
  const partIds = new Set<PartId>()
  for (const stage of visit.units.flatMap((unit) => unit.stages)) if (stage.part) partIds.add(stage.part.partId)
  for (const task of visit.tasks) {
    if (task.part) partIds.add(task.part.partId)
    if (task.fittedPart) partIds.add(task.fittedPart.partId)
  }
  const technicianId = visit.technician?.technicianId ?? null
  return ok({
    visit,
    lots: await listLotsToFit(desk.read, desk.officeId, [...partIds], technicianId),
    trace: await readTrace(desk.read, desk.officeId, visitId),
  })
}

type Changed = { visitId: VisitId; version: number }

export async function recordReport(desk: Desk, report: VisitReportInput): Promise<Result<Changed>> {
  return desk.write(async (books) => {
    const settings = await readSettings(books.read, books.officeId)
    const found = await visitToChange(books, settings, report.visitId, report.version, ['booked'])
    if (!found.ok) return found
    const written = await writeReport(books, settings, found.value, report)
    if (!written.ok) return written
    const after = written.value
    const told = await books.happened({ kind: 'visit-recorded', visit: recordedVisitOf(after) })
    if (!told.ok) return told
    const siteId = after.household.siteId
    await logVisit(books, report.visitId, siteId, 'recorded', outcomeInWords(after, settings.locale))
    return ok({ visitId: report.visitId, version: after.version })
  })
}

function outcomeInWords(visit: VisitShape, locale: string): string {
  const day = weekdayAndDate(visit.doneOn ?? visit.on, locale)
  if (visit.state === 'could-not') return `Visit of ${day} could not be done: ${visit.reason}`
  const done = workInWords(visit.tasks.filter((task) => task.state === 'done'))
  return `Visit of ${day} recorded: ${done || 'nothing changed'}`
}

export async function correctReport(desk: Desk, report: VisitReportInput & { why: string }): Promise<Result<Changed>> {
  if (report.why === '') return refused('VISIT_NEEDS_REASON')
  return desk.write(async (books) => {
    const settings = await readSettings(books.read, books.officeId)
    const found = await visitToChange(books, settings, report.visitId, report.version, ['done', 'could-not'])
    if (!found.ok) return found
    const written = await writeReport(books, settings, found.value, report)
    if (!written.ok) return written
    const [before, after] = [found.value, written.value]
    const told = await books.happened({
      kind: 'visit-corrected',
      before: recordedVisitOf(before),
      after: recordedVisitOf(after),
    })
    if (!told.ok) return told
    const changes = correctionInWords(before, after, settings)
    const details = changes.length === 0 ? 'Nothing changed.' : `${changes.join('; ')}.`
    const sentence = `Report of the visit corrected: ${report.why}`
    await logVisit(books, report.visitId, after.household.siteId, 'corrected', sentence, details)
    return ok({ visitId: report.visitId, version: after.version })
  })
}

/** Checks a report and writes it: outcome, tasks, readings, the clocks of the stages. Answers with the visit as it stands then. */
async function writeReport(
  books: OpenBooks,
  settings: OfficeSettings,
  visit: VisitShape,
  report: VisitReportInput,
): Promise<Result<VisitShape>> {
  if (report.doneOn > books.today)
    return refused('VISIT_IN_FUTURE', { date: weekdayAndDate(report.doneOn, settings.locale) })
  if (report.outcome === 'could-not' && report.because === '') return refused('VISIT_NEEDS_REASON')
  const tasks = await checkTasks(books, visit, report)
  if (!tasks.ok) return tasks
  const readings = checkReadings(visit, report, settings)
  if (!readings.ok) return readings

  const stages = await readStageBooks(books.read, books.officeId, visit.household.siteId)
  const kept = { ...report, readings: report.readings.filter((reading) => !isNothingMeasured(reading.figures)) }
  await writeOutcome(books.tx, books.officeId, kept, books.now)
  const planned = visit.tasks.map((task) => task.taskId)
  await writeReportedTasks(books.tx, books.officeId, kept, planned)
  await replaceReadings(books.tx, books.officeId, kept, readings.value)
  const room = roomOf(books, settings)
  const written = await readAgain(room, report.visitId)
  const told = toldOf(written)
  const effects = recordVisit(told, stages)
  const complaints = checkRecordedVisit(told, stages, effects)
  if (complaints.length > 0) throw new Error(`The judge of recorded visits complains: ${complaints.join('; ')}`)
  await writeClocks(books.tx, books.officeId, effects.clocks)
  return ok(await readAgain(room, report.visitId))
}

async function readAgain(room: Parameters<typeof readVisits>[0], visitId: VisitId): Promise<VisitShape> {
  const visit = (await readVisits(room, { visitId }))[0]
  if (!visit) throw new Error(`Visit ${visitId} vanished while it was written`)
  return visit
}

/** A recorded visit as the pure rule looks at it. */
function toldOf(visit: VisitShape): VisitReport {
  return {
    visitId: visit.visitId,
    outcome: visit.state === 'done' ? 'done' : 'could-not',
    doneOn: visit.doneOn ?? visit.on,
    callFree: visit.callFree,
    tasks: visit.tasks.map(toldTask),
  }
}

function toldTask(task: TaskShape) {
  return {
    taskId: task.taskId,
    kind: task.kind,
    done: task.state === 'done',
    stageId: task.stageId,
    partId: task.fittedPart?.partId ?? null,
    lotId: task.lotId,
    fromPlaceId: task.fromPlaceId,
    quantity: task.quantity,
    freeOfCharge: task.freeOfCharge,
  }
}

/** The same for those who listen. */
function recordedVisitOf(visit: VisitShape): RecordedVisit {
  const told = toldOf(visit)
  return {
    visitId: visit.visitId,
    siteId: visit.household.siteId,
    customerId: visit.household.customerId,
    technicianId: visit.technician?.technicianId ?? null,
    doneOn: told.doneOn,
    outcome: told.outcome,
    sanitised: visit.tasks.some((task) => task.kind === 'sanitise' && task.state === 'done'),
    callFree: visit.callFree,
    tasks: visit.tasks.map((task) => ({ ...toldTask(task), description: task.label, minutes: task.minutes })),
  }
}

async function checkTasks(books: OpenBooks, visit: VisitShape, report: VisitReportInput): Promise<Result<void>> {
  const own = await stagesOfSite(books.read, books.officeId, visit.household.siteId)
  const known = new Set(visit.tasks.map((task) => task.taskId))
  for (const task of report.tasks) {
    if (task.stageId !== null && !own.has(task.stageId)) return refused('VISIT_STAGE_ELSEWHERE')
    if (task.taskId !== null && !known.has(task.taskId)) return refused('RECORD_GONE', { what: 'A task of this visit' })
  }
  const lotIds = report.tasks.flatMap((task) => (task.done && task.lotId !== null ? [task.lotId] : []))
  const parts = await partsOfLots(books.read, books.officeId, lotIds)
  for (const task of report.tasks) {
    if (!task.done || task.lotId === null) continue
    const lot = parts.get(task.lotId)
    if (lot?.partId !== task.partId)
      return refused('VISIT_LOT_NOT_OF_PART', { lot: lot?.code ?? task.lotId, part: 'the part that was fitted' })
  }
  return ok(undefined)
}

/** The units whose reading is unlikely and was confirmed; refused for what cannot be, or was not asked about. */
function checkReadings(
  visit: VisitShape,
  report: VisitReportInput,
  settings: OfficeSettings,
): Result<Set<InstallationId>> {
  const unlikely = new Set<InstallationId>()
  for (const reading of report.readings) {
    const unit = visit.units.find((one) => one.installationId === reading.installationId)
    if (!unit) return refused('RECORD_GONE', { what: 'A unit of this household' })
    // A new membrane has no earlier reading to be compared with.
    const isMembraneChanged = report.tasks.some(
      (task) => task.done && unit.stages.some((stage) => stage.stageId === task.stageId && stage.kind === 'membrane'),
    )
    const earlier = { rejection: isMembraneChanged ? null : unit.lastRejection, meter: unit.lastMeter }
    const { impossible, questions } = judgeReading(reading.figures, earlier, settings.measures)
    const first = impossible[0]
    if (first) return { ok: false, problem: first }
    if (questions.length === 0) continue
    if (!reading.confirmed) return refused('READING_UNLIKELY', { question: questions[0] ?? '' })
    unlikely.add(reading.installationId)
  }
  return ok(unlikely)
}
