import { z } from 'zod'
import type { ReadDb, WriteDb } from '../database/handles.ts'
import type { OfficeId } from '../units/ids.ts'
import { type JudgedEntry, judgedEntrySchema } from './judged-entry.ts'

/** Entries to a page: so few that handing one out holds nobody up. */
export const ENTRIES_A_PAGE = 400

/** Keeps what was judged of a held list, in pages, in place of what was judged before; returns how many pages there are. */
export async function keepJudgement(
  tx: WriteDb,
  officeId: OfficeId,
  fileId: number,
  entries: readonly JudgedEntry[],
): Promise<number> {
  await tx.deleteFrom('import_judgements').where('office_id', '=', officeId).where('file_id', '=', fileId).execute()
  let pages = 0
  for (let from = 0; from < entries.length; from += ENTRIES_A_PAGE) {
    await tx
      .insertInto('import_judgements')
      .values({
        office_id: officeId,
        file_id: fileId,
        position: pages,
        entries: JSON.stringify(entries.slice(from, from + ENTRIES_A_PAGE)),
      })
      .execute()
    pages += 1
  }
  return pages
}

/** One page of what was judged of a held list; null when it is no longer there. */
export async function findJudgement(
  db: ReadDb,
  officeId: OfficeId,
  fileId: number,
  page: number,
): Promise<JudgedEntry[] | null> {
  const row = await db
    .selectFrom('import_judgements')
    .select('entries')
    .where('office_id', '=', officeId)
    .where('file_id', '=', fileId)
    .where('position', '=', page)
    .executeTakeFirst()
  return row ? z.array(judgedEntrySchema).parse(JSON.parse(row.entries)) : null
}
