import type { StageKind } from '../../../core/installations/stage-kinds.ts'
import { STAGE_KIND_WORDS, STAGE_KINDS } from '../../../core/installations/stage-kinds.ts'
import type { TrainStage } from '../../../core/installations/stage-train.ts'
import { calendarDate } from '../../../core/units/calendar-date.ts'
import { stageIdSchema } from '../../../core/units/ids.ts'

let next = 1

/** A stage of the train; the test states what matters. */
export function aTrainStage(kind: StageKind, over: Partial<TrainStage> = {}): TrainStage {
  next += 1
  return {
    stageId: stageIdSchema.parse(next),
    kind,
    label: STAGE_KIND_WORDS[kind].name,
    dueOn: calendarDate('2027-05-08'),
    lifeLeft: 0.6,
    daysLate: 0,
    reason: '12 months, household of two',
    ringed: false,
    ...over,
  }
}

const LATE = {
  dueOn: calendarDate('2026-11-09'),
  lifeLeft: 0,
  daysLate: 22,
  reason: '6 months, family of six',
  ringed: true,
}

/** The six-stage unit of Abernathy-Vance: three stages late, the tank and the minerals changed with them. */
export const LATE_TRAIN: readonly TrainStage[] = [
  aTrainStage('sediment', LATE),
  aTrainStage('carbon', LATE),
  aTrainStage('membrane', { dueOn: calendarDate('2028-08-01'), lifeLeft: 0.55, reason: 'rejects 88 %, 75 % by then' }),
  aTrainStage('tank', {
    dueOn: calendarDate('2027-05-08'),
    lifeLeft: 0.45,
    reason: 'sanitise once a year',
    ringed: true,
  }),
  aTrainStage('post-carbon', LATE),
  aTrainStage('remineraliser', {
    dueOn: calendarDate('2026-12-19'),
    lifeLeft: 0.08,
    reason: '7 weeks left',
    ringed: true,
  }),
]

/** Twelve stages of every kind, one never dated, one far beyond the scale. */
export const LONG_TRAIN: readonly TrainStage[] = [
  ...STAGE_KINDS.map((kind, index) => aTrainStage(kind, { lifeLeft: (index + 1) / STAGE_KINDS.length })),
  aTrainStage('carbon', { dueOn: calendarDate('2026-05-01'), lifeLeft: 0, daysLate: 214 }),
  aTrainStage('membrane', { dueOn: null, lifeLeft: null, reason: 'no date of fitting is known' }),
  aTrainStage('post-carbon', { lifeLeft: 1 }),
]
