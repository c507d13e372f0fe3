import type { DueDefaults, InstallationFacts, StageFacts } from '../../core/due/due-facts.ts'
import { intervalRulesByKind } from '../../core/installations/interval-rules.ts'
import type { StageKind } from '../../core/installations/stage-kinds.ts'
import { DEFAULT_SETTINGS } from '../../core/settings/office-settings.ts'
import { stageIdSchema } from '../../core/units/ids.ts'

/** The figures of an office that has changed nothing. */
export const usualDefaults: DueDefaults = { intervals: intervalRulesByKind([]), settings: DEFAULT_SETTINGS }

/** A stage that nothing is known of but its kind; say what matters. */
export function someStage(kind: StageKind, facts: Partial<StageFacts> = {}): StageFacts {
  return {
    stageId: stageIdSchema.parse(1),
    kind,
    changedOn: null,
    ownMonths: null,
    ratedMillilitres: null,
    ownDueOn: null,
    ownDueNote: '',
    recall: null,
    ...facts,
  }
}

/** A unit for a household of two with hard water; its stages get the ids 1, 2, 3 ... in flow order. */
export function someInstallation(
  stages: readonly StageFacts[],
  facts: Partial<InstallationFacts> = {},
): InstallationFacts {
  return {
    people: 2,
    hardness: null,
    fittedOn: null,
    ownMonths: null,
    recoveryPercent: null,
    drunkPerDay: null,
    monthsAway: [],
    readings: [],
    ...facts,
    stages: stages.map((stage, index) => ({ ...stage, stageId: stageIdSchema.parse(index + 1) })),
  }
}
