import type { OpenBooks } from '../answering.ts'
import { reserveIds } from '../database/reserve-ids.ts'
import { ok, type Result, refused } from '../result.ts'
import { findOffice } from '../settings/office-store.ts'
import { readSettings } from '../settings/settings-store.ts'
import { counted, dayAndMonth } from '../units/date-words.ts'
import { type LetterRunId, letterIdSchema } from '../units/ids.ts'
import { namedWork, type WorkDesk } from '../work/work.ts'
import { type ComposedOwed, composeOwed, type OwedChoice } from './compose-owed-answers.ts'
import { LETTER_KIND_WORDS, LETTER_KINDS } from './letter-kinds.ts'
import { runSender } from './run-sender.ts'
import { insertLetters, insertRun, type NewLetter } from './runs-store.ts'
import { writeLettersSchema } from './write-letters.ts'

export interface WrittenRun {
  readonly runId: LetterRunId
  readonly letters: number
}

/**
 * Writes the letters that are owed, of some kinds or to some customers: run, letters with every word and price, and the log, in one
 * transaction that asks once more who is owed one. Whoever presses second finds them written, and writes none twice.
 */
export const writeLettersWork = namedWork({
  input: writeLettersSchema,
  run: async (desk: WorkDesk, input): Promise<Result<WrittenRun>> => {
    if (!(await desk.progress({ done: 0, total: 0, saying: 'looking up who is owed a letter' })))
      return refused('WORK_STOPPED')
    return desk.write((books) => writeRun(books, { ...input, aheadUntil: input.aheadUntil ?? null }))
  },
})

async function writeRun(books: OpenBooks, choice: OwedChoice): Promise<Result<WrittenRun>> {
  const settings = await readSettings(books.read, books.officeId)
  const office = await findOffice(books.read, books.officeId)
  if (!office) return refused('RECORD_GONE', { what: 'The office' })
  const composed = await composeOwed(books, choice, { today: books.today, office, settings })
  const letters = await withKeys(books, composed)
  if (letters.length === 0) return refused('LETTERS_NONE_OWED')
  const runId = await insertRun(books.tx, books.officeId, {
    name: runName(letters, settings.locale, books),
    writtenOn: books.today,
    writtenAt: books.now,
    by: books.by,
    letters: letters.length,
    pageSize: settings.pageSize,
    windowEnvelope: settings.windowEnvelope,
    sender: runSender(office, settings),
  })
  await insertLetters(books.tx, books.officeId, runId, letters)
  await recordRun(books, runId, letters)
  return ok({ runId, letters: letters.length })
}

async function withKeys(books: OpenBooks, composed: readonly ComposedOwed[]): Promise<NewLetter[]> {
  const ids = await reserveIds(books.tx, books.dialect, 'letters', composed.length)
  return composed.map(({ letter, siteId, frozen }, index) => ({
    letterId: letterIdSchema.parse(ids[index]),
    customerId: letter.customerId,
    siteId,
    kind: letter.kind,
    dueOn: letter.dueOn,
    frozen,
  }))
}

/** "Nov 25: 38 first letters, 4 second letters". */
function runName(letters: readonly NewLetter[], locale: string, { today }: OpenBooks): string {
  const each = LETTER_KINDS.flatMap((kind) => {
    const count = letters.filter((letter) => letter.kind === kind).length
    return count === 0 ? [] : [counted(count, LETTER_KIND_WORDS[kind])]
  })
  return `${dayAndMonth(today, locale)}: ${each.join(', ')}`
}

async function recordRun(books: OpenBooks, runId: LetterRunId, letters: readonly NewLetter[]): Promise<void> {
  await books.record({
    subjectKind: 'letter-run',
    subjectId: runId,
    verb: 'written',
    sentence: `${counted(letters.length, 'letter')} written`,
  })
  for (const letter of letters)
    await books.record({
      subjectKind: 'letter',
      subjectId: letter.letterId,
      siteId: letter.siteId,
      verb: 'written',
      sentence: `${LETTER_KIND_WORDS[letter.kind]}: ${letter.frozen.subject}`,
    })
}
