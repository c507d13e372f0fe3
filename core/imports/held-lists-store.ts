import type { ReadDb, WriteDb } from '../database/handles.ts'
import { ok, type Result, refused } from '../result.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { OfficeId } from '../units/ids.ts'
import { columnsKey, type RememberedMapping, rememberedMappingSchema } from './list-mapping.ts'
import { type OpenedList, openList } from './open-list.ts'
import { type RecognisedFile, recogniseFile, type TextEncoding } from './recognise-file.ts'

/** The bytes of a piece; only the last one of a list is shorter. Small enough that nobody waits while one is taken in. */
export const PIECE_BYTES = 512 * 1024

export interface HeldList {
  readonly fileId: number
  readonly name: string
  readonly sizeBytes: number
  /** How somebody chose to read it; null: as its bytes say. */
  readonly readAs: TextEncoding | null
}

/** A held list, read whole. */
export interface OpenedHeldList extends OpenedList {
  readonly name: string
  readonly encoding: TextEncoding
  /** What its own bytes say, with or without a mark. */
  readonly recognised: Extract<RecognisedFile, { kind: 'text' }>
}

/** The text of a list's bytes. Windows-1252 as the Encoding Standard decodes it; bytes that are wrong become a question mark in a diamond. */
export function decodeList(bytes: Uint8Array, encoding: TextEncoding, markLength: number): string {
  const text = new TextDecoder(encoding, { ignoreBOM: false }).decode(bytes.subarray(markLength))
  return text.replaceAll('\0', '')
}

/** Begins to hold a list beside the books until it is taken or dropped; earlier ones that were only held are dropped. */
export async function beginList(
  tx: WriteDb,
  officeId: OfficeId,
  list: { name: string; sizeBytes: number; now: string },
): Promise<number> {
  const earlier = await tx
    .selectFrom('import_files')
    .select('id')
    .where('office_id', '=', officeId)
    .where('state', '=', 'held')
    .execute()
  for (const { id } of earlier) await endHeldList(tx, officeId, id, 'dropped', list.now)
  const row = await tx
    .insertInto('import_files')
    .values({
      office_id: officeId,
      name: list.name,
      held_at: list.now,
      content: '',
      rows_found: 0,
      state: 'held',
      taken_at: null,
      size_bytes: list.sizeBytes,
      read_as: null,
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  return row.id
}

/** Keeps a piece of a held list; the same piece sent again takes the place of the first. */
export async function keepPiece(
  tx: WriteDb,
  officeId: OfficeId,
  fileId: number,
  position: number,
  bytes: Uint8Array,
): Promise<void> {
  const kept = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  await tx
    .insertInto('import_pieces')
    .values({ office_id: officeId, file_id: fileId, position, bytes: kept })
    .onConflict((row) => row.columns(['office_id', 'file_id', 'position']).doUpdateSet({ bytes: kept }))
    .execute()
}

/** A list that is still held; null when it was taken or dropped. */
export async function findHeldList(db: ReadDb, officeId: OfficeId, fileId: number): Promise<HeldList | null> {
  const row = await db
    .selectFrom('import_files')
    .select(['id', 'name', 'size_bytes', 'read_as'])
    .where('office_id', '=', officeId)
    .where('id', '=', fileId)
    .where('state', '=', 'held')
    .executeTakeFirst()
  return row ? { fileId: row.id, name: row.name, sizeBytes: row.size_bytes, readAs: row.read_as } : null
}

/** The bytes of a held list, put together; null while pieces are missing. */
async function readBytes(db: ReadDb, officeId: OfficeId, held: HeldList): Promise<Uint8Array | null> {
  const whole = new Uint8Array(held.sizeBytes)
  for (let position = 0; position * PIECE_BYTES < held.sizeBytes; position += 1) {
    const piece = await db
      .selectFrom('import_pieces')
      .select('bytes')
      .where('office_id', '=', officeId)
      .where('file_id', '=', held.fileId)
      .where('position', '=', position)
      .executeTakeFirst()
    const wanted = Math.min(PIECE_BYTES, held.sizeBytes - position * PIECE_BYTES)
    if (piece === undefined || piece.bytes.byteLength !== wanted) return null
    whole.set(piece.bytes, position * PIECE_BYTES)
  }
  return whole
}

/** Reads a held list whole: its bytes, its letters, its rows. For a thread of its own: a large list takes seconds. */
export async function openHeldList(
  db: ReadDb,
  officeId: OfficeId,
  fileId: number,
  today: CalendarDate,
): Promise<Result<OpenedHeldList>> {
  const held = await findHeldList(db, officeId, fileId)
  if (held === null) return refused('IMPORT_FILE_GONE')
  const { name } = held
  const bytes = await readBytes(db, officeId, held)
  if (bytes === null) return refused('IMPORT_FILE_NOT_WHOLE', { file: name })
  const recognised = recogniseFile(bytes)
  if (recognised.kind === 'empty') return refused('IMPORT_FILE_EMPTY', { file: name })
  if (recognised.kind === 'other') return refused('IMPORT_FILE_NO_LIST', { file: name, what: recognised.what })
  const encoding = held.readAs ?? recognised.encoding
  const opened = openList(name, decodeList(bytes, encoding, recognised.markLength), today)
  return opened.ok ? ok({ ...opened.value, name, encoding, recognised }) : opened
}

/** Keeps how somebody chose to read a held list. */
export async function keepReadAs(tx: WriteDb, officeId: OfficeId, fileId: number, readAs: TextEncoding): Promise<void> {
  await tx
    .updateTable('import_files')
    .set({ read_as: readAs })
    .where('office_id', '=', officeId)
    .where('id', '=', fileId)
    .execute()
}

/** Lets a list go: neither its bytes nor what was judged of it are kept. */
export async function endHeldList(
  tx: WriteDb,
  officeId: OfficeId,
  fileId: number,
  state: 'taken' | 'dropped',
  now: string,
): Promise<void> {
  for (const table of ['import_pieces', 'import_judgements'] as const)
    await tx.deleteFrom(table).where('office_id', '=', officeId).where('file_id', '=', fileId).execute()
  await tx
    .updateTable('import_files')
    .set({ state, content: '', taken_at: state === 'taken' ? now : null })
    .where('office_id', '=', officeId)
    .where('id', '=', fileId)
    .where('state', '=', 'held')
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
