import { STAGE_KIND_WORDS, type StageKind } from '../installations/stage-kinds.ts'
import type { CalendarDate } from '../units/calendar-date.ts'

/** A stage as far as the household's line needs it; in flow order. */
export interface ReasonedStage {
  readonly kind: StageKind
  readonly label: string
  readonly dueOn: CalendarDate | null
  readonly reason: string
}

const FILTERS: readonly StageKind[] = ['sediment', 'carbon', 'post-carbon']
const PRE_FILTERS: readonly StageKind[] = ['sediment', 'carbon']
/** Words inside a sentence, where they differ from the stage's name in small letters. */
const IN_A_LINE: Partial<Readonly<Record<StageKind, string>>> = {
  'post-carbon': 'post filter',
  'uv-lamp': 'lamp',
  other: 'other stage',
}

/**
 * Why a household is due, in one line: the stages due on its earliest date, grouped by their reason, in flow order.
 * "all filters: 12 months, household of two"; "pre-filters, post filter: 6 months, family of six; tank: sanitise, once a year".
 * Empty when nothing has a date.
 */
export function householdReason(stages: readonly ReasonedStage[]): string {
  const first = earliestDueOn(stages)
  if (first === null) return ''
  const due = stages.filter((stage) => stage.dueOn === first)
  const reasons = [...new Set(due.map((stage) => stage.reason))]
  const clauses = reasons.map((reason) => {
    const why = due.filter((stage) => stage.reason === reason)
    return `${stagesInWords(why, stages)}: ${reason}`
  })
  return clauses.join('; ')
}

export function earliestDueOn(stages: readonly Pick<ReasonedStage, 'dueOn'>[]): CalendarDate | null {
  let first: CalendarDate | null = null
  for (const { dueOn } of stages) if (dueOn !== null && (first === null || dueOn < first)) first = dueOn
  return first
}

/** Names a choice of stages among all of a household's: "all filters", "pre-filters, post filter", "sediment, membrane". */
export function stagesInWords(chosen: readonly ReasonedStage[], all: readonly ReasonedStage[]): string {
  const words: string[] = []
  const left = new Set(chosen)
  const takeTogether = (kinds: readonly StageKind[], name: string): void => {
    const ofThem = all.filter((stage) => kinds.includes(stage.kind))
    if (ofThem.length < 2 || !ofThem.every((stage) => left.has(stage))) return
    words.push(name)
    for (const stage of ofThem) left.delete(stage)
  }
  takeTogether(FILTERS, 'all filters')
  takeTogether(PRE_FILTERS, 'pre-filters')
  for (const stage of chosen) if (left.has(stage)) words.push(nameInLine(stage))
  return [...new Set(words)].join(', ')
}

/** A stage's name inside a sentence: its own in small letters, or the usual one: "post filter". */
export function nameInLine(stage: Pick<ReasonedStage, 'kind' | 'label'>): string {
  if (stage.label !== '' && stage.label !== STAGE_KIND_WORDS[stage.kind].name) return stage.label.toLowerCase()
  return IN_A_LINE[stage.kind] ?? STAGE_KIND_WORDS[stage.kind].name.toLowerCase()
}
