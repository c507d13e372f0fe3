import type { StageKind } from '../installations/stage-kinds.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { LotId, PartId, PlaceId, StageId, VisitId, VisitTaskId } from '../units/ids.ts'

/** What stands at a stage, and since when. The clock of the stage runs from `fittedOn`. */
export interface StageClock {
  readonly fittedOn: CalendarDate | null
  readonly partId: PartId | null
  readonly lotId: LotId | null
  /** The recorded visit it comes from; null when it was put into the books by hand or from a list. */
  readonly visitId: VisitId | null
}

/** One change or sanitising of a stage by a recorded visit. A sanitising fits nothing: `partId` is null. */
export interface Fitting {
  readonly visitId: VisitId
  readonly stageId: StageId
  readonly on: CalendarDate
  readonly partId: PartId | null
  readonly lotId: LotId | null
}

/** A stage as the books have it. */
export interface StageBooks {
  readonly stageId: StageId
  readonly kind: StageKind
  readonly now: StageClock
  /** What stood here before the first recorded visit. */
  readonly earlier: StageClock
  /** What recorded visits fitted here, this visit's own fittings among them when it was recorded before. */
  readonly fittings: readonly Fitting[]
}

/** A task as the technician reports it. */
export interface ReportedTask {
  readonly taskId: VisitTaskId
  readonly kind: 'change' | 'sanitise' | 'measure' | 'other'
  readonly done: boolean
  readonly stageId: StageId | null
  readonly partId: PartId | null
  readonly lotId: LotId | null
  readonly fromPlaceId: PlaceId | null
  readonly quantity: number
  readonly freeOfCharge: boolean
}

export interface VisitReport {
  readonly visitId: VisitId
  readonly outcome: 'done' | 'could-not'
  readonly doneOn: CalendarDate
  readonly callFree: boolean
  readonly tasks: readonly ReportedTask[]
}

/** Pieces that leave a van or a bin for good. The lot may be unknown: then somebody has to look. */
export interface PiecesUsed {
  readonly taskId: VisitTaskId
  readonly partId: PartId
  readonly lotId: LotId | null
  readonly fromPlaceId: PlaceId | null
  readonly quantity: number
}

export interface BillablePart {
  readonly taskId: VisitTaskId
  readonly partId: PartId
  readonly quantity: number
}

/** Everything that follows from a recorded visit. */
export interface VisitEffects {
  readonly fittings: readonly Fitting[]
  /** Stages whose clock is another one now. */
  readonly clocks: readonly { readonly stageId: StageId; readonly clock: StageClock; readonly earlier: StageClock }[]
  readonly used: readonly PiecesUsed[]
  readonly billableParts: readonly BillablePart[]
  readonly chargesCall: boolean
}

/**
 * What a recorded visit does to the books. The clock of each stage that was changed or sanitised restarts on the day of the work, unless a
 * later visit has been recorded there already. Recording a visit again replaces what it did before, and only that:
 * the result is the same as though the first report had never been.
 */
export function recordVisit(report: VisitReport, stages: readonly StageBooks[]): VisitEffects {
  const done = report.outcome === 'done' ? report.tasks.filter((task) => task.done) : []
  const fittings = done.flatMap((task) => fittingOf(task, report))
  const used = done.flatMap((task) =>
    task.kind === 'change' && task.partId !== null
      ? [
          {
            taskId: task.taskId,
            partId: task.partId,
            lotId: task.lotId,
            fromPlaceId: task.fromPlaceId,
            quantity: task.quantity,
          },
        ]
      : [],
  )
  return {
    fittings,
    clocks: stages.flatMap((stage) => newClock(stage, report.visitId, fittings)),
    used,
    billableParts: done.flatMap((task) =>
      task.kind === 'change' && task.partId !== null && !task.freeOfCharge
        ? [{ taskId: task.taskId, partId: task.partId, quantity: task.quantity }]
        : [],
    ),
    chargesCall: report.outcome === 'done' && !report.callFree,
  }
}

function fittingOf(task: ReportedTask, report: VisitReport): Fitting[] {
  if (task.stageId === null || (task.kind !== 'change' && task.kind !== 'sanitise')) return []
  const fits = task.kind === 'change'
  return [
    {
      visitId: report.visitId,
      stageId: task.stageId,
      on: report.doneOn,
      partId: fits ? task.partId : null,
      lotId: fits ? task.lotId : null,
    },
  ]
}

function newClock(stage: StageBooks, visitId: VisitId, reported: readonly Fitting[]): VisitEffects['clocks'] {
  const earlier = stage.now.visitId === null ? stage.now : stage.earlier
  const fittings = [
    ...stage.fittings.filter((fitting) => fitting.visitId !== visitId),
    ...reported.filter((fitting) => fitting.stageId === stage.stageId),
  ]
  const clock = clockAfter(earlier, fittings)
  return isSameClock(clock, stage.now) ? [] : [{ stageId: stage.stageId, clock, earlier }]
}

/** Follows the fittings in the order of their days; of two on one day the later visit stands. A sanitising keeps the part. */
function clockAfter(earlier: StageClock, fittings: readonly Fitting[]): StageClock {
  let clock = earlier
  for (const fitting of fittings.toSorted((a, b) => compare(a.on, b.on) || a.visitId - b.visitId)) {
    if (clock.fittedOn !== null && fitting.on < clock.fittedOn) continue
    clock = {
      fittedOn: fitting.on,
      partId: fitting.partId ?? clock.partId,
      lotId: fitting.partId === null ? clock.lotId : fitting.lotId,
      visitId: fitting.visitId,
    }
  }
  return clock
}

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0)

const isSameClock = (a: StageClock, b: StageClock): boolean =>
  a.fittedOn === b.fittedOn && a.partId === b.partId && a.lotId === b.lotId && a.visitId === b.visitId
