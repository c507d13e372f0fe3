import { implement } from '@orpc/server'
import { answer, type Desk } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import { beginList, endHeldList, findHeldList, keepPiece, keepReadAs, PIECE_BYTES } from './held-lists-store.ts'
import { type BroughtPiece, importsContract, MOST_MEGABYTES } from './imports-contract.ts'
import type { JudgedEntry } from './judged-entry.ts'
import { findJudgement } from './judgements-store.ts'
import type { TextEncoding } from './recognise-file.ts'

const MOST_BYTES = MOST_MEGABYTES * 1024 * 1024

/** Makes room beside the books for a file that is about to come. */
async function begin(
  desk: Desk,
  input: { name: string; size: number },
): Promise<Result<{ fileId: number; pieceBytes: number }>> {
  const name = input.name.replace(/^.*[\\/]/, '').slice(0, 200) || 'The list'
  if (input.size > MOST_BYTES) return refused('IMPORT_FILE_TOO_LARGE', { file: name, most: MOST_MEGABYTES })
  if (input.size === 0) return refused('IMPORT_FILE_EMPTY', { file: name })
  return desk.write(async (books) => {
    const fileId = await beginList(books.tx, books.officeId, { name, sizeBytes: input.size, now: books.now })
    return ok({ fileId, pieceBytes: PIECE_BYTES })
  })
}

/** Keeps one piece of a file. What does not fit what was announced is refused, so that nothing grows beyond it. */
async function piece(
  desk: Desk,
  { fileId, position, bytes }: { fileId: number; position: number; bytes: BroughtPiece },
): Promise<Result<{ kept: number }>> {
  if (bytes.size > PIECE_BYTES) return refused('IMPORT_FILE_NOT_WHOLE', { file: 'The list' })
  const kept = new Uint8Array(await bytes.arrayBuffer())
  return desk.write(async (books) => {
    const held = await findHeldList(books.read, books.officeId, fileId)
    if (held === null) return refused('IMPORT_FILE_GONE')
    const room = Math.min(PIECE_BYTES, held.sizeBytes - position * PIECE_BYTES)
    if (kept.byteLength !== room) return refused('IMPORT_FILE_NOT_WHOLE', { file: held.name })
    await keepPiece(books.tx, books.officeId, fileId, position, kept)
    return ok({ kept: kept.byteLength })
  })
}

function readAs(
  desk: Desk,
  input: { fileId: number; readAs: TextEncoding },
): Promise<Result<{ readAs: TextEncoding }>> {
  return desk.write(async (books) => {
    await keepReadAs(books.tx, books.officeId, input.fileId, input.readAs)
    return ok({ readAs: input.readAs })
  })
}

async function judged(
  desk: Desk,
  { fileId, page }: { fileId: number; page: number },
): Promise<Result<{ entries: JudgedEntry[] }>> {
  const entries = await findJudgement(desk.read, desk.officeId, fileId, page)
  return entries === null ? refused('IMPORT_FILE_GONE') : ok({ entries })
}

function drop(desk: Desk, { fileId }: { fileId: number }): Promise<Result<{ dropped: boolean }>> {
  return desk.write(async (books) => {
    await endHeldList(books.tx, books.officeId, fileId, 'dropped', books.now)
    return ok({ dropped: true })
  })
}

const door = implement(importsContract).$context<Desk>()
export const importsAnswers = door.router({
  begin: door.begin.handler(answer(begin)),
  piece: door.piece.handler(answer(piece)),
  readAs: door.readAs.handler(answer(readAs)),
  judged: door.judged.handler(answer(judged)),
  drop: door.drop.handler(answer(drop)),
})
