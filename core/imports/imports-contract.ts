import { z } from 'zod'
import { procedure } from '../door.ts'
import { CHOICES } from './find-likeness.ts'
import { findingSchema } from './finding.ts'
import { columnUseSchema, listMappingSchema } from './list-mapping.ts'

/** Larger files are turned away before they travel; a little below what the door takes at all. */
export const MOST_MEGABYTES = 60

/** A file as it comes through the door: a Blob with a name, told apart by its shape because pure code knows no browser types. */
export interface BroughtFile {
  readonly name: string
  readonly size: number
  arrayBuffer(): Promise<ArrayBuffer>
}

const broughtFileSchema = z.custom<BroughtFile>(
  (value) =>
    typeof value === 'object' && value !== null && 'arrayBuffer' in value && 'size' in value && 'name' in value,
)

export const listColumnSchema = z.object({
  name: z.string(),
  use: columnUseSchema,
  /** 0 to 1; how sure the guess is. */
  confidence: z.number(),
  /** The first filled cells. */
  samples: z.array(z.string()),
})
export type ListColumn = z.infer<typeof listColumnSchema>

/** A held list, looked at: its columns and what is guessed of them. */
export const listLookSchema = z.object({
  fileId: z.int(),
  name: z.string(),
  rows: z.int(),
  columns: z.array(listColumnSchema),
  mapping: listMappingSchema,
  /** The mapping is that of an earlier list with the same columns. */
  remembered: z.boolean(),
  /** How the file was read, aloud. */
  said: z.array(z.string()),
})
export type ListLook = z.infer<typeof listLookSchema>

/** One household of the list as the table shows it, or one row that is refused. */
export const judgedEntrySchema = z.object({
  /** The key under which a choice is kept; the line for a refused row. */
  key: z.string(),
  lines: z.array(z.int()),
  kind: z.enum(['household', 'refused']),
  name: z.string(),
  place: z.string(),
  brings: z.string(),
  likeness: z
    .object({ called: z.string(), because: z.string(), inBooks: z.boolean(), advice: z.enum(CHOICES) })
    .nullable(),
  findings: z.array(findingSchema),
  /** The row's own cells, of a refused row: for saving it out. */
  cells: z.array(z.string()),
})
export type JudgedEntry = z.infer<typeof judgedEntrySchema>

export const judgedListSchema = z.object({
  columns: z.array(z.string()),
  entries: z.array(judgedEntrySchema),
  said: z.array(z.string()),
  remarks: z.array(z.string()),
  openDates: z.boolean(),
})
export type JudgedListAnswer = z.infer<typeof judgedListSchema>

export const choicesSchema = z.record(z.string(), z.enum(CHOICES))

export const takeInputSchema = z.object({
  fileId: z.int(),
  mapping: listMappingSchema,
  choices: choicesSchema,
  /** New households that the screen announced; when the books have changed since, nothing is written. */
  expected: z.int().min(0),
})

export const takenSchema = z.object({
  fresh: z.int(),
  joined: z.int(),
  unchanged: z.int(),
  leftOut: z.int(),
  refused: z.int(),
  stages: z.int(),
})
export type Taken = z.infer<typeof takenSchema>

/** Bringing a list: the file travels once, is looked at, judged and taken by the long works `import-judge` and `import-take`. */
export const importsContract = {
  bring: procedure.input(z.object({ file: broughtFileSchema })).output(listLookSchema),
  look: procedure.input(z.object({ fileId: z.int() })).output(listLookSchema),
  drop: procedure.input(z.object({ fileId: z.int() })).output(z.object({ dropped: z.boolean() })),
}
