import type { StageKind } from '../installations/stage-kinds.ts'
import { addDays, addMonths, type CalendarDate } from '../units/calendar-date.ts'
import { customerIdSchema, installationIdSchema, siteIdSchema, stageIdSchema } from '../units/ids.ts'
import { hardness } from '../units/measures.ts'
import { cents } from '../units/money.ts'
import type { LetterHousehold, LetterStage } from './letter-facts.ts'

/** A household that does not exist, for trying out a wording before anyone is owed a letter. */
export function exampleHousehold(today: CalendarDate): LetterHousehold {
  const siteId = siteIdSchema.parse(1)
  const soon = addDays(today, 28)
  const stage = (
    index: number,
    kind: StageKind,
    label: string,
    dueOn: CalendarDate,
    months: number,
    price: number,
  ): LetterStage => ({
    stageId: stageIdSchema.parse(index),
    installationId: installationIdSchema.parse(1),
    siteId,
    unit: 'The unit under the kitchen sink',
    kind,
    label,
    changedOn: addMonths(dueOn, -months),
    byUs: true,
    dueOn,
    dueRule: kind === 'membrane' ? 'feed-water' : kind === 'tank' ? 'sanitise' : 'months',
    dueReason: kind === 'tank' ? 'sanitise, once a year' : `${months} months, household of two`,
    monthsSet: false,
    ratedMillilitres: null,
    lifeLeft: dueOn === soon ? 0.08 : 0.6,
    daysLate: 0,
    partName: label,
    priceCents: cents(price),
    taxFree: false,
    fitMinutes: null,
  })
  return {
    customerId: customerIdSchema.parse(1),
    reference: 'BM-0417',
    salutation: 'Dear Idris Bexhill-Moreno',
    address: {
      names: ['Idris Bexhill-Moreno'],
      street: '7 Millrace Ct',
      unit: 'Apt 2',
      town: 'Tollard Mill',
      region: 'XX',
      postalCode: '00142',
    },
    taxExempt: false,
    writtenBefore: addDays(today, -14),
    sites: [
      {
        siteId,
        street: '7 Millrace Ct',
        town: 'Tollard Mill',
        people: 2,
        hardness: hardness(154),
        daysInTown: [addDays(today, 27), addDays(today, 28), addDays(today, 34)],
        stages: [
          stage(1, 'sediment', 'Sediment', soon, 12, 2100),
          stage(2, 'carbon', 'Carbon', soon, 12, 3240),
          stage(3, 'membrane', 'Membrane', addMonths(today, 17), 24, 9000),
          stage(4, 'tank', 'Tank', addMonths(today, 7), 12, 0),
          stage(5, 'post-carbon', 'Post carbon', soon, 12, 3300),
        ],
      },
    ],
  }
}
