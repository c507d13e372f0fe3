import type { ReadDb, WriteDb } from '../database/handles.ts'
import type { OfficeId } from '../units/ids.ts'
import { LETTER_KINDS, type LetterKind } from './letter-kinds.ts'
import type { LetterWording } from './letter-wording.ts'
import type { KeptWording } from './letters-contract.ts'

/** The wordings of the three letters: the dealer's own, or ours (version 0) where nothing was changed. */
export async function readWordings(
  db: ReadDb,
  officeId: OfficeId,
  ours: Readonly<Record<LetterKind, LetterWording>>,
): Promise<KeptWording[]> {
  const rows = await db
    .selectFrom('letter_wordings')
    .select(['kind', 'subject', 'body', 'answer', 'version'])
    .where('office_id', '=', officeId)
    .execute()
  return LETTER_KINDS.map((kind) => rows.find((row) => row.kind === kind) ?? { ...ours[kind], version: 0 })
}

/** Saves a wording over the version that was read. False when someone else saved meanwhile. */
export async function saveWording(
  tx: WriteDb,
  officeId: OfficeId,
  { version, ...wording }: KeptWording,
): Promise<boolean> {
  if (version === 0) {
    const made = await tx
      .insertInto('letter_wordings')
      .values({ office_id: officeId, ...wording })
      .onConflict((row) => row.columns(['office_id', 'kind']).doNothing())
      .executeTakeFirst()
    return made.numInsertedOrUpdatedRows === 1n
  }
  const { kind, ...words } = wording
  const saved = await tx
    .updateTable('letter_wordings')
    .set({ ...words, version: version + 1 })
    .where('office_id', '=', officeId)
    .where('kind', '=', kind)
    .where('version', '=', version)
    .executeTakeFirst()
  return saved.numUpdatedRows === 1n
}
