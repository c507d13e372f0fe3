import { z } from 'zod'
import { procedure } from '../door.ts'
import { calendarDateSchema } from '../units/calendar-date.ts'
import { installationIdSchema, partIdSchema, siteIdSchema, stageIdSchema } from '../units/ids.ts'
import { millilitresSchema } from '../units/measures.ts'
import { stageKindSchema } from './stage-kinds.ts'

const line = z.string().trim().max(120)
const ownMonths = z.int().min(1, 'At least a month.').max(240, 'At most 240 months.').nullable()

/** One stage as the office edits it; its place in the list is its place in the flow. */
export const stageFieldsSchema = z.object({
  /** Null for a stage that is new. */
  stageId: stageIdSchema.nullable(),
  kind: stageKindSchema,
  /** Its own name; blank for the usual one. */
  label: line,
  partId: partIdSchema.nullable(),
  /** Nothing may stand in for that part here. */
  ownPartOnly: z.boolean().default(false),
  /** Last changed, or for a tank last sanitised. */
  changedOn: calendarDateSchema.nullable(),
  ownMonths,
  ownDueOn: calendarDateSchema.nullable(),
  ownDueNote: line,
  /** The last day on which that date stands; null: until the stage is changed. */
  ownDueEndsOn: calendarDateSchema.nullable(),
})
export type StageFields = z.infer<typeof stageFieldsSchema>

export const installationFieldsSchema = z.object({
  /** Where it stands: "The unit under the kitchen sink". */
  name: line.min(1, 'Say where the unit stands.'),
  fittedOn: calendarDateSchema.nullable(),
  recoveryPercent: z.number().min(1, 'Above 0 %.').max(100, 'At most 100 %.').nullable(),
  /** People who drink from this unit, where that differs from the household. */
  people: z.int().min(1, 'At least one person; leave it blank where nobody knows.').max(500).nullable(),
  drunkPerDay: millilitresSchema.min(1).nullable(),
  ownMonths,
  note: z.string().trim().max(2000),
})
export type InstallationFields = z.infer<typeof installationFieldsSchema>

const stages = z.array(stageFieldsSchema).max(40)

export const installationsContract = {
  create: procedure
    .input(z.object({ siteId: siteIdSchema, fields: installationFieldsSchema, stages }))
    .output(z.object({ installationId: installationIdSchema })),
  /** Saves a unit with its whole ordered list of stages; a stage left out is taken out. `seen` is what the form was opened with. */
  save: procedure
    .input(
      z.object({
        installationId: installationIdSchema,
        fields: installationFieldsSchema,
        stages,
        seen: z.object({ fields: installationFieldsSchema, stages }),
      }),
    )
    .output(z.object({ installationId: installationIdSchema })),
  remove: procedure
    .input(z.object({ installationId: installationIdSchema, reason: line.min(1, 'Write in a few words why.') }))
    .output(z.object({ installationId: installationIdSchema })),
  /** Parts that can stand at a stage, for choosing. */
  parts: procedure.output(
    z.array(
      z.object({ partId: partIdSchema, number: z.string(), name: z.string(), stageKind: stageKindSchema.nullable() }),
    ),
  ),
}
