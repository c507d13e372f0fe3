import type { ReadDb, WriteDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { CustomerId, LetterId, LetterRunId, OfficeId, SiteId } from '../units/ids.ts'
import type { LetterKind } from './letter-kinds.ts'
import type { FrozenLetter } from './letter-page.ts'
import type { LetterRun } from './letters-contract.ts'
import type { RunSender } from './run-sender.ts'

const RUNS_SHOWN = 100
/** Rows to one insert: well under the number of values both databases take. */
const ROWS_AT_ONCE = 200

export interface NewRun {
  readonly name: string
  readonly writtenOn: CalendarDate
  readonly writtenAt: string
  readonly by: string
  readonly letters: number
  readonly pageSize: string
  readonly windowEnvelope: string
  readonly sender: RunSender
}

export interface NewLetter {
  readonly letterId: LetterId
  readonly customerId: CustomerId
  readonly siteId: SiteId
  readonly kind: LetterKind
  readonly dueOn: CalendarDate
  readonly frozen: FrozenLetter
}

export async function insertRun(tx: WriteDb, officeId: OfficeId, run: NewRun): Promise<LetterRunId> {
  const row = await tx
    .insertInto('letter_runs')
    .values({
      office_id: officeId,
      name: run.name,
      written_on: run.writtenOn,
      written_at: run.writtenAt,
      by_whom: run.by,
      letters: run.letters,
      page_size: run.pageSize,
      window_envelope: run.windowEnvelope,
      taken_back_at: null,
      taken_back_reason: '',
      ...senderColumns(run.sender),
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  return row.id
}

/** Says what a run is called and how many letters it has, once they are written. */
export async function nameRun(
  tx: WriteDb,
  officeId: OfficeId,
  runId: LetterRunId,
  name: string,
  letters: number,
): Promise<void> {
  await tx
    .updateTable('letter_runs')
    .set({ name, letters })
    .where('office_id', '=', officeId)
    .where('id', '=', runId)
    .execute()
}

/** Writes letters with all their words, prices and stages, in the order of the list. `before`: letters of the run that are written already. */
export async function insertLetters(
  tx: WriteDb,
  officeId: OfficeId,
  runId: LetterRunId,
  letters: readonly NewLetter[],
  before: number,
): Promise<void> {
  const rows = letters.map(({ letterId, customerId, siteId, kind, dueOn, frozen }, index) => ({
    id: letterId,
    office_id: officeId,
    run_id: runId,
    customer_id: customerId,
    site_id: siteId,
    kind,
    written_on: frozen.writtenOn,
    due_on: dueOn,
    position: before + index + 1,
    reference: frozen.reference,
    address: frozen.addressLines.join('\n'),
    salutation: frozen.salutation,
    subject: frozen.subject,
    body: frozen.body,
    answer: frozen.answer,
    cautions: frozen.cautions,
    currency: frozen.currency,
    net_cents: frozen.netCents,
    tax_cents: frozen.taxCents,
    total_cents: frozen.totalCents,
  }))
  for (let from = 0; from < rows.length; from += ROWS_AT_ONCE)
    await tx
      .insertInto('letters')
      .values(rows.slice(from, from + ROWS_AT_ONCE))
      .execute()
  const stages = letters.flatMap(({ letterId, frozen }) =>
    frozen.stages.map((stage, index) => ({
      office_id: officeId,
      letter_id: letterId,
      position: index + 1,
      stage_id: stage.stageId,
      kind: stage.kind,
      label: stage.label,
      due_on: stage.dueOn,
      life_left: stage.lifeLeft,
      days_late: stage.daysLate,
      reason: stage.reason,
      due: stage.due ? (1 as const) : (0 as const),
      price_cents: stage.priceCents,
      installation_id: stage.installationId,
      unit: stage.unit,
    })),
  )
  for (let from = 0; from < stages.length; from += ROWS_AT_ONCE)
    await tx
      .insertInto('letter_stages')
      .values(stages.slice(from, from + ROWS_AT_ONCE))
      .execute()
}

function runQuery(db: ReadDb, officeId: OfficeId) {
  return db
    .selectFrom('letter_runs')
    .select([
      'id',
      'name',
      'written_on',
      'by_whom',
      'letters',
      'taken_back_at',
      'taken_back_reason',
      'page_size',
      'window_envelope',
      'written_at',
    ])
    .select(['sender_name', 'sender_particulars', 'sender_line', 'locale'])
    .where('office_id', '=', officeId)
}

type RunRow = Awaited<ReturnType<ReturnType<typeof runQuery>['execute']>>[number]

const runOf = (row: RunRow): LetterRun => ({
  runId: row.id,
  name: row.name,
  writtenOn: row.written_on,
  by: row.by_whom,
  letters: row.letters,
  takenBackAt: row.taken_back_at,
  takenBackReason: row.taken_back_reason,
})

/** The latest runs, newest first. */
export async function listRuns(db: ReadDb, officeId: OfficeId): Promise<LetterRun[]> {
  const rows = await runQuery(db, officeId).orderBy('id', 'desc').limit(RUNS_SHOWN).execute()
  return rows.map(runOf)
}

export interface RunWithPage extends LetterRun {
  readonly writtenAt: string
  readonly pageSize: 'letter' | 'a4'
  readonly windowEnvelope: 'us-10' | 'din-5008-b'
  /** Null for a run from before it was kept. */
  readonly sender: RunSender | null
}

/** The columns in which a run keeps what its letterhead said. */
export const senderColumns = ({ officeName, particulars, senderLine, locale }: RunSender) => ({
  sender_name: officeName,
  sender_particulars: particulars.join('\n'),
  sender_line: senderLine,
  locale,
})

function senderOf({ sender_name, sender_particulars, sender_line, locale }: RunRow): RunSender | null {
  if (sender_name === null || locale === null) return null
  return {
    officeName: sender_name,
    particulars: (sender_particulars ?? '').split('\n'),
    senderLine: sender_line ?? '',
    locale,
  }
}

export async function findRun(db: ReadDb, officeId: OfficeId, runId: LetterRunId): Promise<RunWithPage | null> {
  const row = await runQuery(db, officeId).where('id', '=', runId).executeTakeFirst()
  if (!row) return null
  return {
    ...runOf(row),
    writtenAt: row.written_at,
    pageSize: row.page_size === 'a4' ? 'a4' : 'letter',
    windowEnvelope: row.window_envelope === 'din-5008-b' ? 'din-5008-b' : 'us-10',
    sender: senderOf(row),
  }
}

export async function listLettersOfRun(db: ReadDb, officeId: OfficeId, runId: LetterRunId) {
  const rows = await db
    .selectFrom('letters as l')
    .innerJoin('customers as c', (join) =>
      join.onRef('c.id', '=', 'l.customer_id').onRef('c.office_id', '=', 'l.office_id'),
    )
    .innerJoin('sites as t', (join) => join.onRef('t.id', '=', 'l.site_id').onRef('t.office_id', '=', 'l.office_id'))
    .select(['l.id', 'l.site_id', 'c.sort_name', 't.town', 'l.kind', 'l.subject', 'l.reference'])
    .where('l.office_id', '=', officeId)
    .where('l.run_id', '=', runId)
    .orderBy('l.position')
    .execute()
  return rows.map((row) => ({
    letterId: row.id,
    siteId: row.site_id,
    name: row.sort_name,
    town: row.town,
    kind: row.kind,
    subject: row.subject,
    reference: row.reference,
  }))
}

/** Marks a run and its letters as taken back. False when someone took it back first. */
export async function takeRunBack(
  tx: WriteDb,
  officeId: OfficeId,
  runId: LetterRunId,
  at: string,
  reason: string,
): Promise<boolean> {
  const marked = await tx
    .updateTable('letter_runs')
    .set({ taken_back_at: at, taken_back_reason: reason })
    .where('office_id', '=', officeId)
    .where('id', '=', runId)
    .where('taken_back_at', 'is', null)
    .executeTakeFirst()
  if (marked.numUpdatedRows !== 1n) return false
  await tx
    .updateTable('letters')
    .set({ taken_back: 1 })
    .where('office_id', '=', officeId)
    .where('run_id', '=', runId)
    .execute()
  return true
}
