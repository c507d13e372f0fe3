import scenarioJson from '../../assets/demo/scenario.json' with { type: 'json' }
import type { StageKind } from '../installations/stage-kinds.ts'
import { stageKindSchema } from '../installations/stage-kinds.ts'

/** A part of the demo dealer's catalogue, in the scenario's own words. */
export interface ScenarioPart {
  readonly number: string
  readonly name: string
  readonly kind: StageKind | null
  readonly price: number
  readonly cost: number
  readonly shelfMonths: number
  readonly ratedGallons: number
  readonly minutes: number
  readonly bin: number
  readonly supplier: number
  readonly pack: number
  readonly perVisit: number
  readonly vanPar: number
}

type RawScenario = typeof scenarioJson
export interface Scenario extends Omit<RawScenario, 'parts'> {
  readonly parts: readonly ScenarioPart[]
}

/** The invented dealer: towns that do not exist, people nobody is, numbers nobody answers. */
export const SCENARIO: Scenario = {
  ...scenarioJson,
  parts: scenarioJson.parts.map((part) => ({
    ...part,
    kind: part.kind === null ? null : stageKindSchema.parse(part.kind),
  })),
}

export type ScenarioTown = Scenario['towns'][number]
