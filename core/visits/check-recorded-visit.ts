import type { StageBooks, StageClock, VisitEffects, VisitReport } from './record-visit.ts'

/**
 * The judge of a recorded visit; shares no code with what records it. Complaints in words, none when the books are right:
 * a stage's clock shows the newest thing that happened there, nothing else of the household moved, and pieces
 * used are exactly the pieces of the tasks that were done.
 */
export function checkRecordedVisit(
  report: VisitReport,
  before: readonly StageBooks[],
  effects: VisitEffects,
): string[] {
  return [...checkClocks(report, before, effects), ...checkPieces(report, effects), ...checkCharges(report, effects)]
}

function checkClocks(report: VisitReport, before: readonly StageBooks[], effects: VisitEffects): string[] {
  const complaints: string[] = []
  for (const stage of before) {
    const name = `stage ${stage.stageId}`
    const shown = effects.clocks.find((change) => change.stageId === stage.stageId)?.clock ?? stage.now
    const newest = newestDay(report, stage)
    if (shown.fittedOn !== newest) complaints.push(`${name}: runs from ${shown.fittedOn}, the newest is ${newest}`)
    if (!isBackedBy(shown, report, stage)) complaints.push(`${name}: shows what nobody put there`)
  }
  const known = new Set(before.map((stage) => stage.stageId))
  for (const change of effects.clocks)
    if (!known.has(change.stageId)) complaints.push(`stage ${change.stageId} is not of this household`)
  return complaints
}

function newestDay(report: VisitReport, stage: StageBooks): string | null {
  const base = stage.now.visitId === null ? stage.now.fittedOn : stage.earlier.fittedOn
  const days: string[] = base === null ? [] : [base]
  for (const fitting of stage.fittings) if (fitting.visitId !== report.visitId) days.push(fitting.on)
  if (touchedBy(report, stage)) days.push(report.doneOn)
  return days.toSorted().at(-1) ?? null
}

function touchedBy(report: VisitReport, stage: StageBooks): boolean {
  if (report.outcome !== 'done') return false
  return report.tasks.some(
    (task) => task.done && task.stageId === stage.stageId && (task.kind === 'change' || task.kind === 'sanitise'),
  )
}

/** The lot that a clock shows was fitted by a recorded visit, by this report, or stood there before. */
function isBackedBy(clock: StageClock, report: VisitReport, stage: StageBooks): boolean {
  const base = stage.now.visitId === null ? stage.now : stage.earlier
  if (clock.lotId === base.lotId || clock.lotId === null) return true
  if (stage.fittings.some((fitting) => fitting.visitId !== report.visitId && fitting.lotId === clock.lotId)) return true
  return (
    report.outcome === 'done' &&
    report.tasks.some((task) => task.done && task.stageId === stage.stageId && task.lotId === clock.lotId)
  )
}

function checkPieces(report: VisitReport, effects: VisitEffects): string[] {
  const wanted = new Map<string, number>()
  if (report.outcome === 'done')
    for (const task of report.tasks)
      if (task.done && task.kind === 'change' && task.partId !== null) {
        const key = `${task.partId}/${task.lotId}/${task.fromPlaceId}`
        wanted.set(key, (wanted.get(key) ?? 0) + task.quantity)
      }
  for (const piece of effects.used) {
    const key = `${piece.partId}/${piece.lotId}/${piece.fromPlaceId}`
    wanted.set(key, (wanted.get(key) ?? 0) - piece.quantity)
  }
  return [...wanted].filter(([, left]) => left !== 0).map(([key, left]) => `pieces ${key}: ${left} not accounted for`)
}

function checkCharges(report: VisitReport, effects: VisitEffects): string[] {
  const complaints: string[] = []
  for (const line of effects.billableParts) {
    const task = report.tasks.find((candidate) => candidate.taskId === line.taskId)
    if (!task?.done || task.freeOfCharge || report.outcome !== 'done')
      complaints.push(`task ${line.taskId} is charged and should not be`)
  }
  if (effects.chargesCall && (report.callFree || report.outcome === 'could-not'))
    complaints.push('the call is charged and should not be')
  return complaints
}
