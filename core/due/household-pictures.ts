import type { CalendarDate } from '../units/calendar-date.ts'
import type { FlowStory } from './flow-picture.ts'
import type { HouseholdMeasurements, UnitMeasurements } from './measurement-shapes.ts'
import type { RejectionStory } from './rejection-picture.ts'

type Marks = HouseholdMeasurements['marks']

/** What the picture of a unit's membrane is drawn from; readings of earlier membranes are left out, struck ones are crossed. */
export function rejectionStoryOf(unit: UnitMeasurements, marks: Marks, today: CalendarDate): RejectionStory {
  const { rejection } = unit
  return {
    today,
    fittedOn: unit.membrane?.changedOn ?? null,
    readings: unit.readings.flatMap(({ takenOn, rejectionPercent, unlikely, ofThisMembrane, struck }) =>
      rejectionPercent === null || !ofThisMembrane
        ? []
        : [{ takenOn, rejectionPercent, standing: struck ? 'struck' : unlikely ? 'unlikely' : 'counts' }],
    ),
    trend: rejection.trend,
    crossing:
      rejection.earliestOn === null || (rejection.finding !== 'crosses' && rejection.finding !== 'unsure')
        ? null
        : { on: rejection.crossesOn, earliestOn: rejection.earliestOn, latestOn: rejection.latestOn },
    marks,
  }
}

/** What the picture of a unit's flow is drawn from. */
export function flowStoryOf(unit: UnitMeasurements, marks: Marks, today: CalendarDate): FlowStory {
  return {
    today,
    points: unit.flow.points.map(({ on, measured, corrected, unlikely }) => ({
      takenOn: on,
      measured,
      corrected,
      standing: unlikely ? 'unlikely' : 'counts',
    })),
    firstFlow: unit.flow.firstFlow,
    fallPercent: marks.flowFallPercent,
  }
}
