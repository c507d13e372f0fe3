import { z } from 'zod'
import { procedure } from '../door.ts'
import { CHOICES } from './find-likeness.ts'
import { judgedEntrySchema } from './judged-entry.ts'
import { columnUseSchema, listMappingSchema } from './list-mapping.ts'
import { TEXT_ENCODINGS } from './recognise-file.ts'

/** Larger files are turned away before they travel. A list of 100,000 households is some 15 MB. */
export const MOST_MEGABYTES = 30

/** A piece of a file as it comes through the door: a Blob, told apart by its shape because pure code knows no browser types. */
export interface BroughtPiece {
  readonly size: number
  arrayBuffer(): Promise<ArrayBuffer>
}

const broughtPieceSchema = z.custom<BroughtPiece>(
  (value) => typeof value === 'object' && value !== null && 'arrayBuffer' in value && 'size' in value,
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
  /** How its letters were read, and how else they could be; one way where its bytes leave no doubt. */
  readAs: z.enum(TEXT_ENCODINGS),
  couldBe: z.array(z.enum(TEXT_ENCODINGS)),
})
export type ListLook = z.infer<typeof listLookSchema>

/** A list judged to its last row; the entries are asked for page by page. */
export const judgedListSchema = z.object({
  columns: z.array(z.string()),
  entries: z.int(),
  pages: z.int(),
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

/**
 * Bringing a list: `begin` says what comes, the file travels in pieces of so many bytes, and the long works `import-look`,
 * `import-judge` and `import-take` read it, judge it and take it.
 */
export const importsContract = {
  begin: procedure
    .input(z.object({ name: z.string(), size: z.int().min(0) }))
    .output(z.object({ fileId: z.int(), pieceBytes: z.int() })),
  piece: procedure
    .input(z.object({ fileId: z.int(), position: z.int().min(0), bytes: broughtPieceSchema }))
    .output(z.object({ kept: z.int() })),
  /** Keeps how somebody chose to read the letters of a held list; it is looked at again then. */
  readAs: procedure
    .input(z.object({ fileId: z.int(), readAs: z.enum(TEXT_ENCODINGS) }))
    .output(z.object({ readAs: z.enum(TEXT_ENCODINGS) })),
  judged: procedure
    .input(z.object({ fileId: z.int(), page: z.int().min(0) }))
    .output(z.object({ entries: z.array(judgedEntrySchema) })),
  drop: procedure.input(z.object({ fileId: z.int() })).output(z.object({ dropped: z.boolean() })),
}
