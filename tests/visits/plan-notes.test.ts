import { expect, test } from 'vitest'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { installationIdSchema, stageIdSchema } from '../../core/units/ids.ts'
import { cents } from '../../core/units/money.ts'
import { minutes } from '../../core/units/time-of-day.ts'
import { notesOfPlan, visitInWords } from '../../core/visits/plan-notes.ts'
import type { PlannedChangeShape, PlannedVisitShape } from '../../core/visits/plan-shapes.ts'

const MANNER = { today: calendarDate('2026-12-01'), locale: 'en-US' }

function aChange(id: number, label: string, over: Partial<PlannedChangeShape> = {}): PlannedChangeShape {
  return {
    stageId: stageIdSchema.parse(id),
    installationId: installationIdSchema.parse(1),
    kind: 'carbon',
    label,
    unit: '',
    care: 'change',
    dueOn: calendarDate('2027-01-09'),
    because: 'forced',
    why: '',
    givesUpDays: 0,
    leavingCostsCents: null,
    ...over,
  }
}

const aVisit = (visitOn: string, changes: PlannedChangeShape[]): PlannedVisitShape => ({
  visitOn: calendarDate(visitOn),
  latestOn: calendarDate(visitOn),
  minutes: minutes(40),
  cents: cents(9000),
  changes,
})

test('PIC-4 under each vessel stands what the plan does with it: now, along, with the membrane, or a later visit', () => {
  const notes = notesOfPlan(
    {
      visits: [
        aVisit('2026-12-20', [
          aChange(1, 'Sediment'),
          aChange(2, 'Membrane', { because: 'along', dueOn: calendarDate('2027-01-19') }),
          aChange(3, 'Tank', { because: 'carried', care: 'sanitise', dueOn: null }),
          aChange(4, 'Post carbon', { because: 'along', dueOn: calendarDate('2026-11-20') }),
        ]),
        aVisit('2027-08-01', [aChange(1, 'Sediment'), aChange(5, 'Minerals')]),
      ],
      notPlanned: [{ stageId: stageIdSchema.parse(6), label: 'Membrane', unit: '', why: '', stays: true }],
    },
    MANNER,
  )
  expect([...notes.values()]).toEqual([
    'next visit, from Dec 20',
    'along, would fall due in 7 weeks',
    'along, with the membrane',
    'next visit, from Dec 20',
    'visit of Aug 2027',
    'stays, measured at every visit',
  ])
  const late = notesOfPlan({ visits: [aVisit('2026-12-01', [aChange(1, 'Sediment')])], notPlanned: [] }, MANNER)
  expect([...late.values()]).toEqual(['next visit, now'])
})

test('PIC-6 a planned visit in words, unit by unit where there is more than one', () => {
  const tank = aChange(3, 'Tank', { care: 'sanitise' })
  expect(visitInWords({ changes: [aChange(1, 'Sediment'), aChange(2, 'Carbon'), tank] })).toBe(
    'change sediment, carbon; sanitise tank',
  )
  expect(
    visitInWords({
      changes: [
        aChange(1, 'Sediment', { unit: 'Kitchen' }),
        { ...tank, unit: 'Kitchen' },
        aChange(4, 'Carbon', { unit: 'Annexe' }),
      ],
    }),
  ).toBe('Kitchen: change sediment; sanitise tank. Annexe: change carbon')
})
