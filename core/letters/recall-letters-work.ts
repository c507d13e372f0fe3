import type { OpenBooks } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import { findOffice } from '../settings/office-store.ts'
import { readSettings } from '../settings/settings-store.ts'
import type { LotId } from '../units/ids.ts'
import { namedWork, type WorkDesk } from '../work/work.ts'
import { composeRecallLetter } from './recall-letter.ts'
import { recallPost, recallWording } from './recall-letters-answers.ts'
import { type RecallWritten, recallLettersInput } from './recall-letters-contract.ts'
import { insertRecallLetters, lastPosition } from './recall-letters-store.ts'
import { recallSenderText } from './recall-sender.ts'
import { runSender } from './run-sender.ts'

/** Letters written between two words on how far it is. */
const AT_ONCE = 100

/**
 * Writes the letters that are owed about a recalled lot, every word of them and the log, in one transaction that asks once more who is
 * owed one: whoever presses second finds them written, and writes none twice. Stopped, none is written.
 */
export const recallLettersWork = namedWork({
  input: recallLettersInput,
  run: (desk: WorkDesk, { lotId }): Promise<Result<RecallWritten>> =>
    desk.write((books) => writeRecallLetters(books, lotId, desk.progress)),
})

async function writeRecallLetters(
  books: OpenBooks,
  lotId: LotId,
  progress: WorkDesk['progress'],
): Promise<Result<RecallWritten>> {
  const { read, tx, officeId, today, now: writtenAt, by } = books
  const post = await recallPost(books, lotId)
  if (!post.ok) return post
  const { news, owed } = post.value
  if (owed.length === 0) return refused('RECALL_NOBODY_TO_WRITE', { lot: news.lot })
  const settings = await readSettings(read, officeId)
  const office = await findOffice(read, officeId)
  if (!office) return refused('RECORD_GONE', { what: 'The office' })
  const wording = recallWording(settings.locale)
  const { pageSize, windowEnvelope } = settings
  const sender = recallSenderText({ ...runSender(office, settings), pageSize, windowEnvelope })
  const first = (await lastPosition(read, officeId, lotId)) + 1
  for (let done = 0; done < owed.length; done += AT_ONCE) {
    if (!(await progress({ done, total: owed.length, saying: `writing letter ${done} of ${owed.length}` })))
      return refused('WORK_STOPPED')
    const some = owed.slice(done, done + AT_ONCE)
    const letters = some.map(({ siteId, customerId, household }) => ({
      ...{ siteId, customerId },
      letter: composeRecallLetter(household, news, wording, { today, office, settings }),
    }))
    await insertRecallLetters(tx, officeId, { lotId, writtenAt, by, sender }, letters, first + done)
    for (const { siteId, letter } of letters)
      await books.record({
        ...{ subjectKind: 'lot', subjectId: lotId, siteId, verb: 'written' },
        sentence: `recall letter: ${letter.subject}`,
      })
  }
  return ok({ letters: owed.length, first })
}
