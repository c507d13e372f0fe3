import { z } from 'zod'
import { type StageKind, stageKindSchema } from './stage-kinds.ts'

/** What an interval in months goes by: the people in the house, the hardness of the feed, always the same, or no months at all. */
export const INTERVAL_BASES = ['household', 'feed-water', 'fixed', 'none'] as const
export const intervalBasisSchema = z.enum(INTERVAL_BASES)
export type IntervalBasis = z.infer<typeof intervalBasisSchema>

const months = z.int().min(0).max(240)

/** One row of the office's table of months: the longest (few people, soft water) and the shortest (many people, hard water). */
export const intervalRuleSchema = z
  .object({ stageKind: stageKindSchema, basis: intervalBasisSchema, monthsMost: months, monthsLeast: months })
  .refine((rule) => rule.monthsLeast <= rule.monthsMost, {
    message: 'The shortest interval is longer than the longest.',
  })
export type IntervalRule = z.infer<typeof intervalRuleSchema>

/** Common practice, no source; each row can be changed by the office. The tank is not here: sanitising is a setting. */
export const DEFAULT_INTERVAL_RULES: readonly IntervalRule[] = [
  { stageKind: 'sediment', basis: 'household', monthsMost: 12, monthsLeast: 6 },
  { stageKind: 'carbon', basis: 'household', monthsMost: 12, monthsLeast: 6 },
  { stageKind: 'membrane', basis: 'feed-water', monthsMost: 60, monthsLeast: 24 },
  { stageKind: 'post-carbon', basis: 'household', monthsMost: 12, monthsLeast: 6 },
  { stageKind: 'remineraliser', basis: 'household', monthsMost: 12, monthsLeast: 6 },
  { stageKind: 'uv-lamp', basis: 'fixed', monthsMost: 12, monthsLeast: 12 },
  { stageKind: 'softener', basis: 'fixed', monthsMost: 120, monthsLeast: 120 },
  { stageKind: 'other', basis: 'fixed', monthsMost: 12, monthsLeast: 12 },
]

export type IntervalRules = Readonly<Partial<Record<StageKind, IntervalRule>>>

/** Rules by kind of stage; a kind that the office has no row for keeps its default. */
export function intervalRulesByKind(own: readonly IntervalRule[]): IntervalRules {
  const byKind: Partial<Record<StageKind, IntervalRule>> = {}
  for (const rule of DEFAULT_INTERVAL_RULES) byKind[rule.stageKind] = rule
  for (const rule of own) byKind[rule.stageKind] = rule
  return byKind
}
