import { type Expression, type ExpressionBuilder, type SqlBool, sql } from 'kysely'
import type { PageEnd } from '../customers/customers-contract.ts'
import { searchCondition } from '../customers/search-store.ts'
import { searchWordsOf } from '../customers/search-words.ts'
import type { DialectName, ReadDb } from '../database/handles.ts'
import type { OfficeTables } from '../database/schema.ts'
import { addDays, type CalendarDate, calendarDate, mondayOf } from '../units/calendar-date.ts'
import type { OfficeId, SiteId } from '../units/ids.ts'
import type { DueFilter, DueSort } from './due-contract.ts'
import type { KeptStage } from './stage-today.ts'

/** Until when something is due, and which due date means that the grace is over: one before `lateBefore`. */
export interface DueSpan {
  readonly today: CalendarDate
  readonly until: CalendarDate
  readonly lateBefore: CalendarDate
}

export interface DuePage {
  readonly filter: DueFilter
  readonly span: DueSpan
  readonly sort: DueSort
  readonly descending: boolean
  readonly after: PageEnd | null
  readonly limit: number
  /** Only a stretch of the list, up to and including this end (null: to the end of all), walked along its own order. */
  readonly stretch?: { readonly upTo: PageEnd | null }
}

const keyOf = (sort: DueSort) =>
  sort === 'dueOn' ? sql<string>`t.due_on` : sort === 'town' ? sql<string>`t.town` : sql<string>`c.sort_name`

/** A page of the households that are due within the span: one walk along an index, in the order asked for. */
export async function listDueSites(db: ReadDb, dialect: DialectName, officeId: OfficeId, page: DuePage) {
  const { sort, descending } = page
  const direction = descending ? 'desc' : 'asc'
  let query = sitesWithNames(db, page)
    .select(['t.id as siteId', 't.customer_id as customerId', 'c.sort_name as household', 't.town'])
    .select(['c.phone', 't.due_on as dueOn', 'c.no_mail', 'c.moved_on'])
    .where((eb) => eb.and(conditions(eb, officeId, page)))
    .where((eb) => eb.and(betweenEnds(page)))
    .orderBy(keyOf(sort), direction)
    .orderBy('t.id', direction)
    .limit(page.limit)
  const found = await searchCondition(db, dialect, officeId, searchWordsOf(page.filter.search), 't.id')
  if (found) query = query.where(found)
  return query.execute()
}

/** Households with their names; in a stretch by name the names lead, and are not looked up of all that is due. */
function sitesWithNames(db: ReadDb, { sort, stretch }: DuePage) {
  if (stretch && sort === 'household')
    return db
      .selectFrom('customers as c')
      .crossJoin('sites as t')
      .whereRef('c.id', '=', 't.customer_id')
      .whereRef('c.office_id', '=', 't.office_id')
  return db
    .selectFrom('sites as t')
    .innerJoin('customers as c', (join) =>
      join.onRef('c.id', '=', 't.customer_id').onRef('c.office_id', '=', 't.office_id'),
    )
}

type Ends = Pick<DuePage, 'sort' | 'descending' | 'after' | 'stretch'>

/** After one end of the list, up to another. Of names the first half is said by itself, too: that is what their index understands. */
function betweenEnds({ sort, descending, after, stretch }: Ends): Expression<SqlBool>[] {
  const key = keyOf(sort)
  const [beyond, until] = descending ? ['<', '>='] : ['>', '<=']
  const all: Expression<SqlBool>[] = []
  const upTo = stretch?.upTo ?? null
  if (after) all.push(sql`(${key}, t.id) ${sql.raw(beyond)} (${after.key}, ${after.id})`)
  if (upTo) all.push(sql`(${key}, t.id) ${sql.raw(until)} (${upTo.key}, ${upTo.id})`)
  if (stretch && sort === 'household') {
    if (after) all.push(sql`${key} ${sql.raw(`${beyond}=`)} ${after.key}`)
    if (upTo) all.push(sql`${key} ${sql.raw(until)} ${upTo.key}`)
  }
  return all
}

/** As large as a key may be. */
const LAST_ID = 2_147_483_647

/** Where a stretch of so many households ends that begins after the page's `after`; null when there are fewer. */
export async function endOfStretch(
  db: ReadDb,
  officeId: OfficeId,
  page: Ends & Pick<DuePage, 'span'>,
  atOnce: number,
): Promise<PageEnd | null> {
  const { sort, descending, after, span } = page
  const direction = descending ? 'desc' : 'asc'
  if (sort === 'household') {
    let names = db.selectFrom('customers as c').select('c.sort_name as key').where('c.office_id', '=', officeId)
    if (after) names = names.where('c.sort_name', descending ? '<' : '>', after.key)
    const row = await names
      .orderBy('c.sort_name', direction)
      .offset(atOnce - 1)
      .limit(1)
      .executeTakeFirst()
    return row ? { key: row.key, id: descending ? 0 : LAST_ID } : null
  }
  let sites = db
    .selectFrom('sites as t')
    .select(['t.id as id', keyOf(sort).as('key')])
    .where('t.office_id', '=', officeId)
    .where((eb) => eb.and(betweenEnds({ sort, descending, after })))
  if (sort === 'dueOn')
    sites = sites.where('t.closed_on', 'is', null).where('t.due_on', 'is not', null).where('t.due_on', '<=', span.until)
  const ordered = sites.orderBy(keyOf(sort), direction).orderBy('t.id', direction)
  return (
    (await ordered
      .offset(atOnce - 1)
      .limit(1)
      .executeTakeFirst()) ?? null
  )
}

/** Whether more than so many households are due within the span. */
export async function hasManyDueSites(db: ReadDb, officeId: OfficeId, span: DueSpan, many: number): Promise<boolean> {
  const first = { sort: 'dueOn', descending: false, after: null, span } as const
  return (await endOfStretch(db, officeId, first, many + 1)) !== null
}

/** How many households are due within the span, or in one stretch of it by date, and how many of them are late today. */
export async function countDueSites(
  db: ReadDb,
  dialect: DialectName,
  officeId: OfficeId,
  page: Pick<DuePage, 'filter' | 'span' | 'after' | 'stretch'>,
) {
  const { filter, span } = page
  const byDate = { ...page, sort: 'dueOn', descending: false } as const
  const found = await searchCondition(db, dialect, officeId, searchWordsOf(filter.search), 't.id')
  let query = db
    .selectFrom('sites as t')
    .select((eb) => [
      eb.fn.countAll<number>().as('total'),
      sql<number>`coalesce(sum(case when t.due_on < ${span.today} then 1 else 0 end), 0)`.as('late'),
    ])
    .where((eb) => eb.and(conditions(eb, officeId, byDate)))
    .where((eb) => eb.and(betweenEnds(byDate)))
  if (found) query = query.where(found)
  const row = await query.executeTakeFirst()
  return { total: Number(row?.total ?? 0), late: Number(row?.late ?? 0) }
}

type Sites = ExpressionBuilder<OfficeTables & { t: OfficeTables['sites'] }, 't'>

type Asked = Ends & Pick<DuePage, 'filter' | 'span'>

/** Due within the span. In a stretch by date no later than its later end; in one by town or name said so that those lead, not the dates. */
function dueWithin(eb: Sites, { filter, span, sort, descending, after, stretch }: Asked): Expression<SqlBool>[] {
  if (stretch && sort !== 'dueOn') return [sql`coalesce(t.due_on, '9999-12-31') <= ${span.until}`]
  const dated = eb('t.due_on', 'is not', null)
  if (filter.planned !== undefined) return [dated, plannedWithin(filter.planned, span)]
  const end = stretch && (descending ? after : stretch.upTo)?.key
  return [dated, eb('t.due_on', '<=', end === undefined ? span.until : calendarDate(end))]
}

function conditions(eb: Sites, officeId: OfficeId, asked: Asked): Expression<SqlBool>[] {
  const { filter, span } = asked
  const all: Expression<SqlBool>[] = [
    eb('t.office_id', '=', officeId),
    eb('t.closed_on', 'is', null),
    ...dueWithin(eb, asked),
  ]
  if (filter.towns.length > 0) all.push(eb('t.town', 'in', filter.towns))
  if (filter.stages.length > 0)
    all.push(
      sql<boolean>`exists (select 1 from installations i join stages s on s.office_id = i.office_id and s.installation_id = i.id
        where i.office_id = t.office_id and i.site_id = t.id and i.removed_on is null and s.removed_on is null
        ${filter.planned === undefined ? sql`and s.due_on <= ${span.until}` : sql``} and s.kind in (${sql.join(filter.stages)}))`,
    )
  if (filter.letters === 'booked') all.push(sql<boolean>`exists (${BOOKED})`)
  else if (filter.letters === 'none') all.push(sql<boolean>`not exists (${LAST_LETTER}) and not exists (${BOOKED})`)
  else if (filter.letters !== 'any')
    all.push(sql<boolean>`(${LAST_LETTER}) = ${filter.letters} and not exists (${BOOKED})`)
  return all
}

/** The next visit is planned in a week, or its grace is over, and none is booked. As `look-ahead-store.ts` of the visits counts it. */
function plannedWithin(planned: CalendarDate | 'late', { today, lateBefore }: DueSpan): Expression<SqlBool> {
  if (planned === 'late')
    return sql`t.due_on < ${lateBefore} and not exists (${BOOKED}) and exists
      (select 1 from site_plans p where p.office_id = t.office_id and p.site_id = t.id and p.next_visit_on is not null)`
  // What was planned before today and is not late yet belongs to the present week.
  const from = planned === mondayOf(today) ? '' : planned
  return sql`t.due_on >= ${lateBefore} and not exists (${BOOKED}) and t.id in
    (select p.site_id from site_plans p where p.office_id = t.office_id and p.next_visit_on between ${from} and ${addDays(planned, 6)})`
}

const BOOKED = sql`select 1 from visits v where v.office_id = t.office_id and v.site_id = t.id and v.state = 'booked'`
/** A letter counts until a visit is done: then a new round begins. */
const LAST_LETTER = sql`select l.kind from letters l where l.office_id = t.office_id and l.site_id = t.id and l.taken_back = 0
  and not exists (select 1 from visits v where v.office_id = t.office_id and v.site_id = t.id and v.state = 'done' and v.done_on >= l.written_on)
  order by l.written_on desc, l.id desc limit 1`

/** Every stage of the households given, in flow order, unit after unit, with what its reason needs. */
export async function stagesOfSites(
  db: ReadDb,
  officeId: OfficeId,
  siteIds: readonly SiteId[],
): Promise<Map<SiteId, KeptStage[]>> {
  const bySite = new Map<SiteId, KeptStage[]>()
  if (siteIds.length === 0) return bySite
  // Units first, then their stages: each question walks its own index, whatever the database knows of the sizes.
  const units = await db
    .selectFrom('installations')
    .select('id')
    .where('office_id', '=', officeId)
    .where('site_id', 'in', [...siteIds])
    .where('removed_on', 'is', null)
    .execute()
  if (units.length === 0) return bySite
  const unitIds = units.map((unit) => unit.id)
  const rows = await db
    .selectFrom('stages as s')
    .innerJoin('installations as i', (join) =>
      join.onRef('i.id', '=', 's.installation_id').onRef('i.office_id', '=', 's.office_id'),
    )
    .innerJoin('sites as t', (join) => join.onRef('t.id', '=', 'i.site_id').onRef('t.office_id', '=', 'i.office_id'))
    .leftJoin('parts as p', (join) => join.onRef('p.id', '=', 's.part_id').onRef('p.office_id', '=', 's.office_id'))
    .select([
      'i.site_id',
      's.id as stageId',
      's.kind',
      's.label',
      's.fitted_on as changedOn',
      'i.installed_on as fittedOn',
      's.due_on as dueOn',
      's.due_rule as dueRule',
      's.due_reason as dueReason',
      'p.rated_ml as ratedMillilitres',
      't.months_away as monthsAway',
    ])
    .where('s.office_id', '=', officeId)
    .where('s.installation_id', 'in', unitIds)
    .where('s.removed_on', 'is', null)
    .orderBy('i.site_id')
    .orderBy('i.id')
    .orderBy('s.position')
    .execute()
  for (const { site_id, ...stage } of rows) {
    const own = bySite.get(site_id)
    if (own) own.push(stage)
    else bySite.set(site_id, [stage])
  }
  return bySite
}

/** The last letter of the round and the next booked visit of each household given. */
export async function lettersOfSites(db: ReadDb, officeId: OfficeId, siteIds: readonly SiteId[]) {
  if (siteIds.length === 0) return { letters: new Map(), booked: new Map<SiteId, CalendarDate>() }
  const letters = await db
    .selectFrom('letters as l')
    .select(['l.site_id', 'l.kind', 'l.written_on'])
    .where('l.office_id', '=', officeId)
    .where('l.site_id', 'in', [...siteIds])
    .where('l.taken_back', '=', 0)
    .where(
      sql<boolean>`not exists (select 1 from visits v where v.office_id = l.office_id and v.site_id = l.site_id and v.state = 'done' and v.done_on >= l.written_on)`,
    )
    .orderBy('l.written_on')
    .orderBy('l.id')
    .execute()
  const visits = await db
    .selectFrom('visits')
    .select(['site_id', 'visit_on'])
    .where('office_id', '=', officeId)
    .where('site_id', 'in', [...siteIds])
    .where('state', '=', 'booked')
    .orderBy('visit_on', 'desc')
    .execute()
  return {
    letters: new Map(letters.map((letter) => [letter.site_id, { kind: letter.kind, writtenOn: letter.written_on }])),
    booked: new Map(visits.map((visit) => [visit.site_id, visit.visit_on])),
  }
}

/** Towns of the office's open households, by name. */
export async function listTowns(db: ReadDb, officeId: OfficeId): Promise<string[]> {
  const rows = await db
    .selectFrom('sites')
    .select('town')
    .distinct()
    .where('office_id', '=', officeId)
    .where('town', '<>', '')
    .orderBy('town')
    .execute()
  return rows.map((row) => row.town)
}
