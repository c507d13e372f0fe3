import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { openDatabase } from '../../core/database/open-books.ts'
import { writeBooks } from '../../core/database/write-books.ts'
import { FIRST_OFFICE } from '../../core/desk-of-office.ts'
import { recomputeAllDueDates } from '../../core/due/recompute-answers.ts'
import { type Office, openOffice } from '../../core/office.ts'
import { ok } from '../../core/result.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { secondHandFor } from '../../core/work/second-hand.ts'
import { writeManyHouseholds } from './many-households.ts'
import { type Measure, type MeasureLine, middleOf } from './measure.ts'

const today = calendarDate('2026-12-01')
const now = '2026-12-01T12:00:00.000Z'
const GOES = 15

/** All due dates, then pages of the list and of the search through the whole door, against bare SQL on the same file. */
async function measureDue(households: number): Promise<MeasureLine[]> {
  const folder = mkdtempSync(join(tmpdir(), 'penstock-bench-'))
  const file = join(folder, 'books.sqlite')
  try {
    await writeManyHouseholds(file, households)
    const recomputed = [...(await measureRecompute(file)), ...(await measureWithReadings(file))]
    const opened = await openOffice({
      database: file,
      clock: { today: () => today, now: () => now },
      log: () => {},
      threads: 'same',
    })
    if (!opened.ok) throw new Error(opened.problem.sentence)
    const raw = new Database(file, { readonly: true })
    try {
      return [...recomputed, ...(await measurePages(opened.value, raw, Math.floor(households / 2)))]
    } finally {
      raw.close()
      await opened.value.close()
    }
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

async function measureRecompute(file: string): Promise<MeasureLine[]> {
  const books = openDatabase(file)
  const secondHand = secondHandFor(file)
  const asking = { officeId: FIRST_OFFICE, today, now, by: 'the bench', dialect: books.dialect }
  const seconds = async () => {
    const begun = performance.now()
    const done = await writeBooks(books, asking, [], async (open) =>
      ok(await recomputeAllDueDates(open, { secondHand })),
    )
    if (!done.ok) throw new Error(done.problem.sentence)
    return { seconds: (performance.now() - begun) / 1000, changed: done.value }
  }
  const first = await seconds()
  const again = await seconds()
  await books.close()
  return [
    { name: `due.recompute-all.${first.changed}-changed`, value: first.seconds, unit: 's', floor: 3 },
    { name: `due.recompute-all.${again.changed}-changed`, value: again.seconds, unit: 's', floor: 3 },
  ]
}

/** Every third membrane is older than its neighbours and was measured four times. */
async function measureWithReadings(file: string): Promise<MeasureLine[]> {
  const raw = new Database(file)
  raw.pragma('synchronous = OFF')
  raw.exec(`update stages set fitted_on = '2023' || substr(fitted_on, 5) where kind = 'membrane' and installation_id % 3 = 0;
    insert into readings (office_id, installation_id, taken_on, tds_in_mg_l, tds_out_mg_l, note)
    select 1, i.id, t.taken_on, 400, t.tds_out + i.id % t.spread, '' from installations i
    join (select '2024-05-01' as taken_on, 30 as tds_out, 3 as spread union all select '2025-05-01', 36, 9
          union all select '2026-05-01', 44, 30 union all select '2026-09-01', 46, 40) t where i.id % 3 = 0`)
  raw.close()
  const [first, again] = await measureRecompute(file)
  return [first, again].flatMap((line, at) =>
    line ? [{ ...line, name: `due.recompute-all.with-readings.${at === 0 ? 'moved' : 'unmoved'}` }] : [],
  )
}

const PAGE = `select t.id, t.customer_id, c.sort_name, t.town, c.phone, t.due_on, c.no_mail, c.moved_on from sites t
  join customers c on c.office_id = t.office_id and c.id = t.customer_id
  where t.office_id = 1 and t.closed_on is null and t.due_on is not null and t.due_on <= '2026-12-29'`
const STAGES = `select i.site_id, s.id, s.kind, s.label, s.fitted_on, i.installed_on, s.due_on, s.due_rule, s.due_reason from installations i
  join stages s on s.office_id = i.office_id and s.installation_id = i.id
  where i.office_id = 1 and i.site_id in (select value from json_each(?)) and i.removed_on is null and s.removed_on is null order by i.site_id, i.id, s.position`

/** `one` is the household that the search for few is to find. */
async function measurePages(office: Office, raw: Database.Database, one: number): Promise<MeasureLine[]> {
  const few = `h${one}@`
  const stages = raw.prepare(STAGES)
  const withStages = (sites: readonly unknown[]) =>
    stages.all(JSON.stringify(sites.map((site) => (site as { id: number }).id)))
  const page = raw.prepare(`${PAGE} order by t.due_on, t.id limit 50`)
  const found = raw.prepare(`${PAGE} and t.id in (select k.site_id from site_search k where k.rowid in
    (select rowid from site_search_index where words match ?)) order by t.due_on, t.id limit 50`)
  const ledger =
    raw.prepare(`select t.id, c.sort_name, t.town from sites t join customers c on c.office_id = t.office_id and c.id = t.customer_id
    where t.office_id = 1 and t.id in (select k.site_id from site_search k where k.rowid in (select rowid from site_search_index where words match ?)) order by c.sort_name limit 50`)
  const due = {
    withinDays: 28,
    towns: [],
    stages: [],
    letters: 'any',
    sort: 'dueOn',
    descending: false,
    after: null,
    limit: 50,
  }
  const ledgerOf = { withClosed: false, sort: 'household', descending: false, after: null, limit: 50 }
  return [
    ...(await against('due.first-page', office, 'due/list', { ...due, search: '' }, () => withStages(page.all()))),
    ...(await against('due.search.few', office, 'due/list', { ...due, search: few }, () =>
      withStages(found.all(`"${few}"`)),
    )),
    ...(await against('due.search.many', office, 'due/list', { ...due, search: 'weirside' }, () =>
      withStages(found.all('"weirside"')),
    )),
    ...(await against('households.search.few', office, 'households/list', { ...ledgerOf, search: few }, () =>
      ledger.all(`"${few}"`),
    )),
    ...(await against('households.search.many', office, 'households/list', { ...ledgerOf, search: 'tollard' }, () =>
      ledger.all('"tollard"'),
    )),
  ]
}

/** Ours through the whole door against bare SQL; the floor is twice bare plus 5 ms. */
async function against(
  name: string,
  office: Office,
  path: string,
  input: object,
  bare: () => unknown,
): Promise<MeasureLine[]> {
  const ask = async () => {
    const response = await office.handle(
      new Request(`http://office/rpc/${path}`, {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify({ json: input }),
      }),
    )
    if (response.status !== 200) throw new Error(`${path}: ${await response.text()}`)
    return response.text()
  }
  const bareMs = await middleOf(GOES, bare)
  const ours = await middleOf(GOES, ask)
  return [
    { name, value: ours, unit: 'ms', ratio: ours / bareMs, floor: 2 * bareMs + 5 },
    { name: `${name}.bare-sql`, value: bareMs, unit: 'ms' },
  ]
}

export const measures: readonly Measure[] = [{ name: 'due', run: measureDue }]
