import { calendarDate } from '../../core/units/calendar-date.ts'
import { customerIdSchema, siteIdSchema, visitIdSchema } from '../../core/units/ids.ts'
import { minutes, timeOfDay } from '../../core/units/time-of-day.ts'
import type { VisitShape } from '../../core/visits/visit-shapes.ts'

interface VisitWanted {
  readonly visitId: number
  readonly latitude: number | null
  readonly windowFrom?: number
}

/** A booked visit on 2026-12-02, from 8 to 5 unless told, 44 minutes, on the meridian of the yard. */
export function aVisit({ visitId, latitude, windowFrom = 480 }: VisitWanted): VisitShape {
  return {
    visitId: visitIdSchema.parse(visitId),
    version: 1,
    state: 'booked',
    reason: '',
    on: calendarDate('2026-12-02'),
    windowFrom: timeOfDay(windowFrom),
    windowUntil: timeOfDay(1020),
    plannedMinutes: minutes(44),
    promised: true,
    note: '',
    technician: null,
    household: {
      siteId: siteIdSchema.parse(visitId),
      customerId: customerIdSchema.parse(visitId),
      household: `Household ${visitId}`,
      reference: '',
      line1: '',
      line2: '',
      town: 'Tollard Mill',
      postalCode: '',
      phone: '',
      phoneNote: '',
      accessNote: '',
      people: null,
      latitude,
      longitude: latitude === null ? null : -93.2,
      taxExempt: false,
    },
    units: [],
    tasks: [],
    readings: [],
    doneOn: null,
    leakChecked: false,
    leakCheckedFull: false,
    callFree: false,
    remarks: '',
  }
}
