import { readMonthsAway } from '../customers/months-away.ts'
import { STAGE_KIND_WORDS, type StageKind } from '../installations/stage-kinds.ts'
import type { TrainStage } from '../installations/stage-train.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { StageId } from '../units/ids.ts'
import { type MeasureSystem, type Millilitres, millilitres, volumeText } from '../units/measures.ts'
import { lifeLeftOn } from './life-left.ts'
import { daysInUseBetween } from './months-in-use.ts'

/** A stage as the books keep it, with its stored due date. */
export interface KeptStage {
  readonly stageId: StageId
  readonly kind: StageKind
  readonly label: string
  readonly changedOn: CalendarDate | null
  /** When the unit was fitted. */
  readonly fittedOn: CalendarDate | null
  readonly dueOn: CalendarDate | null
  readonly dueRule: string
  readonly dueReason: string
  readonly ratedMillilitres: Millilitres | null
  /** Of the household, as its books say it: nothing passes in them. */
  readonly monthsAway: string
}

/** A kept stage as the stage train draws it today. `ringed` says that the next visit will see to it. */
export function trainStageOn(
  today: CalendarDate,
  stage: KeptStage,
  measures: MeasureSystem,
  ringed: boolean,
): TrainStage {
  const { lifeLeft, daysLate } = lifeLeftOn(today, stage.changedOn ?? stage.fittedOn, stage.dueOn)
  const label = stage.label === '' ? STAGE_KIND_WORDS[stage.kind].name : stage.label
  const reason = reasonOn(today, stage, measures)
  return { stageId: stage.stageId, kind: stage.kind, label, dueOn: stage.dueOn, lifeLeft, daysLate, reason, ringed }
}

/**
 * The reason as of today. A stage that is due by its volume says how much of it has passed: "1,480 of 1,500 gal", reckoned from the days
 * gone on which somebody was there; every other says what was stored.
 */
export function reasonOn(today: CalendarDate, stage: KeptStage, measures: MeasureSystem): string {
  const startedOn = stage.changedOn ?? stage.fittedOn
  if (stage.dueRule !== 'volume' || stage.ratedMillilitres === null || stage.dueOn === null || startedOn === null)
    return stage.dueReason
  const away = readMonthsAway(stage.monthsAway)
  const whole = daysInUseBetween(startedOn, stage.dueOn, away)
  const gone = daysInUseBetween(startedOn, today, away)
  if (whole <= 0) return stage.dueReason
  const passed = millilitres(Math.round((stage.ratedMillilitres * gone) / whole))
  const source = /, (by the meter|as entered)/.exec(stage.dueReason)?.[0] ?? ''
  return `${roundVolume(passed, measures).replace(/ \S+$/, '')} of ${roundVolume(stage.ratedMillilitres, measures)}${source}`
}

/** Without decimals: nobody measured it. */
function roundVolume(volume: Millilitres, measures: MeasureSystem): string {
  return volumeText(volume, measures).replace(/\.\d+ /, ' ')
}
