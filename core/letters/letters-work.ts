import type { OpenBooks } from '../answering.ts'
import { reserveIds } from '../database/reserve-ids.ts'
import { ok, type Result, refused } from '../result.ts'
import type { OfficeSettings } from '../settings/office-settings.ts'
import { findOffice } from '../settings/office-store.ts'
import { readSettings } from '../settings/settings-store.ts'
import { counted, dayAndMonth } from '../units/date-words.ts'
import { type LetterRunId, letterIdSchema } from '../units/ids.ts'
import { namedWork, type WorkDesk } from '../work/work.ts'
import { type ComposedOwed, composeOwed, type OwedChoice } from './compose-owed-answers.ts'
import { LETTER_KIND_WORDS, LETTER_KINDS, type LetterKind } from './letter-kinds.ts'
import { type RunSender, runSender } from './run-sender.ts'
import { insertLetters, insertRun, type NewLetter, nameRun } from './runs-store.ts'
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
  keepsLittle: true,
  input: writeLettersSchema,
  run: async (desk: WorkDesk, input): Promise<Result<WrittenRun>> => {
    if (!(await desk.progress({ done: 0, total: 0, saying: 'looking up who is owed a letter' })))
      return refused('WORK_STOPPED')
    return desk.write((books) => writeRun(books, { ...input, aheadUntil: input.aheadUntil ?? null }, desk.progress))
  },
})

async function writeRun(
  books: OpenBooks,
  choice: OwedChoice,
  progress: WorkDesk['progress'],
): Promise<Result<WrittenRun>> {
  const settings = await readSettings(books.read, books.officeId)
  const office = await findOffice(books.read, books.officeId)
  if (!office) return refused('RECORD_GONE', { what: 'The office' })
  const run = await writeRunHead(books, settings, runSender(office, settings))
  const counts = new Map<LetterKind, number>()
  let written = 0
  for await (const { composed, done, total } of composeOwed(books, choice, { today: books.today, office, settings })) {
    const letters = await withKeys(books, composed)
    await insertLetters(books.tx, books.officeId, run, letters, written)
    await recordLetters(books, letters)
    for (const { kind } of letters) counts.set(kind, (counts.get(kind) ?? 0) + 1)
    written += letters.length
    // Refused inside the transaction: whoever stops finds no letter written.
    if (!(await progress({ done, total, saying: `writing letter ${done} of ${total}` }))) return refused('WORK_STOPPED')
  }
  if (written === 0) return refused('LETTERS_NONE_OWED')
  await nameRun(books.tx, books.officeId, run, runName(counts, settings.locale, books), written)
  await books.record({
    subjectKind: 'letter-run',
    subjectId: run,
    verb: 'written',
    sentence: `${counted(written, 'letter')} written`,
  })
  return ok({ runId: run, letters: written })
}

/** The run that the letters belong to. Its name says how many there are, so it comes last, inside the same transaction. */
function writeRunHead(books: OpenBooks, settings: OfficeSettings, sender: RunSender): Promise<LetterRunId> {
  return insertRun(books.tx, books.officeId, {
    name: '',
    writtenOn: books.today,
    writtenAt: books.now,
    by: books.by,
    letters: 0,
    pageSize: settings.pageSize,
    windowEnvelope: settings.windowEnvelope,
    sender,
  })
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
function runName(counts: ReadonlyMap<LetterKind, number>, locale: string, { today }: OpenBooks): string {
  const each = LETTER_KINDS.flatMap((kind) => {
    const count = counts.get(kind) ?? 0
    return count === 0 ? [] : [counted(count, LETTER_KIND_WORDS[kind])]
  })
  return `${dayAndMonth(today, locale)}: ${each.join(', ')}`
}

async function recordLetters(books: OpenBooks, letters: readonly NewLetter[]): Promise<void> {
  for (const letter of letters)
    await books.record({
      subjectKind: 'letter',
      subjectId: letter.letterId,
      siteId: letter.siteId,
      verb: 'written',
      sentence: `${LETTER_KIND_WORDS[letter.kind]}: ${letter.frozen.subject}`,
    })
}
