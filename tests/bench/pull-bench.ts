import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { openDatabase } from '../../core/database/open-books.ts'
import { FIRST_OFFICE } from '../../core/desk-of-office.ts'
import { type Office, openOffice } from '../../core/office.ts'
import { checkPickList } from '../../core/stock/check-pick-list.ts'
import { planPickList } from '../../core/stock/pick-list.ts'
import { readDay } from '../../core/stock/plan-pull-answers.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { mostWorthSolver, questionOfDay } from '../judges/visits-served-programme.ts'
import { writeEmptyBooks } from './many-households.ts'
import { type Measure, type MeasureLine, middle, middleOf } from './measure.ts'

const today = calendarDate('2026-12-01')
const ON = calendarDate('2026-12-02')
const [VANS, STOPS, PARTS, LOTS] = [10, 14, 1_000, 20_000]
/** What the issue asks for: through the door in the ordinary case, and with thirty parts short. */
const [ORDINARY_MS, SHORT_MS, SHORT_PARTS] = [50, 1_000, 30]
/** How long a request may keep everybody else from being answered. */
const HOLD_MS = 50
const GOES = 9

/** The pull of ten vans of fourteen stops: everything there; then thirty of the parts that the day needs short by one to three pieces. */
async function measurePull(): Promise<MeasureLine[]> {
  const folder = mkdtempSync(join(tmpdir(), 'penstock-bench-'))
  const file = join(folder, 'books.sqlite')
  try {
    await writeEmptyBooks(file)
    const chance = chanceFrom(20_261_202)
    writeWarehouse(file, chance)
    const ordinary = await measureDay(file, 'pull.day', ORDINARY_MS)
    const short = makeShort(file, chance)
    const worst = await measureDay(file, `pull.day.${short}-parts-short`, SHORT_MS)
    return [...ordinary, ...worst, ...(await againstProgramme(file))]
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

type Chance = (below: number) => number

/** Chance from a fixed seed. */
function chanceFrom(seed: number): Chance {
  let state = seed
  return (below) => {
    state = (state * 48_271) % 2_147_483_647
    return state % below
  }
}

async function measureDay(file: string, name: string, floor: number): Promise<MeasureLine[]> {
  const opened = await openOffice({
    database: file,
    clock: { today: () => today, now: () => `${today}T12:00:00.000Z` },
    log: () => {},
    threads: 'same',
  })
  if (!opened.ok) throw new Error(opened.problem.sentence)
  const books = openDatabase(file)
  const raw = new Database(file)
  raw.pragma('synchronous = OFF')
  try {
    // A plan is remembered: each go is another day to plan, by a minute of one window.
    const later = raw.prepare('update visits set window_from = window_from + 1 where id = 1')
    const newDay = () => {
      later.run()
      return askDay(opened.value)
    }
    // As in an office that has been open for a while: the first goes only warm the engine up.
    await middleOf(GOES, newDay)
    const door = await middleOf(GOES, newDay)
    const again = await middleOf(GOES, () => askDay(opened.value))
    const held = await longestHold(newDay)
    const asked = { read: books.read, officeId: FIRST_OFFICE }
    const seen = await readDay(asked, ON)
    const reading = await middleOf(GOES, () => readDay(asked, ON))
    const planning = await middleOf(GOES, () => planPickList(seen.input))
    const list = planPickList(seen.input)
    const judging = await middleOf(GOES, () => checkPickList(seen.input, list))
    const plan = list
    const lost = `${plan.losers.length}-of-${seen.toServe.length}-lose${plan.proved ? '' : '.best-found'}`
    return [
      { name: `${name}.door`, value: door, unit: 'ms', floor },
      { name: `${name}.door.again`, value: again, unit: 'ms' },
      { name: `${name}.longest-hold`, value: held, unit: 'ms', floor: HOLD_MS },
      { name: `${name}.reading`, value: reading, unit: 'ms' },
      { name: `${name}.planning.${lost}`, value: planning, unit: 'ms' },
      { name: `${name}.judging`, value: judging, unit: 'ms' },
    ]
  } finally {
    raw.close()
    await books.close()
    await opened.value.close()
  }
}

/** The longest time, of the middle go, that nobody else could be answered while a job ran. */
async function longestHold(job: () => Promise<void>): Promise<number> {
  const holds: number[] = []
  for (let go = 0; go < GOES; go += 1) {
    let [last, longest, isOver] = [performance.now(), 0, false]
    const look = () => {
      const now = performance.now()
      longest = Math.max(longest, now - last)
      last = now
      if (!isOver) setImmediate(look)
    }
    setImmediate(look)
    await job()
    look()
    isOver = true
    holds.push(longest)
  }
  return middle(holds)
}

async function askDay(office: Office): Promise<void> {
  const response = await office.handle(
    new Request('http://office/rpc/pull/day', {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ json: { on: ON } }),
    }),
  )
  if (response.status !== 200) throw new Error(await response.text())
  await response.text()
}

/** The same choice by an integer programme's solver (HiGHS), which has to come to the same worth. */
async function againstProgramme(file: string): Promise<MeasureLine[]> {
  const books = openDatabase(file)
  try {
    const seen = await readDay({ read: books.read, officeId: FIRST_OFFICE }, ON)
    const begun = performance.now()
    const plan = planPickList(seen.input)
    const ours = performance.now() - begun
    const lost = new Set(plan.losers.map((loser) => loser.visitId))
    const worth = seen.input.visits.reduce((sum, visit) => sum + (lost.has(visit.visitId) ? 0 : visit.worth), 0)
    const mostWorth = await mostWorthSolver()
    const from = performance.now()
    const most = mostWorth(questionOfDay(seen.input))
    const theirs = performance.now() - from
    if (plan.proved && most !== worth) throw new Error(`${worth} points served, the programme serves ${most}`)
    return [
      { name: 'pull.choice.programme', value: theirs, unit: 'ms', ratio: ours / theirs },
      { name: 'pull.choice.worth-of-the-most', value: (100 * worth) / most, unit: '%' },
    ]
  } finally {
    await books.close()
  }
}

/** A thousand parts in twenty lots each, ten vans of fourteen stops with four parts each, some common and most rare, and consumables. */
function writeWarehouse(file: string, chance: Chance): void {
  const db = new Database(file)
  db.pragma('foreign_keys = ON')
  db.pragma('synchronous = OFF')
  const part = db.prepare(
    `insert into parts (office_id, number, name, gtin, price_cents, cost_cents, note, per_visit_quantity, van_par, space_ml) values (1, ?, ?, '', 2400, 900, '', ?, ?, ?)`,
  )
  const substitute = db.prepare(
    'insert into part_substitutes (office_id, part_id, substitute_id, rank) values (1, ?, ?, 1)',
  )
  const place = db.prepare(
    `insert into places (office_id, kind, code, aisle, walk_order) values (1, ?, ?, '', ?) returning id`,
  )
  const lot = db.prepare(
    `insert into lots (office_id, part_id, code, expires_on, received_on, cost_cents, recall_note) values (1, ?, ?, ?, '2026-06-01', 900, '') returning id`,
  )
  const movement = db.prepare(
    `insert into movements (office_id, part_id, lot_id, to_place_id, quantity, reason, moved_on, moved_at, by_whom, note) values (1, ?, ?, ?, ?, 'receive', '2026-06-01', '2026-06-01T08:00:00.000Z', 'bench', '')`,
  )
  const keyOf = (row: unknown): number => Number((row as { id: number }).id)
  db.transaction(() => {
    const bins = Array.from({ length: 400 }, (_, bin) =>
      keyOf(place.get('bin', `A-${String(bin + 1).padStart(3, '0')}`, bin + 1)),
    )
    for (let id = 1; id <= PARTS; id += 1)
      part.run(`P-${1000 + id}`, `Part ${id}`, id <= 3 ? 1 : 0, id <= 20 ? 2 : 0, id % 2 === 0 ? 800 : null)
    for (let id = 30; id <= PARTS - 1; id += 10) substitute.run(id, id + 1)
    for (let each = 0; each < LOTS; each += 1) {
      const partId = 1 + (each % PARTS)
      const month = String(1 + chance(12)).padStart(2, '0')
      const lotId = keyOf(lot.get(partId, `L-${each}`, `${2027 + chance(3)}-${month}-15`))
      movement.run(partId, lotId, bins[chance(bins.length)], partId <= 3 ? 40 : 1 + chance(4))
    }
    writeVisits(db, keyOf(place.get('van', 'spare', 0)), chance)
  })()
  db.close()
}

function writeVisits(db: Database.Database, _spare: number, chance: Chance): void {
  const keyOf = (row: unknown): number => Number((row as { id: number }).id)
  const technician = db.prepare(
    `insert into technicians (office_id, name, short_name, phone, workdays, starts_at, ends_at, minutes_a_day) values (1, ?, ?, '555-0130', '12345', 480, 1020, 480) returning id`,
  )
  const place = db.prepare(
    `insert into places (office_id, kind, code, aisle, walk_order) values (1, 'van', ?, '', 0) returning id`,
  )
  const van = db.prepare(
    'insert into vans (office_id, name, place_id, technician_id, space_ml) values (1, ?, ?, ?, 400000)',
  )
  const customer =
    db.prepare(`insert into customers (office_id, reference, kind, sort_name, letter_name, salutation, phone, phone_note, email, mail_line1, mail_line2, mail_town, mail_region, mail_postal_code, mail_country, note, created_on)
    values (1, ?, 'person', ?, ?, '', '555-0142', '', '', '', '', '', '', '', '', '', '2021-03-01') returning id`)
  const site =
    db.prepare(`insert into sites (office_id, customer_id, line1, line2, town, region, postal_code, country, latitude, longitude, access_note, water_source)
    values (1, ?, ?, '', 'Tollard Mill', 'XX', '00142', 'US', ?, ?, '', 'mains') returning id`)
  const visit =
    db.prepare(`insert into visits (office_id, site_id, technician_id, visit_on, window_from, window_until, planned_minutes, route_position, state, reason, note, remarks, booked_at, promised)
    values (1, ?, ?, ?, ?, ?, 40, ?, 'booked', '', '', '', '2026-11-20T09:00:00.000Z', ?) returning id`)
  const task = db.prepare(
    `insert into visit_tasks (office_id, visit_id, kind, part_id, quantity, description, state, position) values (1, ?, 'other', ?, ?, '', 'planned', ?)`,
  )
  for (let number = 1; number <= VANS; number += 1) {
    const technicianId = keyOf(technician.get(`Driver ${number}`, `Driver ${number}`))
    van.run(`van ${number}`, keyOf(place.get(`van ${number}`)), technicianId)
    for (let stop = 1; stop <= STOPS; stop += 1) {
      const name = `Household ${number}-${stop}`
      const siteId = keyOf(
        site.get(
          keyOf(customer.get(name, name, name)),
          `${stop} Weirside Lane`,
          40 + chance(3000) / 10_000,
          -80 + chance(3000) / 10_000,
        ),
      )
      const from = 480 + stop * 30
      const visitId = keyOf(visit.get(siteId, technicianId, ON, from, from + 120, stop, chance(8) === 0 ? 1 : 0))
      // Half the wants are for fifty common parts, the others for any.
      for (let position = 1; position <= 4; position += 1)
        task.run(
          visitId,
          position % 2 === 0 ? 10 + chance(50) : 10 + chance(PARTS - 10),
          1 + (chance(6) === 0 ? 1 : 0),
          position,
        )
    }
  }
}

/** Takes pieces of thirty of the most wanted parts away until one to three are missing; how many parts that are. */
function makeShort(file: string, chance: Chance): number {
  const db = new Database(file)
  const wanted = db
    .prepare(
      `select part_id as part, sum(quantity) as pieces from visit_tasks group by part_id order by pieces desc, part_id limit ${SHORT_PARTS}`,
    )
    .all() as { part: number; pieces: number }[]
  const heaps = db.prepare(
    `select b.lot_id as lot, b.place_id as place, b.quantity as pieces from balances b join lots l on l.id = b.lot_id where l.part_id = ? and b.quantity > 0 order by l.expires_on desc`,
  )
  const movement = db.prepare(
    `insert into movements (office_id, part_id, lot_id, from_place_id, quantity, reason, moved_on, moved_at, by_whom, note) values (1, ?, ?, ?, ?, 'scrap', '2026-11-30', '2026-11-30T08:00:00.000Z', 'bench', 'bench')`,
  )
  db.transaction(() => {
    for (const { part, pieces } of wanted) {
      const rows = heaps.all(part) as { lot: number; place: number; pieces: number }[]
      let over = rows.reduce((sum, row) => sum + row.pieces, 0) - Math.max(0, pieces - 1 - chance(3))
      for (const row of rows) {
        const away = Math.min(over, row.pieces)
        if (away <= 0) break
        movement.run(part, row.lot, row.place, away)
        over -= away
      }
    }
  })()
  db.close()
  return wanted.length
}

export const measures: readonly Measure[] = [{ name: 'pull', run: measurePull }]
