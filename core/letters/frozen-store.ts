import type { ReadDb } from '../database/handles.ts'
import type { LetterId, LetterRunId, OfficeId } from '../units/ids.ts'
import { grouped } from './grouped.ts'
import type { FrozenLetter, FrozenStage } from './letter-page.ts'
import { unitHeading } from './letter-words.ts'

/** Letters read at once while a run is printed: the rest waits in the books, so that memory stays flat. */
const LETTERS_AT_ONCE = 100

export interface PrintedLetter extends FrozenLetter {
  readonly letterId: LetterId
}

/** The letters of a run in its order, read a hundred at a time as they are printed. */
export async function* frozenLettersOf(
  db: ReadDb,
  officeId: OfficeId,
  runId: LetterRunId,
): AsyncGenerator<PrintedLetter> {
  for (let after = 0; ; ) {
    const rows = await letterQuery(db, officeId)
      .where('run_id', '=', runId)
      .where('position', '>', after)
      .orderBy('position')
      .limit(LETTERS_AT_ONCE)
      .execute()
    yield* await withStages(db, officeId, rows)
    const last = rows.at(-1)
    if (!last || rows.length < LETTERS_AT_ONCE) return
    after = last.position
  }
}

export async function findFrozenLetter(
  db: ReadDb,
  officeId: OfficeId,
  letterId: LetterId,
): Promise<(PrintedLetter & { runId: LetterRunId }) | null> {
  const row = await letterQuery(db, officeId).where('id', '=', letterId).executeTakeFirst()
  if (!row) return null
  const [letter] = await withStages(db, officeId, [row])
  return letter ? { ...letter, runId: row.run_id } : null
}

function letterQuery(db: ReadDb, officeId: OfficeId) {
  return db
    .selectFrom('letters')
    .select([
      'id',
      'run_id',
      'position',
      'reference',
      'written_on',
      'address',
      'salutation',
      'subject',
      'body',
      'answer',
    ])
    .select(['cautions', 'currency', 'net_cents', 'tax_cents', 'total_cents'])
    .where('office_id', '=', officeId)
}

type LetterRow = Awaited<ReturnType<ReturnType<typeof letterQuery>['execute']>>[number]

async function withStages(db: ReadDb, officeId: OfficeId, rows: readonly LetterRow[]): Promise<PrintedLetter[]> {
  if (rows.length === 0) return []
  const stages = await readStages(
    db,
    officeId,
    rows.map((row) => row.id),
  )
  return rows.map((row) => ({
    letterId: row.id,
    currency: row.currency,
    reference: row.reference,
    writtenOn: row.written_on,
    addressLines: row.address.split('\n'),
    salutation: row.salutation,
    subject: row.subject,
    body: row.body,
    answer: row.answer,
    cautions: row.cautions,
    netCents: row.net_cents,
    taxCents: row.tax_cents,
    totalCents: row.total_cents,
    stages: stages.get(row.id) ?? [],
  }))
}

async function readStages(
  db: ReadDb,
  officeId: OfficeId,
  letterIds: readonly LetterId[],
): Promise<Map<LetterId, FrozenStage[]>> {
  const rows = await db
    .selectFrom('letter_stages as f')
    .innerJoin('stages as s', (join) => join.onRef('s.id', '=', 'f.stage_id').onRef('s.office_id', '=', 'f.office_id'))
    .innerJoin('installations as i', (join) =>
      join.onRef('i.id', '=', 's.installation_id').onRef('i.office_id', '=', 's.office_id'),
    )
    .innerJoin('sites as t', (join) => join.onRef('t.id', '=', 'i.site_id').onRef('t.office_id', '=', 'i.office_id'))
    .select([
      'f.letter_id',
      'f.stage_id',
      'f.kind',
      'f.label',
      'f.due_on',
      'f.life_left',
      'f.days_late',
      'f.reason',
      'f.due',
      'f.price_cents',
    ])
    .select(['f.installation_id', 'f.unit'])
    .select(['s.installation_id as installation_now', 'i.name as unit_name', 't.line1'])
    .where('f.office_id', '=', officeId)
    .where('f.letter_id', 'in', [...letterIds])
    .orderBy('f.letter_id')
    .orderBy('f.position')
    .execute()
  const stages = rows.map((row) => ({
    letterId: row.letter_id,
    stage: {
      stageId: row.stage_id,
      kind: row.kind,
      label: row.label,
      dueOn: row.due_on,
      lifeLeft: row.life_left,
      daysLate: row.days_late,
      reason: row.reason,
      due: row.due === 1,
      installationId: row.installation_id ?? row.installation_now,
      // A letter from before its unit's name was kept takes the one of today.
      unit: row.unit ?? unitHeading(row.unit_name, row.line1),
      priceCents: row.price_cents,
    },
  }))
  return new Map(
    [...grouped(stages, ({ letterId }) => letterId)].map(([id, group]) => [id, group.map(({ stage }) => stage)]),
  )
}
