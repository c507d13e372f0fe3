import { z } from 'zod'
import { stageKindSchema } from '../installations/stage-kinds.ts'
import { calendarDateSchema } from '../units/calendar-date.ts'
import { installationIdSchema, siteIdSchema, stageIdSchema } from '../units/ids.ts'
import { millilitresSchema } from '../units/measures.ts'
import { DUE_RULES } from './due-facts.ts'

/**
 * How one rule stands beside the others: it decides; it gives a later date; the readings took its place; a date set by hand took its place;
 * it has nothing to say (and the reason says what it lacks).
 */
export const STANDINGS = ['decides', 'later', 'set-aside-by-readings', 'set-aside-by-hand', 'silent'] as const
export const standingSchema = z.enum(STANDINGS)
export type Standing = z.infer<typeof standingSchema>

/** One rule's answer for one stage, as it stands beside the others. */
export const ruleAnswerSchema = z.object({
  rule: z.enum(DUE_RULES),
  /** "Months by use". */
  name: z.string(),
  /** Null while it is silent. */
  dueOn: calendarDateSchema.nullable(),
  reason: z.string(),
  standing: standingSchema,
  /** "decides", "later", "the same day", "the readings take its place", "the date set by hand takes its place", "says nothing". */
  standingWords: z.string(),
})
export type RuleOnSheet = z.infer<typeof ruleAnswerSchema>

export const ownDateSchema = z.object({
  dueOn: calendarDateSchema,
  note: z.string(),
  /** The last day on which it stands; null: until the stage is changed. */
  endsOn: calendarDateSchema.nullable(),
  /** "until Mar 31, 2027, then the rules speak again"; "until the stage is changed". */
  endWords: z.string(),
})

export const stageRulesSchema = z.object({
  stageId: stageIdSchema,
  kind: stageKindSchema,
  /** Its own name, or the usual one. */
  label: z.string(),
  changedOn: calendarDateSchema.nullable(),
  /** From where its clock runs: its change, or the fitting of the unit. */
  startedOn: calendarDateSchema.nullable(),
  dueOn: calendarDateSchema.nullable(),
  rule: z.enum(DUE_RULES),
  reason: z.string(),
  own: ownDateSchema.nullable(),
  /** All rules that concern this kind of stage, in the order of the rule book. */
  answers: z.array(ruleAnswerSchema),
  /** What somebody should look at, each a sentence with what to do; mostly none. */
  remarks: z.array(z.string()),
})
export type StageRules = z.infer<typeof stageRulesSchema>

export const unitRulesSchema = z.object({
  installationId: installationIdSchema,
  name: z.string(),
  use: z.object({
    perDay: millilitresSchema,
    from: z.enum(['meter', 'entered', 'people', 'usual']),
    /** "1.2 gal a day by the meter, May 2 to Nov 9, 2026". */
    words: z.string(),
  }),
  stages: z.array(stageRulesSchema),
  remarks: z.array(z.string()),
})
export type UnitRules = z.infer<typeof unitRulesSchema>

/** All rules of all stages of a household, side by side. */
export const householdRulesSchema = z.object({
  siteId: siteIdSchema,
  /** Months in which nobody is there, and in words: "June to August"; none and blank for most. */
  monthsAway: z.array(z.int().min(1).max(12)),
  monthsAwayWords: z.string(),
  units: z.array(unitRulesSchema),
})
export type HouseholdRules = z.infer<typeof householdRulesSchema>
