import { expect, test } from 'vitest'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { installationIdSchema, siteIdSchema, visitIdSchema, visitTaskIdSchema } from '../../core/units/ids.ts'
import { tds } from '../../core/units/measures.ts'
import { minutes, timeOfDay } from '../../core/units/time-of-day.ts'
import { changesSince, daySeenOf } from '../../core/visits/day-seen.ts'
import type { TaskShape } from '../../core/visits/visit-shapes.ts'
import { correctionInWords, whenInWords, workInWords } from '../../core/visits/visit-words.ts'
import { NOTHING_MEASURED } from '../../core/water/figures.ts'
import { aVisit } from '../builders/a-visit.ts'

const office = { locale: 'en-US', measures: 'us' } as const

test('VIS-11 the work of a visit in a line', () => {
  const tasks = [
    { kind: 'change', label: 'Sediment' },
    { kind: 'change', label: 'Post carbon' },
    { kind: 'sanitise', label: 'Tank' },
    { kind: 'other', label: 'Look at the tap' },
  ] as const
  expect(workInWords(tasks)).toBe('change sediment and post carbon, sanitise tank; Look at the tap')
  expect(whenInWords(aVisit({ visitId: 1, latitude: null }), 'en-US')).toBe('Wednesday, Dec 2, 8:00 am–5:00 pm')
})

const task = (own: Partial<TaskShape> = {}): TaskShape => ({
  taskId: visitTaskIdSchema.parse(1),
  kind: 'change',
  stageId: null,
  label: 'Carbon',
  description: '',
  part: null,
  quantity: 1,
  minutes: minutes(8),
  state: 'done',
  fittedPart: null,
  lotId: null,
  lotCode: '',
  fromPlaceId: null,
  freeOfCharge: false,
  pulledLots: [],
  ...own,
})

test('VIS-15 a correction says each thing that it changed', () => {
  const before = {
    ...aVisit({ visitId: 1, latitude: null }),
    state: 'done' as const,
    doneOn: calendarDate('2026-12-02'),
    tasks: [task()],
  }
  const reading = {
    installationId: installationIdSchema.parse(1),
    figures: { ...NOTHING_MEASURED, tdsOut: tds(48) },
    unlikely: false,
    note: '',
  }
  expect(correctionInWords(before, before, office)).toEqual([])
  const after = {
    ...before,
    doneOn: calendarDate('2026-12-01'),
    tasks: [task({ freeOfCharge: true, quantity: 2 })],
    readings: [reading],
    leakChecked: true,
    callFree: true,
    remarks: 'new tap',
  }
  expect(correctionInWords(before, after, office)).toEqual([
    'done Tuesday, Dec 1 instead of Wednesday, Dec 2',
    'Carbon: 2 pieces instead of 1',
    'Carbon: free of charge now',
    'TDS out: 48 mg/L instead of not measured',
    'leaks looked for before leaving',
    'the call is free of charge now',
    'other remarks',
  ])
  expect(correctionInWords(before, { ...before, tasks: [task({ state: 'left' })] }, office)).toEqual([
    'Carbon: not done after all',
  ])
})

test('VIS-9 what changed on a day since it was seen', () => {
  const visit = (id: number, version = 1) => ({
    visitId: visitIdSchema.parse(id),
    siteId: siteIdSchema.parse(id),
    household: `Household ${id}`,
    town: '',
    technicianId: null,
    on: calendarDate('2026-12-02'),
    windowFrom: timeOfDay(480),
    windowUntil: timeOfDay(600),
    minutes: minutes(44),
    version,
  })
  const seen = daySeenOf([visit(2), visit(1)])
  expect(changesSince(seen, [visit(1), visit(2)], 'en-US')).toBeNull()
  expect(changesSince(seen, [visit(1, 2), visit(3)], 'en-US')).toBe(
    'Household 1 was changed to 8:00–10:00 am; Household 3 was booked for 8:00–10:00 am; one visit is no longer on that day',
  )
})
