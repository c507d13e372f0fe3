import { implement } from '@orpc/server'
import { answer, type Desk, type PaperAnswer, type ReadyPaper } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import type { OfficeSettings } from '../settings/office-settings.ts'
import { findOffice } from '../settings/office-store.ts'
import { readSettings } from '../settings/settings-store.ts'
import { addDays, type CalendarDate, laterOf } from '../units/calendar-date.ts'
import { counted, longDate } from '../units/date-words.ts'
import { type CustomerId, type LetterRunId, letterIdSchema, letterRunIdSchema } from '../units/ids.ts'
import { previewOf } from '../units/page-picture-shape.ts'
import { composeLetter, frozenLetter } from './compose-letter.ts'
import { type ComposedTurn, composeOwed } from './compose-owed-answers.ts'
import { exampleHousehold } from './example-household.ts'
import { findFrozenLetter, frozenLettersOf } from './frozen-store.ts'
import { readLetterHouseholds } from './households-store.ts'
import type { LetterHousehold } from './letter-facts.ts'
import { LETTER_KINDS, type LetterKind } from './letter-kinds.ts'
import { type FrozenLetter, type LetterPage, type LetterRunFacts, letterPage } from './letter-page.ts'
import { pictureLetter, writeLetters } from './letter-paper.ts'
import { checkWording, type LetterWording } from './letter-wording.ts'
import { type KeptWording, type LetterPreview, lettersContract, type OwedRow } from './letters-contract.ts'
import { ourWordings } from './our-wordings-answers.ts'
import { type OwedLetter, owedLetters } from './owed-letters.ts'
import { daysInTowns, type ListedCustomer, listMailedCustomers, mailedCustomersInTurn } from './owed-store.ts'
import { inPostalOrder, type PostalPlace } from './postal-order.ts'
import { type RunSender, runSender } from './run-sender.ts'
import { findRun, listLettersOfRun, listRuns, type RunWithPage, takeRunBack } from './runs-store.ts'
import { readWordings, saveWording } from './wording-store.ts'

async function owed(
  desk: Desk,
  asked: { aheadUntil?: CalendarDate | undefined } | undefined,
): Promise<Result<{ rows: OwedRow[]; unaddressed: OwedRow[] }>> {
  const settings = await readSettings(desk.read, desk.officeId)
  const aheadUntil = asked?.aheadUntil ?? null
  const until = laterOf(addDays(desk.today, settings.firstLetterLeadDays), aheadUntil ?? desk.today)
  const owed: PlacedRow[] = []
  const unaddressed: PlacedRow[] = []
  for await (const some of mailedCustomersInTurn(desk.read, desk.officeId, until, desk.today)) {
    const byCustomer = new Map(some.map((customer) => [customer.customerId, customer]))
    const found = owedLetters(some, settings, desk.today, aheadUntil)
    const place = (letter: OwedLetter): PlacedRow[] => {
      const customer = byCustomer.get(letter.customerId)
      if (!customer) return []
      const { postalCode, town, street } = customer
      return [{ row: owedRow(letter, customer), place: { postalCode, town, street } }]
    }
    owed.push(...found.owed.flatMap(place))
    unaddressed.push(...found.unaddressed.flatMap(place))
  }
  const inOrder = (rows: readonly PlacedRow[]): OwedRow[] =>
    inPostalOrder(rows, ({ place }) => place).map(({ row }) => row)
  return ok({ rows: inOrder(owed), unaddressed: inOrder(unaddressed) })
}

interface PlacedRow {
  readonly row: OwedRow
  readonly place: PostalPlace
}

function owedRow(
  { customerId, kind, dueOn, owedSince, before }: OwedLetter,
  { siteId, name, town }: ListedCustomer,
): OwedRow {
  return { customerId, siteId, name, town, kind, dueOn, owedSince, writtenBefore: before?.writtenOn ?? null }
}

async function preview(
  desk: Desk,
  asked: { customerId: CustomerId | null; kind: LetterKind; wording: LetterWording | null },
): Promise<Result<LetterPreview>> {
  const settings = await readSettings(desk.read, desk.officeId)
  const office = await findOffice(desk.read, desk.officeId)
  if (!office) return refused('RECORD_GONE', { what: 'The office' })
  const wording = asked.wording ?? (await wordingsOf(desk, settings)).find((each) => each.kind === asked.kind)
  if (!wording) return refused('RECORD_GONE', { what: 'This wording' })
  const checked = checkWording(wording)
  if (!checked.ok) return checked
  const household = asked.customerId === null ? exampleHousehold(desk.today) : await householdOf(desk, asked.customerId)
  const dueOn = household && firstDue(household)
  if (!household || !dueOn) return refused('LETTER_NOTHING_DUE')
  const letter = composeLetter(asked.kind, household, dueOn, wording, { today: desk.today, office, settings })
  const facts = runFacts(runSender(office, settings), {
    ...settings,
    title: letter.subject,
    printedOn: desk.today,
    madeAt: desk.now,
  })
  const { picture, pages, missing } = await pictureLetter(letterPage(frozenLetter(letter, desk.today)), facts)
  return ok({
    kind: asked.kind,
    pages,
    missing: [...missing],
    picture: previewOf(picture),
  })
}

const firstDue = (household: LetterHousehold) =>
  household.sites
    .flatMap((site) => site.stages.flatMap((stage) => stage.dueOn ?? []))
    .sort()
    .at(0) ?? null

async function householdOf(desk: Desk, customerId: CustomerId): Promise<LetterHousehold | null> {
  const days = await daysInTowns(desk.read, desk.officeId, addDays(desk.today, 4), addDays(desk.today, 42))
  const households = await readLetterHouseholds(desk.read, desk.officeId, [customerId], desk.today, days)
  const household = households.get(customerId)
  if (!household) return null
  const listed = await listMailedCustomers(desk.read, desk.officeId, addDays(desk.today, 3650), desk.today)
  const before = listed
    .find((customer) => customer.customerId === customerId)
    ?.letters.map((letter) => letter.writtenOn)
    .sort()
    .at(-1)
  return { ...household, writtenBefore: before ?? null }
}

async function run(desk: Desk, { runId }: { runId: LetterRunId }) {
  const found = await findRun(desk.read, desk.officeId, runId)
  if (!found) return refused('LETTER_RUN_GONE')
  const { writtenAt: _at, pageSize: _size, windowEnvelope: _envelope, sender: _sender, ...shown } = found
  return ok({ ...shown, rows: await listLettersOfRun(desk.read, desk.officeId, runId) })
}

function takeBack(
  desk: Desk,
  { runId, reason }: { runId: LetterRunId; reason: string },
): Promise<Result<{ letters: number }>> {
  return desk.write(async (books) => {
    const found = await findRun(books.read, books.officeId, runId)
    if (!found) return refused('LETTER_RUN_GONE')
    const settings = await readSettings(books.read, books.officeId)
    const taken = await takeRunBack(books.tx, books.officeId, runId, books.now, reason)
    if (!taken) return refused('LETTER_RUN_TAKEN_BACK', { date: takenBackOn(found, settings) })
    await books.record({
      subjectKind: 'letter-run',
      subjectId: runId,
      verb: 'taken back',
      sentence: `${counted(found.letters, 'letter')} taken back: ${reason}`,
    })
    for (const letter of await listLettersOfRun(books.read, books.officeId, runId))
      await books.record({
        subjectKind: 'letter',
        subjectId: letter.letterId,
        siteId: letter.siteId,
        verb: 'taken back',
        sentence: `letter taken back: ${reason}`,
      })
    return ok({ letters: found.letters })
  })
}

function takenBackOn({ takenBackAt, writtenOn }: RunWithPage, { locale }: OfficeSettings): string {
  const date = takenBackAt?.slice(0, 10)
  return date && date !== writtenOn ? date : longDate(writtenOn, locale)
}

const wordingsOf = (desk: Desk, { locale }: OfficeSettings): Promise<KeptWording[]> =>
  readWordings(desk.read, desk.officeId, ourWordings(locale))

async function wordings(desk: Desk): Promise<Result<{ kept: KeptWording[]; ours: LetterWording[] }>> {
  const settings = await readSettings(desk.read, desk.officeId)
  return ok({ kept: await wordingsOf(desk, settings), ours: Object.values(ourWordings(settings.locale)) })
}

function keepWording(desk: Desk, wording: KeptWording): Promise<Result<KeptWording>> {
  return desk.write(async (books) => {
    const checked = checkWording(wording)
    if (!checked.ok) return checked
    const saved = await saveWording(books.tx, books.officeId, wording)
    if (!saved)
      return refused('RECORD_CHANGED', { what: `The wording of the ${wording.kind} letter`, changes: 'its words' })
    await books.record({
      subjectKind: 'wording',
      subjectId: 1,
      verb: 'changed',
      sentence: `Wording of the ${wording.kind} letter changed`,
    })
    return ok({ ...wording, version: wording.version + 1 })
  })
}

interface PageFacts {
  readonly title: string
  readonly pageSize: LetterRunFacts['pageSize']
  readonly windowEnvelope: LetterRunFacts['windowEnvelope']
  readonly printedOn: LetterRunFacts['printedOn']
  readonly madeAt: string
}

function runFacts(sender: RunSender, page: PageFacts): LetterRunFacts {
  const { title, pageSize, windowEnvelope, printedOn, madeAt } = page
  return { ...sender, title, pageSize, windowEnvelope, printedOn, madeAt }
}

/** A run's letters, or one of them, as they were written: `/papers/letters/12.pdf`, `/papers/letters/12/345.pdf`. */
async function letterPaper(desk: Desk, runText: string, letterText: string | null): Promise<Result<ReadyPaper>> {
  const runId = letterRunIdSchema.safeParse(Number(runText))
  const found = runId.success ? await findRun(desk.read, desk.officeId, runId.data) : null
  const office = await findOffice(desk.read, desk.officeId)
  if (!found || !office) return refused('LETTER_RUN_GONE')
  const settings = await readSettings(desk.read, desk.officeId)
  if (found.takenBackAt !== null) return refused('LETTER_RUN_TAKEN_BACK', { date: takenBackOn(found, settings) })
  const one =
    letterText === null
      ? null
      : await findFrozenLetter(desk.read, desk.officeId, letterIdSchema.parse(Number(letterText)))
  if (letterText !== null && one?.runId !== found.runId) return refused('LETTER_RUN_GONE')
  const letters = one ? [one] : frozenLettersOf(desk.read, desk.officeId, found.runId)
  const page = { ...found, title: one?.subject ?? found.name, printedOn: found.writtenOn, madeAt: found.writtenAt }
  return ok({
    fileName: one ? `letter-${one.reference}.pdf` : `letters-${found.writtenOn}-${found.runId}.pdf`,
    contentType: 'application/pdf',
    write: async (sink) => {
      await writeLetters(pagesOf(letters), runFacts(found.sender ?? runSender(office, settings), page), sink)
    },
  })
}

async function* pagesOf(letters: Iterable<FrozenLetter> | AsyncIterable<FrozenLetter>): AsyncGenerator<LetterPage> {
  for await (const letter of letters) yield letterPage(letter)
}

async function* oneByOne(turns: AsyncIterable<ComposedTurn>): AsyncGenerator<FrozenLetter> {
  for await (const { composed } of turns) for (const { frozen } of composed) yield frozen
}

/** What is owed today, as it would be written now; nothing is recorded: `/papers/letters-owed/all.pdf`, or one kind of letter. */
async function owedPaper(desk: Desk, kindText: string): Promise<Result<ReadyPaper>> {
  const kinds = LETTER_KINDS.filter((kind) => kindText === 'all' || kind === kindText)
  const office = await findOffice(desk.read, desk.officeId)
  if (kinds.length === 0) return refused('PAPER_UNKNOWN')
  if (!office) return refused('RECORD_GONE', { what: 'The office' })
  const settings = await readSettings(desk.read, desk.officeId)
  const choice = { kinds, customerIds: null, aheadUntil: null }
  const composed = () => composeOwed(desk, choice, { today: desk.today, office, settings })
  // Composed twice, once only to be counted for the title: kept meanwhile, ten thousand letters would fill a hundred megabytes.
  let count = 0
  for await (const turn of composed()) count += turn.composed.length
  if (count === 0) return refused('LETTERS_NONE_OWED')
  const title = `${counted(count, 'letter')} owed on ${longDate(desk.today, settings.locale)}`
  const facts = runFacts(runSender(office, settings), { ...settings, title, printedOn: desk.today, madeAt: desk.now })
  return ok({
    fileName: `letters-owed-${desk.today}.pdf`,
    contentType: 'application/pdf',
    write: async (sink) => {
      await writeLetters(pagesOf(oneByOne(composed())), facts, sink)
    },
  })
}

export const lettersPapers: readonly PaperAnswer[] = [
  { address: '/papers/letters-owed/:kind', make: (desk, names) => owedPaper(desk, names.kind ?? '') },
  { address: '/papers/letters/:run', make: (desk, names) => letterPaper(desk, names.run ?? '', null) },
  {
    address: '/papers/letters/:run/:letter',
    make: (desk, names) => letterPaper(desk, names.run ?? '', names.letter ?? ''),
  },
]

const door = implement(lettersContract).$context<Desk>()
export const lettersAnswers = door.router({
  owed: door.owed.handler(answer(owed)),
  preview: door.preview.handler(answer(preview)),
  runs: door.runs.handler(answer(async (desk) => ok(await listRuns(desk.read, desk.officeId)))),
  run: door.run.handler(answer(run)),
  takeBack: door.takeBack.handler(answer(takeBack)),
  wordings: door.wordings.handler(answer(wordings)),
  saveWording: door.saveWording.handler(answer(keepWording)),
})
