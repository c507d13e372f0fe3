import Database from 'better-sqlite3'
import { addDays, calendarDate } from '../../core/units/calendar-date.ts'

const today = calendarDate('2026-12-01')
const KINDS = ['sediment', 'carbon', 'membrane', 'post-carbon'] as const

/** Whole numbers below a bound, the same in every run. */
function chanceFrom(seed: number): (below: number) => number {
  let state = seed
  return (below) => {
    state = (state * 48_271) % 2_147_483_647
    return state % below
  }
}

/**
 * Fills the books of many households with what a reorder rests on: `parts` parts of twenty suppliers, one fitted in every stage that is
 * changed, two lots of each on hand, two years of letters of which four in ten led to a visit, and visits that are booked.
 */
export function stockTheOffice(file: string, parts: number): void {
  const db = new Database(file)
  db.pragma('synchronous = OFF')
  db.pragma('cache_size = -600000')
  const chance = chanceFrom(20_261_201)
  db.transaction(() => {
    writeParts(db, parts, chance)
    // Every stage has a part of its kind: its own number scattered over the parts of that kind
    KINDS.forEach((kind, at) => {
      const own = Math.floor(parts / KINDS.length)
      db.prepare(
        `update stages set part_id = 1 + ${at} + ${KINDS.length} * (((id / 5) * 7919) % ${own}) where kind = ?`,
      ).run(kind)
    })
    writeLetters(db, chance)
    writeBookedVisits(db)
  })()
  db.close()
}

function writeParts(db: Database.Database, parts: number, chance: (below: number) => number): void {
  const supplier = db.prepare(
    `insert into suppliers (office_id, name, account, line1, line2, town, region, postal_code, country, phone, email, lead_time_days, minimum_order_cents, note)
     values (1, ?, '', '', '', '', '', '', '', '', '', ?, ?, '')`,
  )
  for (let n = 1; n <= 20; n += 1) supplier.run(`Supplier ${n}`, 5 + (n % 4) * 7, (n % 3) * 20_000)
  db.prepare(`insert into places (office_id, kind, code, aisle, walk_order) values (1, 'bin', 'A-01-1', '', 1)`).run()
  const { id: bin } = db.prepare('select max(id) as id from places').get() as { id: number }
  const part = db.prepare(
    `insert into parts (office_id, number, name, stage_kind, gtin, price_cents, cost_cents, shelf_months, per_visit_quantity, note)
     values (1, ?, ?, ?, '', 2400, 900, ?, ?, '')`,
  )
  const term = db.prepare(
    `insert into supplier_terms (office_id, supplier_id, part_id, supplier_number, price_cents, pack_size, minimum_quantity, preferred)
     values (1, ?, ?, '', 900, ?, 0, 1)`,
  )
  const priceBreak = db.prepare(
    `insert into price_breaks (office_id, term_id, from_quantity, price_cents) values (1, ?, ?, ?)`,
  )
  const lot = db.prepare(
    `insert into lots (office_id, part_id, code, expires_on, received_on, cost_cents, recall_note) values (1, ?, ?, ?, '2026-09-01', 900, '')`,
  )
  const moved = db.prepare(
    `insert into movements (office_id, part_id, lot_id, to_place_id, quantity, reason, moved_on, moved_at, by_whom, note)
     values (1, ?, ?, ?, ?, 'receive', '2026-09-01', '2026-09-01T08:00:00.000Z', 'the bench', '')`,
  )
  for (let n = 1; n <= parts; n += 1) {
    const partId = part.run(
      `P-${n}`,
      `Part ${n}`,
      KINDS[(n - 1) % KINDS.length],
      n % 5 === 0 ? 24 : null,
      n === 2 ? 1 : 0,
    ).lastInsertRowid
    const termId = term.run(1 + (n % 20), partId, [1, 6, 12][n % 3]).lastInsertRowid
    if (n % 2 === 0) priceBreak.run(termId, 50, 850)
    for (const expiresOn of [addDays(today, 30 + chance(300)), addDays(today, 400 + chance(600))]) {
      const lotId = lot.run(partId, `L-${n}-${expiresOn}`, n % 5 === 0 ? expiresOn : null).lastInsertRowid
      moved.run(partId, lotId, bin, 1 + chance(30))
    }
  }
}

const LETTERS = 30_000

function writeLetters(db: Database.Database, chance: (below: number) => number): void {
  db.prepare(
    `insert into letter_runs (office_id, name, written_on, written_at, by_whom, letters, page_size, window_envelope, taken_back_reason)
     values (1, 'Run', '2026-11-01', '2026-11-01T09:00:00.000Z', 'the bench', ?, 'letter', 'us-10', '')`,
  ).run(LETTERS)
  const { id: runId } = db.prepare('select max(id) as id from letter_runs').get() as { id: number }
  const letter = db.prepare(
    `insert into letters (office_id, run_id, customer_id, site_id, kind, written_on, due_on, position, reference, address, salutation, subject, body,
       answer, cautions, currency, net_cents, tax_cents, total_cents)
     values (1, ?, ?, ?, 'first', ?, ?, ?, '', '', '', '', '', '', '', 'USD', 0, 0, 0)`,
  )
  const visit = db.prepare(
    `insert into visits (office_id, site_id, visit_on, window_from, window_until, planned_minutes, state, reason, note, done_on, remarks, booked_at, letter_id)
     values (1, ?, ?, 480, 600, 40, 'done', '', '', ?, '', ?, ?)`,
  )
  const { sites } = db.prepare('select count(*) as sites from sites').get() as { sites: number }
  for (let n = 1; n <= Math.min(LETTERS, sites); n += 1) {
    const writtenOn = addDays(today, -chance(730))
    const { customer_id } = db.prepare('select customer_id from sites where id = ?').get(n) as { customer_id: number }
    const letterId = letter.run(runId, customer_id, n, writtenOn, addDays(writtenOn, 30), n).lastInsertRowid
    const bookedOn = addDays(writtenOn, 1 + chance(40))
    const visitOn = addDays(bookedOn, 3 + chance(20))
    if (chance(10) < 4 && visitOn < today) visit.run(n, visitOn, visitOn, `${bookedOn}T10:00:00.000Z`, letterId)
  }
}

/** Two thousand visits of the next four weeks, each to change all that is fitted there. */
function writeBookedVisits(db: Database.Database): void {
  const visit = db.prepare(
    `insert into visits (office_id, site_id, visit_on, window_from, window_until, planned_minutes, state, reason, note, remarks, booked_at)
     values (1, ?, ?, 480, 600, 40, 'booked', '', '', '', '2026-11-20T10:00:00.000Z')`,
  )
  const task = db.prepare(
    `insert into visit_tasks (office_id, visit_id, kind, stage_id, part_id, quantity, description, state, position)
     select 1, ?, 'change', g.id, g.part_id, 1, '', 'planned', g.position from stages g join installations i on i.id = g.installation_id
     where i.site_id = ? and g.kind <> 'tank'`,
  )
  const { sites } = db.prepare('select count(*) as sites from sites').get() as { sites: number }
  for (let n = 1; n <= Math.min(2000, sites / 4); n += 1) {
    const siteId = sites - n
    task.run(visit.run(siteId, addDays(today, 1 + (n % 28))).lastInsertRowid, siteId)
  }
}
