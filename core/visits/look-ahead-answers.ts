import type { Asking, KeptQuestion } from '../answering.ts'
import type { ReadDb } from '../database/handles.ts'
import { readSettings } from '../settings/settings-store.ts'
import { addDays, laterOf } from '../units/calendar-date.ts'
import { listTechnicianTimes } from './booking-store.ts'
import { lastDayAhead, lookAhead, type StagesAhead } from './look-ahead.ts'
import { type LookAhead, lookAheadSchema } from './look-ahead-shapes.ts'
import {
  countBookedAhead,
  countBookedStages,
  countHouseholdsAhead,
  countPlannedAhead,
  countPlannedStages,
  hasManyPlans,
} from './look-ahead-store.ts'

/** From so many planned households on the weeks ahead are reckoned apart. */
const MANY_PLANS = 2_000

async function reckon({ read, officeId, today }: Asking & { readonly read: ReadDb }): Promise<LookAhead> {
  const { graceDays, driveMinutesPerVisit } = await readSettings(read, officeId)
  const span = { today, until: lastDayAhead(today), lateBefore: addDays(today, -graceDays) }
  const planned = await countPlannedAhead(read, officeId, span)
  const bookedStages = await countBookedStages(read, officeId, span)
  const stages: StagesAhead[] = [
    ...(await countPlannedStages(read, officeId, span)),
    ...bookedStages.map((row) => ({ ...row, isLate: false })),
  ]
  return lookAhead({
    today,
    planned: planned.map(({ plannedOn, latestOn, minutes, isNext, isLate, visits }) => ({
      earliestOn: laterOf(today, addDays(plannedOn, -graceDays)),
      plannedOn: laterOf(today, plannedOn),
      latestOn: laterOf(today, latestOn),
      isLate,
      minutes: minutes + driveMinutesPerVisit,
      visits,
      nextVisits: isNext ? visits : 0,
    })),
    booked: await countBookedAhead(read, officeId, span, driveMinutesPerVisit),
    stages,
    technicians: await listTechnicianTimes(read, officeId, today),
    ...(await countHouseholdsAhead(read, officeId)),
  })
}

/** The weeks ahead from the kept plans and the booked visits; kept until something is written. */
export const keptLookAhead: KeptQuestion<LookAhead> = {
  name: 'look-ahead',
  output: lookAheadSchema,
  isLarge: ({ read, officeId }) => hasManyPlans(read, officeId, MANY_PLANS),
  reckon,
}
