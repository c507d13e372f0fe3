import { z } from 'zod'
import { procedure } from '../door.ts'
import { backupSchema } from './backups-to-keep.ts'

/** Backups of the books: made by the long work `back-up`, listed and put back here. */
export const backupsContract = {
  list: procedure.output(
    z.object({
      /** Where the books lie; empty when they have no file of their own. */
      file: z.string(),
      backups: z.array(backupSchema),
      /** The backup that is put back when Penstock is opened next; null for none. */
      waiting: z.string().nullable(),
    }),
  ),
  /** Puts a backup back when the books are opened next; null takes the wish back. */
  putBack: procedure
    .input(z.object({ name: z.string().nullable() }))
    .output(z.object({ waiting: z.string().nullable() })),
}
