import { copyFileSync, mkdtempSync, rmSync } from 'node:fs'
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
    fitParts(file)
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

/** A part in every stage, as homes have them: what falls due of each part is listed, too. */
function fitParts(file: string): void {
  const raw = new Database(file)
  raw.pragma('synchronous = OFF')
  raw.exec(`insert into parts (office_id, number, name, stage_kind, gtin, price_cents, cost_cents, note)
    select 1, 'P-' || n.n || '-' || k.kind, k.kind, k.kind, '', 2000, 900, ''
    from (select distinct kind from stages) k, (select 1 as n union all select 2 union all select 3 union all select 4) n;
    update stages set part_id = (select min(p.id) from parts p where p.stage_kind = stages.kind) + 5 * (installation_id % 4)`)
  raw.close()
}

/** What SQLite alone needs, on a copy, to give every stage another date and reason and to list them by part again. */
function plainUpdate(file: string): number {
  const copy = `${file}.copy`
  copyFileSync(file, copy)
  const raw = new Database(copy)
  raw.pragma('synchronous = FULL')
  const listed = raw.prepare("select sql from sqlite_master where name = 'stages_in_want'").pluck().get() as string
  const begun = performance.now()
  raw.exec(`begin immediate; drop index stages_in_want;
    update stages set due_on = date(due_on, '+1 month'), due_rule = due_rule || '', due_reason = due_reason || '.'; ${listed}; commit`)
  const seconds = (performance.now() - begun) / 1000
  raw.close()
  for (const ending of ['', '-wal', '-shm']) rmSync(`${copy}${ending}`, { force: true })
  return seconds
}

/** All due dates from nothing, then when every clock has moved, and when none has; held against what SQLite alone needs. */
async function measureRecompute(file: string): Promise<MeasureLine[]> {
  const first = await recompute(file)
  const plain = plainUpdate(file)
  moveEveryClock(file)
  const moved = await recompute(file)
  const line = ({ changed, seconds }: Recomputed, how: string): MeasureLine => ({
    name: `due.recompute-all.${changed}-${how}`,
    value: seconds,
    unit: 's',
    ratio: seconds / plain,
    floor: 3,
  })
  return [
    line(first, 'from-nothing'),
    line(moved, 'changed'),
    line(await recompute(file), 'changed'),
    { name: 'due.recompute-all.plain-update', value: plain, unit: 's' },
  ]
}

interface Recomputed {
  readonly seconds: number
  /** Stages. */
  readonly changed: number
}

async function recompute(file: string): Promise<Recomputed> {
  const books = openDatabase(file)
  const asking = { officeId: FIRST_OFFICE, today, now, by: 'the bench', dialect: books.dialect }
  const begun = performance.now()
  const done = await writeBooks(books, asking, [], async (open) =>
    ok(await recomputeAllDueDates(open, { secondHand: secondHandFor(file) })),
  )
  const seconds = (performance.now() - begun) / 1000
  await books.close()
  if (!done.ok) throw new Error(done.problem.sentence)
  return { seconds, changed: done.value }
}

function moveEveryClock(file: string): void {
  const raw = new Database(file)
  raw.pragma('synchronous = OFF')
  raw.exec("update stages set fitted_on = date(fitted_on, '-40 days')")
  raw.close()
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
  const plain = plainUpdate(file)
  const again = async (how: string): Promise<MeasureLine> => {
    const { seconds } = await recompute(file)
    return {
      name: `due.recompute-all.with-readings.${how}`,
      value: seconds,
      unit: 's',
      ratio: seconds / plain,
      floor: 3,
    }
  }
  return [await again('moved'), await again('unmoved')]
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
