import { listed } from '../installations/stage-train-words.ts'
import { weekdayAndDate } from '../units/date-words.ts'
import type { MeasureSystem } from '../units/measures.ts'
import { formatWindow } from '../units/time-of-day.ts'
import { FIGURE_NAMES, type Figure, figureText } from '../water/figures.ts'
import type { ReadingShape, TaskShape, VisitShape } from './visit-shapes.ts'

type TaskInWords = Pick<TaskShape, 'kind' | 'label'>

/** What a visit is about, in a line: "change sediment, carbon and post carbon, sanitise tank; look at the tap". */
export function workInWords(tasks: readonly TaskInWords[]): string {
  const named = (kind: TaskShape['kind']) =>
    tasks.filter((task) => task.kind === kind).map((task) => task.label.toLowerCase())
  const [changes, sanitised] = [named('change'), named('sanitise')]
  const stages = [
    changes.length > 0 ? `change ${listed(changes)}` : '',
    sanitised.length > 0 ? `sanitise ${listed(sanitised)}` : '',
  ].filter((words) => words !== '')
  const others = tasks.filter((task) => task.kind === 'measure' || task.kind === 'other').map((task) => task.label)
  return [stages.join(', '), ...others].filter((words) => words !== '').join('; ')
}

type When = Pick<VisitShape, 'on' | 'windowFrom' | 'windowUntil'>

/** "Wednesday, Dec 2, 8:00–10:00 am". */
export function whenInWords(visit: When, locale: string): string {
  return `${weekdayAndDate(visit.on, locale)}, ${formatWindow(visit.windowFrom, visit.windowUntil, locale)}`
}

/** What a correction changed, a sentence each, for the log; empty when it changed nothing. */
export function correctionInWords(
  before: VisitShape,
  after: VisitShape,
  office: { readonly locale: string; readonly measures: MeasureSystem },
): string[] {
  return [
    ...outcomeChanges(before, after, office.locale),
    ...taskChanges(before, after),
    ...readingChanges(before, after, office.measures),
    ...plainChanges(before, after),
  ]
}

function outcomeChanges(before: VisitShape, after: VisitShape, locale: string): string[] {
  const said: string[] = []
  if (before.state !== after.state)
    said.push(after.state === 'done' ? 'done after all' : `not done after all: ${after.reason}`)
  else if (before.reason !== after.reason) said.push(`the reason is now: ${after.reason}`)
  if (before.doneOn !== after.doneOn && before.doneOn && after.doneOn)
    said.push(`done ${weekdayAndDate(after.doneOn, locale)} instead of ${weekdayAndDate(before.doneOn, locale)}`)
  return said
}

function taskChanges(before: VisitShape, after: VisitShape): string[] {
  const said: string[] = []
  for (const task of after.tasks) {
    const was = before.tasks.find((one) => one.taskId === task.taskId)
    const wasDone = was?.state === 'done'
    const isDone = task.state === 'done'
    if (isDone && !wasDone) said.push(`${task.label}: done after all`)
    else if (!isDone && wasDone) said.push(`${task.label}: not done after all`)
    else if (isDone && was) said.push(...fittedChanges(was, task))
  }
  return said
}

function fittedChanges(was: TaskShape, is: TaskShape): string[] {
  const said: string[] = []
  if (was.fittedPart?.partId !== is.fittedPart?.partId)
    said.push(`${is.label}: ${is.fittedPart?.name ?? 'no part'} instead of ${was.fittedPart?.name ?? 'no part'}`)
  if (was.lotId !== is.lotId)
    said.push(`${is.label}: lot ${is.lotCode || 'not known'} instead of ${was.lotCode || 'not known'}`)
  if (was.quantity !== is.quantity) said.push(`${is.label}: ${is.quantity} pieces instead of ${was.quantity}`)
  if (was.freeOfCharge !== is.freeOfCharge)
    said.push(`${is.label}: ${is.freeOfCharge ? 'free of charge' : 'charged'} now`)
  return said
}

function readingChanges(before: VisitShape, after: VisitShape, system: MeasureSystem): string[] {
  const units = new Set([...before.readings, ...after.readings].map((reading) => reading.installationId))
  return [...units].flatMap((unit) => {
    const of = (visit: VisitShape): ReadingShape | undefined =>
      visit.readings.find((reading) => reading.installationId === unit)
    return (Object.keys(FIGURE_NAMES) as Figure[]).flatMap((figure) => {
      const [was, is] = [of(before)?.figures[figure] ?? null, of(after)?.figures[figure] ?? null]
      const words = (value: number | null) => (value === null ? 'not measured' : figureText(figure, value, system))
      return was === is ? [] : [`${FIGURE_NAMES[figure]}: ${words(is)} instead of ${words(was)}`]
    })
  })
}

function plainChanges(before: VisitShape, after: VisitShape): string[] {
  const said: string[] = []
  if (before.leakChecked !== after.leakChecked)
    said.push(`leaks ${after.leakChecked ? 'looked for' : 'not looked for'} before leaving`)
  if (before.leakCheckedFull !== after.leakCheckedFull)
    said.push(`leaks ${after.leakCheckedFull ? 'looked for' : 'not looked for'} after the tank had filled`)
  if (before.callFree !== after.callFree) said.push(`the call is ${after.callFree ? 'free of charge' : 'charged'} now`)
  if (before.remarks !== after.remarks) said.push('other remarks')
  return said
}
