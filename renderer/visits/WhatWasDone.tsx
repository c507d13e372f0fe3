import type { OfficeSettings } from '../../core/settings/office-settings.ts'
import type { ReadingShape, TaskShape, VisitShape } from '../../core/visits/visit-shapes.ts'
import { FIGURE_NAMES, type Figure, figureText } from '../../core/water/figures.ts'
import { rejectionInWords, rejectionOf } from '../../core/water/rejection.ts'
import { Facts } from '../design/Facts.tsx'
import { SheetPart } from '../design/Sheet.tsx'
import { useOfficeState } from '../shell/office-state.ts'

/** A recorded visit in words: tasks with part and lot, readings, leak checks, remarks. */
export function WhatWasDone({ visit }: { readonly visit: VisitShape }) {
  const { settings } = useOfficeState()
  if (visit.state === 'cancelled') return null
  const leaks = [visit.leakChecked ? 'before leaving' : '', visit.leakCheckedFull ? 'after the tank had filled' : '']
  const looked = leaks.filter((part) => part !== '').join(' and ')
  const facts = [
    ...visit.tasks.map((task) => ({ label: task.label, value: taskInWords(task) })),
    ...visit.readings.flatMap((reading) => readingFacts(reading, settings)),
    { label: 'Leaks', value: looked === '' ? 'not looked for' : `looked for ${looked}` },
    { label: 'Remarks', value: visit.remarks },
  ]
  return (
    <SheetPart title="What was done">
      <Facts facts={facts.filter((fact) => fact.value !== '')} />
    </SheetPart>
  )
}

function taskInWords(task: TaskShape): string {
  if (task.state !== 'done') return 'left as it was'
  if (task.kind === 'sanitise') return 'sanitised'
  if (task.kind !== 'change') return 'done'
  const lot = task.lotCode === '' ? 'lot not known' : `lot ${task.lotCode}`
  const free = task.freeOfCharge ? ', free of charge' : ''
  return `changed: ${task.fittedPart?.name ?? 'no part'}, ${lot}${free}`
}

function readingFacts(reading: ReadingShape, settings: OfficeSettings) {
  const figures = (Object.keys(FIGURE_NAMES) as Figure[]).flatMap((figure) => {
    const value = reading.figures[figure]
    return value === null ? [] : [`${FIGURE_NAMES[figure]} ${figureText(figure, value, settings.measures)}`]
  })
  const rejection = rejectionOf(reading.figures)
  const marked = reading.unlikely ? 'unlikely, confirmed' : ''
  const words = [figures.join(', '), marked, reading.note].filter((part) => part !== '').join('; ')
  return [
    { label: 'Readings', value: words },
    { label: 'The membrane', value: rejection === null ? '' : rejectionInWords(rejection, settings) },
  ]
}
