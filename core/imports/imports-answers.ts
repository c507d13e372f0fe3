import { implement } from '@orpc/server'
import { answer, type Desk } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import { decodeList, endHeldList, findHeldList, findMapping, holdList } from './held-lists-store.ts'
import { type BroughtFile, importsContract, type ListLook, MOST_MEGABYTES } from './imports-contract.ts'
import { fromRemembered } from './list-mapping.ts'
import { guessColumns, mappingOfGuesses, openList } from './open-list.ts'
import { ENCODING_WORDS, recogniseFile } from './recognise-file.ts'

/** Reads a file that was brought, holds it beside the books, and says what it looks like. */
async function bring(desk: Desk, { file }: { file: BroughtFile }): Promise<Result<ListLook>> {
  const name = file.name.replace(/^.*[\\/]/, '').slice(0, 200) || 'The list'
  if (file.size > MOST_MEGABYTES * 1024 * 1024)
    return refused('IMPORT_FILE_TOO_LARGE', { file: name, most: MOST_MEGABYTES })
  const bytes = new Uint8Array(await file.arrayBuffer())
  const recognised = recogniseFile(bytes)
  if (recognised.kind === 'empty') return refused('IMPORT_FILE_EMPTY', { file: name })
  if (recognised.kind === 'other') return refused('IMPORT_FILE_NO_LIST', { file: name, what: recognised.what })
  const content = decodeList(bytes, recognised.encoding, recognised.markLength)
  const opened = openList(name, content, desk.today)
  if (!opened.ok) return opened
  const held = await desk.write(async (books) =>
    ok(
      await holdList(books.tx, books.officeId, { name, content, rows: opened.value.sheet.rows.length, now: books.now }),
    ),
  )
  if (!held.ok) return held
  return lookAt(desk, held.value, name, content, [`Read as ${ENCODING_WORDS[recognised.encoding]}.`])
}

async function look(desk: Desk, { fileId }: { fileId: number }): Promise<Result<ListLook>> {
  const held = await findHeldList(desk.read, desk.officeId, fileId)
  return held === null ? refused('IMPORT_FILE_GONE') : lookAt(desk, held.fileId, held.name, held.content, [])
}

const SAMPLES = 3

async function lookAt(
  desk: Desk,
  fileId: number,
  name: string,
  content: string,
  before: readonly string[],
): Promise<Result<ListLook>> {
  const opened = openList(name, content, desk.today)
  if (!opened.ok) return opened
  const { sheet, said } = opened.value
  const guesses = guessColumns(sheet, desk.today)
  const kept = await findMapping(desk.read, desk.officeId, sheet.columns)
  const mapping = kept === null ? mappingOfGuesses(guesses) : fromRemembered(sheet.columns, kept)
  const samplesOf = (index: number): string[] =>
    sheet.rows
      .map((row) => (row.cells[index] ?? '').trim().slice(0, 60))
      .filter((cell) => cell !== '')
      .slice(0, SAMPLES)
  return ok({
    fileId,
    name,
    rows: sheet.rows.length,
    columns: sheet.columns.map((column, index) => ({
      name: column,
      use: mapping.uses[index] ?? 'ignore',
      confidence: kept === null ? (guesses[index]?.confidence ?? 0) : 1,
      samples: samplesOf(index),
    })),
    mapping,
    remembered: kept !== null,
    said: [...before, ...said],
  })
}

function drop(desk: Desk, { fileId }: { fileId: number }): Promise<Result<{ dropped: boolean }>> {
  return desk.write(async (books) => {
    await endHeldList(books.tx, books.officeId, fileId, 'dropped', books.now)
    return ok({ dropped: true })
  })
}

const door = implement(importsContract).$context<Desk>()
export const importsAnswers = door.router({
  bring: door.bring.handler(answer(bring)),
  look: door.look.handler(answer(look)),
  drop: door.drop.handler(answer(drop)),
})
