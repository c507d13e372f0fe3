import { z } from 'zod'

/** What can stand at a position of an installation's flow order. Any ordered list of these is an installation. */
export const STAGE_KINDS = [
  'sediment',
  'carbon',
  'membrane',
  'tank',
  'post-carbon',
  'remineraliser',
  'uv-lamp',
  'softener',
  'other',
] as const

export const stageKindSchema = z.enum(STAGE_KINDS)
export type StageKind = z.infer<typeof stageKindSchema>

/** How a stage is drawn: a housing upright, the membrane lying, the tank round, the rest in line. */
export type VesselShape = 'housing' | 'membrane' | 'tank' | 'in-line'

interface StageKindWords {
  /** The office's word, capitalised: "Post carbon". */
  readonly name: string
  /** The homeowner's words, for letters: "the polishing filter". */
  readonly homeowner: string
  readonly shape: VesselShape
  /** A tank is sanitised; everything else is changed. */
  readonly care: 'change' | 'sanitise'
}

export const STAGE_KIND_WORDS: Readonly<Record<StageKind, StageKindWords>> = {
  sediment: { name: 'Sediment', homeowner: 'the sediment filter', shape: 'housing', care: 'change' },
  carbon: { name: 'Carbon', homeowner: 'the carbon filter', shape: 'housing', care: 'change' },
  membrane: { name: 'Membrane', homeowner: 'the membrane', shape: 'membrane', care: 'change' },
  tank: { name: 'Tank', homeowner: 'the tank', shape: 'tank', care: 'sanitise' },
  'post-carbon': { name: 'Post carbon', homeowner: 'the polishing filter', shape: 'in-line', care: 'change' },
  remineraliser: { name: 'Minerals', homeowner: 'the mineral cartridge', shape: 'in-line', care: 'change' },
  'uv-lamp': { name: 'Ultraviolet lamp', homeowner: 'the ultraviolet lamp', shape: 'in-line', care: 'change' },
  softener: { name: 'Softener', homeowner: 'the softener media', shape: 'housing', care: 'change' },
  other: { name: 'Other stage', homeowner: 'a further stage', shape: 'in-line', care: 'change' },
}
