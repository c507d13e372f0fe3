import { implement } from '@orpc/server'
import { answer, type Desk, type PaperAnswer, type ReadyPaper } from '../answering.ts'
import { readAsset } from '../paper/asset-files.ts'
import { ok, type Result, refused } from '../result.ts'
import { findLot } from '../stock/movements-store.ts'
import { noLetterFor, visitFor } from '../stock/recall-homes.ts'
import { type FittedStage, findRecall, stagesFittedWith, visitsAheadFor } from '../stock/recall-store.ts'
import { counted, longDate } from '../units/date-words.ts'
import { type LotId, lotIdSchema, type SiteId } from '../units/ids.ts'
import { grouped } from './grouped.ts'
import type { LetterPage, LetterRunFacts } from './letter-page.ts'
import { writeLetters } from './letter-paper.ts'
import { inPostalOrder } from './postal-order.ts'
import { type RecallHousehold, type RecallLetter, type RecallNews, recallLetterPage } from './recall-letter.ts'
import { type RecallLetters, type RecallToPhone, recallLettersContract } from './recall-letters-contract.ts'
import {
  deleteRecallBatch,
  listRecallBatches,
  type RecallBatch,
  recallAddresses,
  recallLettersOf,
  senderOfBatch,
  writtenSince,
} from './recall-letters-store.ts'
import { readRecallSender } from './recall-sender.ts'
import { type RecallWording, readRecallWording, recallWordingFileName } from './recall-wording.ts'
import { wordingEnglish } from './wording-file.ts'

export function recallWording(locale: string): RecallWording {
  const name = recallWordingFileName(wordingEnglish(locale))
  return readRecallWording(name, Buffer.from(readAsset(`letter-wording/${name}`)).toString('utf8'))
}

/** A household that is owed a letter about a lot. */
export interface RecallOwed {
  readonly siteId: SiteId
  readonly customerId: FittedStage['customerId']
  readonly household: RecallHousehold
}

export interface RecallPost {
  readonly news: RecallNews
  /** In postal order of the address on the envelope. */
  readonly owed: readonly RecallOwed[]
  readonly toPhone: readonly RecallToPhone[]
}

/** Who is owed a letter about a recalled lot, and who has to be rung up instead; who was written to is neither. */
export async function recallPost(
  { read, officeId, today }: Pick<Desk, 'read' | 'officeId' | 'today'>,
  lotId: LotId,
): Promise<Result<RecallPost>> {
  const lot = await findLot(read, officeId, lotId)
  if (!lot) return refused('RECORD_GONE', { what: 'This lot' })
  const recall = await findRecall(read, officeId, lotId)
  if (!recall) return refused('LOT_NOT_RECALLED', { lot: lot.lotNumber, part: lot.partName })
  const homes = [...grouped(await stagesFittedWith(read, officeId, lotId), (stage) => stage.siteId).values()]
  const written = await writtenSince(read, officeId, lotId, recall.at)
  const visits = await visitsAheadFor(read, officeId, lotId, today)
  const open = homes.filter(([home]) => home !== undefined && !written.has(home.siteId))
  const mailed = open.filter(([home]) => home !== undefined && noLetterFor(home) === null)
  const addresses = await recallAddresses(
    read,
    officeId,
    mailed.flatMap(([home]) => home?.siteId ?? []),
  )
  const owed = mailed.flatMap((stages): RecallOwed[] => {
    const [home] = stages
    const post = home && addresses.get(home.siteId)
    if (!home || !post) return []
    const visit = visitFor(visits.filter((each) => each.siteId === home.siteId))
    const { siteId, customerId, reference, street } = home
    const fittedOn = stages.flatMap((stage) => stage.fittedOn ?? []).sort()[0] ?? null
    const changes = visit !== null && visit.changes >= stages.length ? visit : null
    return [{ siteId, customerId, household: { ...post, reference, street, stages, fittedOn, visit: changes } }]
  })
  return ok({
    news: { lot: lot.lotNumber, part: lot.partName, why: recall.why, notice: recall.notice },
    owed: inPostalOrder(owed, ({ household: { address } }) => address),
    toPhone: open.flatMap(phoneOf),
  })
}

function phoneOf([home]: readonly FittedStage[]): RecallToPhone[] {
  const why = home ? noLetterFor(home) : null
  if (!home || why === null) return []
  const { siteId, household, town, phone, phoneNote } = home
  return [{ siteId, household, town, phone, phoneNote, why }]
}

async function ofLot(desk: Desk, { lotId }: { lotId: LotId }): Promise<Result<RecallLetters>> {
  const batches = await listRecallBatches(desk.read, desk.officeId, lotId)
  const post = await recallPost(desk, lotId)
  if (!post.ok) return post.problem.code === 'LOT_NOT_RECALLED' ? ok({ toWrite: 0, toPhone: [], batches }) : post
  return ok({ toWrite: post.value.owed.length, toPhone: [...post.value.toPhone], batches })
}

function takeBack(
  desk: Desk,
  { lotId, first, reason }: { lotId: LotId; first: number; reason: string },
): Promise<Result<{ letters: number }>> {
  return desk.write(async (books) => {
    const batch = await findBatch(books, lotId, first)
    if (!batch) return refused('LETTER_RUN_GONE')
    const siteIds = await deleteRecallBatch(books.tx, books.officeId, lotId, batch.writtenAt)
    for (const siteId of siteIds)
      await books.record({
        ...{ subjectKind: 'lot', subjectId: lotId, siteId, verb: 'taken back' },
        sentence: `recall letter taken back: ${reason}`,
      })
    return ok({ letters: siteIds.length })
  })
}

async function findBatch(
  { read, officeId }: Pick<Desk, 'read' | 'officeId'>,
  lotId: LotId,
  first: number,
): Promise<RecallBatch | null> {
  return (await listRecallBatches(read, officeId, lotId)).find((batch) => batch.first === first) ?? null
}

/** A batch of letters about a lot, as they were written: `/papers/recall-letters/12/1.pdf`. */
async function recallLettersPaper(desk: Desk, lotText: string, firstText: string): Promise<Result<ReadyPaper>> {
  const lotId = lotIdSchema.safeParse(Number(lotText))
  const lot = lotId.success ? await findLot(desk.read, desk.officeId, lotId.data) : null
  const batch = lot && (await findBatch(desk, lot.lotId, Number(firstText)))
  const sender = batch && (await senderOfBatch(desk.read, desk.officeId, lot.lotId, batch.writtenAt))
  if (!lot || !batch || sender === null) return refused('LETTER_RUN_GONE')
  const { pageSize, windowEnvelope, ...head } = readRecallSender(sender)
  const facts: LetterRunFacts = {
    ...head,
    pageSize,
    windowEnvelope,
    printedOn: batch.writtenOn,
    madeAt: batch.writtenAt,
    title: `Recall of lot ${lot.lotNumber}: ${counted(batch.letters, 'letter')} of ${longDate(batch.writtenOn, head.locale)}`,
  }
  const letters = recallLettersOf(desk.read, desk.officeId, lot.lotId, batch.writtenAt)
  return ok({
    fileName: `recall-${lot.lotNumber.replace(/[^A-Za-z0-9-]+/g, '-')}-${batch.writtenOn}.pdf`,
    contentType: 'application/pdf',
    write: async (sink) => {
      await writeLetters(pagesOf(letters), facts, sink)
    },
  })
}

async function* pagesOf(letters: AsyncIterable<RecallLetter>): AsyncGenerator<LetterPage> {
  for await (const letter of letters) yield recallLetterPage(letter)
}

export const recallLettersPaperAnswer: PaperAnswer = {
  address: '/papers/recall-letters/:lot/:first',
  make: (desk, names) => recallLettersPaper(desk, names.lot ?? '', names.first ?? ''),
}

const door = implement(recallLettersContract).$context<Desk>()
export const recallLettersAnswers = door.router({
  ofLot: door.ofLot.handler(answer(ofLot)),
  takeBack: door.takeBack.handler(answer(takeBack)),
})
