import type { PostalAddress } from '../customers/postal-address.ts'
import type { ReadDb, WriteDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { CustomerId, LotId, OfficeId, SiteId } from '../units/ids.ts'
import type { RecallLetter } from './recall-letter.ts'

/** As many keys as both databases take in one question without trouble. */
const AT_ONCE = 400
/** Rows to one insert: well under the number of values both databases take. */
const ROWS_AT_ONCE = 200
/** Letters read at once while they are printed. */
const LETTERS_AT_ONCE = 100

export interface RecallAddress {
  readonly salutation: string
  readonly address: PostalAddress
}

/** How the post reaches each household: its own address, or where its mail goes. */
export async function recallAddresses(
  db: ReadDb,
  officeId: OfficeId,
  siteIds: readonly SiteId[],
): Promise<Map<SiteId, RecallAddress>> {
  const found = new Map<SiteId, RecallAddress>()
  for (let from = 0; from < siteIds.length; from += AT_ONCE) {
    const rows = await db
      .selectFrom('sites as t')
      .innerJoin('customers as c', (join) =>
        join.onRef('c.office_id', '=', 't.office_id').onRef('c.id', '=', 't.customer_id'),
      )
      .select(['t.id', 't.line1', 't.line2', 't.town', 't.region', 't.postal_code', 'c.salutation', 'c.letter_name'])
      .select([
        'c.mail_elsewhere',
        'c.mail_line1',
        'c.mail_line2',
        'c.mail_town',
        'c.mail_region',
        'c.mail_postal_code',
      ])
      .where('t.office_id', '=', officeId)
      .where('t.id', 'in', siteIds.slice(from, from + AT_ONCE))
      .execute()
    for (const row of rows) {
      const elsewhere = row.mail_elsewhere === 1
      found.set(row.id, {
        salutation: row.salutation,
        address: {
          names: [row.letter_name],
          street: elsewhere ? row.mail_line1 : row.line1,
          unit: elsewhere ? row.mail_line2 : row.line2,
          town: elsewhere ? row.mail_town : row.town,
          region: elsewhere ? row.mail_region : row.region,
          postalCode: elsewhere ? row.mail_postal_code : row.postal_code,
        },
      })
    }
  }
  return found
}

/** Households written to about this lot since its recall began. */
export async function writtenSince(db: ReadDb, officeId: OfficeId, lotId: LotId, began: string): Promise<Set<SiteId>> {
  const rows = await db
    .selectFrom('recall_letters')
    .select('site_id')
    .where('office_id', '=', officeId)
    .where('lot_id', '=', lotId)
    .where('written_at', '>=', began)
    .execute()
  return new Set(rows.map((row) => row.site_id))
}

export interface NewRecallLetter {
  readonly customerId: CustomerId
  readonly siteId: SiteId
  readonly letter: RecallLetter
}

export interface RecallBatchHead {
  readonly lotId: LotId
  readonly writtenAt: string
  readonly by: string
  /** Letterhead, sheet and envelope, as kept. */
  readonly sender: string
}

/** The place of the last letter about a lot; 0 for none. */
export async function lastPosition(db: ReadDb, officeId: OfficeId, lotId: LotId): Promise<number> {
  const row = await db
    .selectFrom('recall_letters')
    .select((each) => each.fn.max<number | null>('position').as('last'))
    .where('office_id', '=', officeId)
    .where('lot_id', '=', lotId)
    .executeTakeFirst()
  return Number(row?.last ?? 0)
}

/** Writes letters with every word, in the order given, from `position` on; letters of an earlier recall of the lot make room. */
export async function insertRecallLetters(
  tx: WriteDb,
  officeId: OfficeId,
  head: RecallBatchHead,
  letters: readonly NewRecallLetter[],
  position: number,
): Promise<void> {
  for (let from = 0; from < letters.length; from += ROWS_AT_ONCE) {
    const some = letters.slice(from, from + ROWS_AT_ONCE)
    await tx
      .deleteFrom('recall_letters')
      .where('office_id', '=', officeId)
      .where('lot_id', '=', head.lotId)
      .where(
        'site_id',
        'in',
        some.map((each) => each.siteId),
      )
      .execute()
    await tx
      .insertInto('recall_letters')
      .values(
        some.map(({ customerId, siteId, letter }, index) => ({
          office_id: officeId,
          lot_id: head.lotId,
          customer_id: customerId,
          site_id: siteId,
          written_on: letter.writtenOn,
          written_at: head.writtenAt,
          by_whom: head.by,
          position: position + from + index,
          address: letter.addressLines.join('\n'),
          salutation: letter.salutation,
          subject: letter.subject,
          body: letter.body,
          answer: letter.answer,
          cautions: letter.cautions,
          sender: head.sender,
        })),
      )
      .execute()
  }
}

export interface RecallBatch {
  /** The place of its first letter: the batch's name in addresses. */
  readonly first: number
  readonly writtenOn: CalendarDate
  readonly writtenAt: string
  readonly by: string
  readonly letters: number
}

/** Letters about a lot by when they were written, the latest first. */
export async function listRecallBatches(db: ReadDb, officeId: OfficeId, lotId: LotId): Promise<RecallBatch[]> {
  const rows = await db
    .selectFrom('recall_letters')
    .select(({ fn }) => [
      fn.min<number>('position').as('first'),
      fn.countAll<number>().as('letters'),
      'written_on as writtenOn',
      'written_at as writtenAt',
      'by_whom as by',
    ])
    .where('office_id', '=', officeId)
    .where('lot_id', '=', lotId)
    .groupBy(['written_on', 'written_at', 'by_whom'])
    .orderBy('written_at', 'desc')
    .execute()
  return rows.map((row) => ({ ...row, first: Number(row.first), letters: Number(row.letters) }))
}

/** A batch counts as never written. Returns the households that it was to. */
export async function deleteRecallBatch(
  tx: WriteDb,
  officeId: OfficeId,
  lotId: LotId,
  writtenAt: string,
): Promise<SiteId[]> {
  const rows = await tx
    .deleteFrom('recall_letters')
    .where('office_id', '=', officeId)
    .where('lot_id', '=', lotId)
    .where('written_at', '=', writtenAt)
    .returning('site_id')
    .execute()
  return rows.map((row) => row.site_id)
}

/** How a batch is printed, from its first letter. */
export async function senderOfBatch(
  db: ReadDb,
  officeId: OfficeId,
  lotId: LotId,
  writtenAt: string,
): Promise<string | null> {
  const row = await db
    .selectFrom('recall_letters')
    .select('sender')
    .where('office_id', '=', officeId)
    .where('lot_id', '=', lotId)
    .where('written_at', '=', writtenAt)
    .orderBy('position')
    .limit(1)
    .executeTakeFirst()
  return row?.sender ?? null
}

/** The letters of a batch in their order, some at a time as they are printed. */
export async function* recallLettersOf(
  db: ReadDb,
  officeId: OfficeId,
  lotId: LotId,
  writtenAt: string,
): AsyncGenerator<RecallLetter> {
  for (let after = 0; ; ) {
    const rows = await db
      .selectFrom('recall_letters as l')
      .innerJoin('customers as c', (join) =>
        join.onRef('c.office_id', '=', 'l.office_id').onRef('c.id', '=', 'l.customer_id'),
      )
      .select([
        'l.position as position',
        'l.written_on as writtenOn',
        'l.address as address',
        'c.reference as reference',
      ])
      .select(['l.salutation as salutation', 'l.subject as subject', 'l.body as body', 'l.answer as answer'])
      .select('l.cautions as cautions')
      .where('l.office_id', '=', officeId)
      .where('l.lot_id', '=', lotId)
      .where('l.written_at', '=', writtenAt)
      .where('l.position', '>', after)
      .orderBy('l.position')
      .limit(LETTERS_AT_ONCE)
      .execute()
    for (const { position: _, address, ...letter } of rows) yield { ...letter, addressLines: address.split('\n') }
    const last = rows.at(-1)
    if (!last || rows.length < LETTERS_AT_ONCE) return
    after = last.position
  }
}
