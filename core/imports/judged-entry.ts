import { z } from 'zod'
import { CHOICES } from './find-likeness.ts'
import { findingSchema } from './finding.ts'

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
  /** Which of its kind in its household the stage of a refused row is; null where that does not matter. */
  rank: z.int().nullable(),
})
export type JudgedEntry = z.infer<typeof judgedEntrySchema>
