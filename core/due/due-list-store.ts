import { type Expression, type ExpressionBuilder, type SqlBool, sql } from 'kysely'
import type { PageEnd } from '../customers/customers-contract.ts'
import { searchCondition } from '../customers/search-store.ts'
import { searchWordsOf } from '../customers/search-words.ts'
import type { DialectName, ReadDb } from '../database/handles.ts'
import type { OfficeTables } from '../database/schema.ts'
import { addDays, type CalendarDate, mondayOf } from '../units/calendar-date.ts'
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
}

/** A page of the households that are due within the span: one walk along an index, in the order asked for. */
export async function listDueSites(db: ReadDb, dialect: DialectName, officeId: OfficeId, page: DuePage) {
  const { sort, descending, after } = page
  const direction = descending ? 'desc' : 'asc'
  const key =
    sort === 'dueOn' ? sql<string>`t.due_on` : sort === 'town' ? sql<string>`t.town` : sql<string>`c.sort_name`
  let query = db
    .selectFrom('sites as t')
    .innerJoin('customers as c', (join) =>
      join.onRef('c.id', '=', 't.customer_id').onRef('c.office_id', '=', 't.office_id'),
    )
    .select([
      't.id as siteId',
      't.customer_id as customerId',
      'c.sort_name as household',
      't.town',
      'c.phone',
      't.due_on as dueOn',
      'c.no_mail',
      'c.moved_on',
    ])
    .where((eb) => eb.and(conditions(eb, officeId, page.filter, page.span)))
    .orderBy(key, direction)
    .orderBy('t.id', direction)
    .limit(page.limit)
  const found = await searchCondition(db, dialect, officeId, searchWordsOf(page.filter.search), 't.id')
  if (found) query = query.where(found)
  if (after)
    query = query.where(sql<boolean>`(${key}, t.id) ${sql.raw(descending ? '<' : '>')} (${after.key}, ${after.id})`)
  return query.execute()
}

/** How many households are due within the span, and how many of them are late today. */
export async function countDueSites(
  db: ReadDb,
  dialect: DialectName,
  officeId: OfficeId,
  filter: DueFilter,
  span: DueSpan,
) {
  const found = await searchCondition(db, dialect, officeId, searchWordsOf(filter.search), 't.id')
  let query = db
    .selectFrom('sites as t')
    .select((eb) => [
      eb.fn.countAll<number>().as('total'),
      sql<number>`coalesce(sum(case when t.due_on < ${span.today} then 1 else 0 end), 0)`.as('late'),
    ])
    .where((eb) => eb.and(conditions(eb, officeId, filter, span)))
  if (found) query = query.where(found)
  const row = await query.executeTakeFirst()
  return { total: Number(row?.total ?? 0), late: Number(row?.late ?? 0) }
}

type Sites = ExpressionBuilder<OfficeTables & { t: OfficeTables['sites'] }, 't'>

function conditions(eb: Sites, officeId: OfficeId, filter: DueFilter, span: DueSpan): Expression<SqlBool>[] {
  const all: Expression<SqlBool>[] = [
    eb('t.office_id', '=', officeId),
    eb('t.closed_on', 'is', null),
    eb('t.due_on', 'is not', null),
    filter.planned === undefined ? eb('t.due_on', '<=', span.until) : plannedWithin(filter.planned, span),
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
