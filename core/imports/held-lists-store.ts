import type { ReadDb, WriteDb } from '../database/handles.ts'
import type { OfficeId } from '../units/ids.ts'
import { columnsKey, type RememberedMapping, rememberedMappingSchema } from './list-mapping.ts'
import type { TextEncoding } from './recognise-file.ts'

export interface HeldList {
  readonly fileId: number
  readonly name: string
  readonly content: string
}

/** The text of a list's bytes. Windows-1252 as the Encoding Standard decodes it; bytes that are wrong become a question mark in a diamond. */
export function decodeList(bytes: Uint8Array, encoding: TextEncoding, markLength: number): string {
  const text = new TextDecoder(encoding, { ignoreBOM: false }).decode(bytes.subarray(markLength))
  return text.replaceAll('\0', '')
}

/** Holds a list beside the books until it is taken or dropped; earlier ones that were only held are dropped. */
export async function holdList(
  tx: WriteDb,
  officeId: OfficeId,
  list: { name: string; content: string; rows: number; now: string },
): Promise<number> {
  await tx
    .updateTable('import_files')
    .set({ state: 'dropped', content: '' })
    .where('office_id', '=', officeId)
    .where('state', '=', 'held')
    .execute()
  const row = await tx
    .insertInto('import_files')
    .values({
      office_id: officeId,
      name: list.name,
      held_at: list.now,
      content: list.content,
      rows_found: list.rows,
      state: 'held',
      taken_at: null,
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  return row.id
}

/** A list that is still held; null when it was taken or dropped. */
export async function findHeldList(db: ReadDb, officeId: OfficeId, fileId: number): Promise<HeldList | null> {
  const row = await db
    .selectFrom('import_files')
    .select(['id', 'name', 'content'])
    .where('office_id', '=', officeId)
    .where('id', '=', fileId)
    .where('state', '=', 'held')
    .executeTakeFirst()
  return row ? { fileId: row.id, name: row.name, content: row.content } : null
}

/** Lets a list go: its text is not kept. */
export async function endHeldList(
  tx: WriteDb,
  officeId: OfficeId,
  fileId: number,
  state: 'taken' | 'dropped',
  now: string,
): Promise<void> {
  await tx
    .updateTable('import_files')
    .set({ state, content: '', taken_at: state === 'taken' ? now : null })
    .where('office_id', '=', officeId)
    .where('id', '=', fileId)
    .execute()
}

export async function findMapping(
  db: ReadDb,
  officeId: OfficeId,
  columns: readonly string[],
): Promise<RememberedMapping | null> {
  const row = await db
    .selectFrom('import_mappings')
    .select('mapping')
    .where('office_id', '=', officeId)
    .where('columns_key', '=', columnsKey(columns))
    .executeTakeFirst()
  const kept = row ? rememberedMappingSchema.safeParse(JSON.parse(row.mapping)) : null
  return kept?.success ? kept.data : null
}

export async function rememberMapping(
  tx: WriteDb,
  officeId: OfficeId,
  columns: readonly string[],
  mapping: RememberedMapping,
  now: string,
): Promise<void> {
  const text = JSON.stringify(mapping)
  await tx
    .insertInto('import_mappings')
    .values({ office_id: officeId, columns_key: columnsKey(columns), mapping: text, used_at: now })
    .onConflict((row) => row.columns(['office_id', 'columns_key']).doUpdateSet({ mapping: text, used_at: now }))
    .execute()
}
