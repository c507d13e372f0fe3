import { STAGE_KIND_WORDS, type StageKind } from '../installations/stage-kinds.ts'
import { addDays, type CalendarDate, daysBetween } from '../units/calendar-date.ts'
import { distanceInWords, shortDate } from '../units/date-words.ts'
import type { InstallationId, StageId } from '../units/ids.ts'

/** A stage of the household as the proposal looks at it. Flow order is the order of the list. */
export interface StageAtSite {
  readonly stageId: StageId
  readonly installationId: InstallationId
  readonly kind: StageKind
  readonly label: string
  readonly dueOn: CalendarDate | null
  /** Why it is due then, in words. */
  readonly reason: string
}

export interface ProposedTask {
  readonly stageId: StageId
  readonly care: 'change' | 'sanitise'
  readonly proposed: boolean
  /** Why it is proposed, or why not, in words. */
  readonly why: string
}

export interface ProposalDay {
  readonly visitOn: CalendarDate
  readonly graceDays: number
  readonly locale: string
}

/**
 * What to do on a visit, stage by stage: all that is due by its date plus the grace, and the tank whenever the
 * membrane of the same unit is changed. A first form: it does not weigh a second call against the life that is left.
 */
export function proposeTasks(stages: readonly StageAtSite[], day: ProposalDay): ProposedTask[] {
  const own = stages.map((stage) => proposeByDate(stage, day))
  const openedUnits = new Set(
    stages
      .filter((stage, index) => stage.kind === 'membrane' && own[index]?.proposed)
      .map((stage) => stage.installationId),
  )
  return stages.map((stage, index) => {
    const proposal = own[index] ?? proposeByDate(stage, day)
    const follows = proposal.care === 'sanitise' && !proposal.proposed && openedUnits.has(stage.installationId)
    return follows ? { ...proposal, proposed: true, why: 'because the membrane is changed' } : proposal
  })
}

function proposeByDate(stage: StageAtSite, { visitOn, graceDays, locale }: ProposalDay): ProposedTask {
  const { care } = STAGE_KIND_WORDS[stage.kind]
  const plain = { stageId: stage.stageId, care }
  if (stage.dueOn === null) return { ...plain, proposed: false, why: 'no date known: look at it' }
  const when = `due ${shortDate(stage.dueOn, locale)}`
  if (stage.dueOn <= visitOn) {
    const late =
      daysBetween(stage.dueOn, visitOn) === 0 ? 'on that day' : `${distanceInWords(stage.dueOn, visitOn)} by then`
    return { ...plain, proposed: true, why: `${when}, ${late}` }
  }
  const withinGrace = stage.dueOn <= addDays(visitOn, graceDays)
  const far = `${distanceInWords(stage.dueOn, visitOn).replace(/^in /, '')} after the visit`
  return { ...plain, proposed: withinGrace, why: `${when}, ${far}` }
}
