import { STAGE_KIND_WORDS } from '../../core/installations/stage-kinds.ts'
import type { CalendarDate } from '../../core/units/calendar-date.ts'
import type { InstallationId, LotId, PartId, PlaceId, StageId, VisitTaskId } from '../../core/units/ids.ts'
import type { MeasureSystem } from '../../core/units/measures.ts'
import { minutes } from '../../core/units/time-of-day.ts'
import type { LotToFit, ReportForm, VisitReportInput } from '../../core/visits/report-shapes.ts'
import type { TaskKind, UnitShape, VisitShape } from '../../core/visits/visit-shapes.ts'
import { FIGURE_NAMES, type Figure, type MeasuredFigures, NOTHING_MEASURED } from '../../core/water/figures.ts'
import { type EarlierFigures, type JudgedReading, judgeReading } from '../../core/water/judge-reading.ts'
import { fieldText, readFigure, type TypingManner } from '../../core/water/read-figure.ts'

/** A task of the report while it is filled in. */
export interface TaskDraft {
  readonly key: string
  readonly taskId: VisitTaskId | null
  readonly kind: TaskKind
  readonly stageId: StageId | null
  readonly label: string
  readonly description: string
  readonly done: boolean
  readonly partId: PartId | null
  readonly partName: string
  /** "lot/place" of the chosen lot, empty when it is not known. */
  readonly lot: string
  readonly quantity: number
  readonly minutes: number
  readonly freeOfCharge: boolean
}

export type TypedFigures = Readonly<Record<Figure, string>>

export interface ReportDraft {
  readonly outcome: 'done' | 'could-not'
  readonly because: string
  readonly doneOn: CalendarDate | null
  readonly callFree: boolean
  readonly tasks: readonly TaskDraft[]
  /** Typed figures by unit. */
  readonly readings: Readonly<Record<string, TypedFigures>>
  readonly confirmed: boolean
  readonly leakChecked: boolean
  readonly leakCheckedFull: boolean
  readonly remarks: string
  readonly why: string
}

export const lotKey = (lot: { readonly lotId: LotId; readonly placeId: PlaceId | null }): string =>
  `${lot.lotId}/${lot.placeId ?? ''}`

/** The report as it begins: what was planned is ticked, with the lot that lies on the van; or what was recorded before. */
export function reportOf({ visit, lots }: ReportForm, today: CalendarDate, system: MeasureSystem): ReportDraft {
  const isNew = visit.state === 'booked'
  const tasks = visit.tasks.map((task): TaskDraft => {
    const part = task.fittedPart ?? task.part
    const likely = lots.find((lot) => lot.partId === part?.partId && lot.onVan)
    const kept = task.lotId === null ? '' : lotKey({ lotId: task.lotId, placeId: task.fromPlaceId })
    return {
      key: `task-${task.taskId}`,
      taskId: task.taskId,
      kind: task.kind,
      stageId: task.stageId,
      label: task.label,
      description: task.description,
      done: isNew || task.state === 'done',
      partId: part?.partId ?? null,
      partName: part?.name ?? '',
      lot: isNew ? (likely ? lotKey(likely) : '') : kept,
      quantity: task.quantity,
      minutes: task.minutes,
      freeOfCharge: task.freeOfCharge,
    }
  })
  return {
    outcome: visit.state === 'could-not' ? 'could-not' : 'done',
    because: visit.state === 'could-not' ? visit.reason : '',
    doneOn: visit.doneOn ?? (visit.on <= today ? visit.on : today),
    callFree: visit.callFree,
    tasks,
    readings: Object.fromEntries(visit.units.map((unit) => [unit.installationId, typedOf(visit, unit, system)])),
    confirmed: visit.readings.some((reading) => reading.unlikely),
    leakChecked: visit.leakChecked,
    leakCheckedFull: visit.leakCheckedFull,
    remarks: visit.remarks,
    why: '',
  }
}

function typedOf(visit: VisitShape, unit: UnitShape, system: MeasureSystem): TypedFigures {
  const figures =
    visit.readings.find((reading) => reading.installationId === unit.installationId)?.figures ?? NOTHING_MEASURED
  const typed = (figure: Figure) => fieldText(figure, figures[figure], system)
  return {
    tdsIn: typed('tdsIn'),
    tdsOut: typed('tdsOut'),
    flow: typed('flow'),
    feedPressure: typed('feedPressure'),
    tankPressure: typed('tankPressure'),
    temperature: typed('temperature'),
    meter: typed('meter'),
  }
}

/** A stage that was not planned, taken up into the report. */
export function taskForStage(unit: UnitShape, stageId: StageId, lots: readonly LotToFit[]): TaskDraft | null {
  const stage = unit.stages.find((one) => one.stageId === stageId)
  if (!stage) return null
  const { care } = STAGE_KIND_WORDS[stage.kind]
  const likely = lots.find((lot) => lot.partId === stage.part?.partId && lot.onVan)
  return {
    key: `stage-${stageId}`,
    taskId: null,
    kind: care,
    stageId,
    label: stage.label,
    description: '',
    done: true,
    partId: care === 'change' ? (stage.part?.partId ?? null) : null,
    partName: stage.part?.name ?? '',
    lot: likely && care === 'change' ? lotKey(likely) : '',
    quantity: 1,
    minutes: stage.part?.fitMinutes ?? 0,
    freeOfCharge: false,
  }
}

export interface ReadFigures {
  readonly figures: MeasuredFigures
  /** What is wrong with a field, in a sentence. */
  readonly problems: Readonly<Partial<Record<Figure, string>>>
  readonly judged: JudgedReading
}

/** Reads the typed figures of a unit. Each is as exact as what was typed. */
export function readTyped(typed: TypedFigures, earlier: EarlierFigures, manner: TypingManner): ReadFigures {
  const figures: Record<string, number | null> = {}
  const problems: Partial<Record<Figure, string>> = {}
  for (const figure of Object.keys(FIGURE_NAMES) as Figure[]) {
    // What was typed before the program knew this figure has no field for it.
    const read = readFigure(typed[figure] ?? '', figure, manner)
    if (read.ok) figures[figure] = read.value
    else problems[figure] = `${read.problem.sentence} ${read.problem.nextStep}`
  }
  const measured = { ...NOTHING_MEASURED, ...figures } as MeasuredFigures
  return { figures: measured, problems, judged: judgeReading(measured, earlier, manner.measures) }
}

/** The report as the office is told; null while a figure cannot be read or the day is missing. */
export function reportInput(
  visit: VisitShape,
  draft: ReportDraft,
  read: ReadonlyMap<InstallationId, ReadFigures>,
): VisitReportInput | null {
  if (draft.doneOn === null) return null
  if ([...read.values()].some((one) => Object.keys(one.problems).length > 0)) return null
  return {
    visitId: visit.visitId,
    version: visit.version,
    outcome: draft.outcome,
    because: draft.because,
    doneOn: draft.doneOn,
    callFree: draft.callFree,
    tasks: draft.tasks.map((task) => {
      const [lotId, placeId] = task.lot.split('/')
      return {
        taskId: task.taskId,
        kind: task.kind,
        stageId: task.stageId,
        description: task.description,
        done: task.done,
        partId: task.partId,
        lotId: lotId ? (Number(lotId) as LotId) : null,
        fromPlaceId: placeId ? (Number(placeId) as PlaceId) : null,
        quantity: task.quantity,
        minutes: minutes(task.minutes),
        freeOfCharge: task.freeOfCharge,
      }
    }),
    readings: [...read].map(([installationId, one]) => ({
      installationId,
      figures: one.figures,
      note: '',
      confirmed: draft.confirmed,
    })),
    leakChecked: draft.leakChecked,
    leakCheckedFull: draft.leakCheckedFull,
    remarks: draft.remarks,
  }
}
