import { z } from 'zod'
import { ok, type Result, refused } from '../result.ts'
import { namedWork } from '../work/work.ts'
import { endHeldList, findMapping, type OpenedHeldList, openHeldList } from './held-lists-store.ts'
import type { ListLook } from './imports-contract.ts'
import { fromRemembered } from './list-mapping.ts'
import { guessColumns, mappingOfGuesses } from './open-list.ts'
import { ENCODING_WORDS, type RecognisedFile, type TextEncoding } from './recognise-file.ts'

const SAMPLES = 3
const LONGEST_SAMPLE = 60

/** Looks at a held list: how it was read, its columns, and what is guessed of them. What is no list is not held on to. */
export const importLookWork = namedWork({
  input: z.object({ fileId: z.int() }),
  run: async (desk, { fileId }): Promise<Result<ListLook>> => {
    if (!(await desk.progress({ done: 0, total: 0, saying: 'reading the list' }))) return refused('WORK_STOPPED')
    const opened = await openHeldList(desk.read, desk.officeId, fileId, desk.today)
    if (!opened.ok) {
      await desk.write(async (books) => {
        await endHeldList(books.tx, books.officeId, fileId, 'dropped', books.now)
        return ok(undefined)
      })
      return opened
    }
    const { sheet } = opened.value
    const guesses = guessColumns(sheet, desk.today)
    const kept = await findMapping(desk.read, desk.officeId, sheet.columns)
    const mapping = kept === null ? mappingOfGuesses(guesses) : fromRemembered(sheet.columns, kept)
    return ok({
      fileId,
      name: opened.value.name,
      rows: sheet.rows.length,
      columns: sheet.columns.map((column, index) => ({
        name: column,
        use: mapping.uses[index] ?? 'ignore',
        confidence: kept === null ? (guesses[index]?.confidence ?? 0) : 1,
        samples: samplesOf(opened.value, index),
      })),
      mapping,
      remembered: kept !== null,
      said: [encodingInWords(opened.value), ...opened.value.said],
      readAs: opened.value.encoding,
      couldBe: couldBe(opened.value.recognised),
    })
  },
})

function samplesOf({ sheet }: OpenedHeldList, index: number): string[] {
  const samples: string[] = []
  for (const { cells } of sheet.rows) {
    const cell = (cells[index] ?? '').trim()
    if (cell !== '') samples.push(cell.slice(0, LONGEST_SAMPLE))
    if (samples.length === SAMPLES) break
  }
  return samples
}

function encodingInWords({ encoding, recognised }: OpenedHeldList): string {
  const words = ENCODING_WORDS[encoding]
  return encoding === recognised.encoding ? `Read as ${words}.` : `Read as ${words}, as you chose.`
}

/** A mark in front, or a zero in every second byte, leaves no doubt; else the letters of either kind could be meant. */
function couldBe({ encoding, markLength }: Extract<RecognisedFile, { kind: 'text' }>): TextEncoding[] {
  return markLength > 0 || encoding === 'utf-16le' || encoding === 'utf-16be' ? [encoding] : ['utf-8', 'windows-1252']
}
