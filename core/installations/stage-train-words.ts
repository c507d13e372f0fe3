import type { CalendarDate } from '../units/calendar-date.ts'
import { distanceInWords, shortDate } from '../units/date-words.ts'
import { STAGE_KIND_WORDS } from './stage-kinds.ts'
import type { TrainStage } from './stage-train.ts'

/** What the stage train says, for those who do not see it: flow order, dates, lateness, and what the next visit changes. */
export function trainInWords(stages: readonly TrainStage[], today: CalendarDate, locale: string): string {
  if (stages.length === 0) return 'No stages are recorded for this installation.'
  const each = stages.map((stage) => stageInWords(stage, today, locale)).join('; ')
  const ringed = stages.filter((stage) => stage.ringed)
  const change = ringed.filter((stage) => STAGE_KIND_WORDS[stage.kind].care === 'change')
  const sanitise = ringed.filter((stage) => STAGE_KIND_WORDS[stage.kind].care === 'sanitise')
  const plans = [
    change.length > 0 ? `change ${listed(change.map((stage) => stage.label.toLowerCase()))}` : '',
    sanitise.length > 0 ? `sanitise ${listed(sanitise.map((stage) => stage.label.toLowerCase()))}` : '',
  ].filter((plan) => plan !== '')
  return `From feed to tap: ${each}.${plans.length > 0 ? ` Next visit: ${plans.join(', ')}.` : ''}`
}

function stageInWords(stage: TrainStage, today: CalendarDate, locale: string): string {
  if (stage.dueOn === null) return `${stage.label}, no date yet`
  const share =
    stage.lifeLeft === null || stage.daysLate > 0 ? '' : `, ${Math.round(stage.lifeLeft * 100)} % of its life left`
  const reason = stage.reason === '' ? '' : `, ${stage.reason}`
  return `${stage.label}, due ${shortDate(stage.dueOn, locale)}, ${distanceInWords(stage.dueOn, today)}${share}${reason}`
}

/** "a", "a and b", "a, b and c". */
export function listed(words: readonly string[]): string {
  if (words.length < 2) return words[0] ?? ''
  return `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`
}
