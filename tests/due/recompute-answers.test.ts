import fc from 'fast-check'
import { sql } from 'kysely'
import { describe, expect, test } from 'vitest'
import type { OpenBooks } from '../../core/answering.ts'
import { FIRST_OFFICE } from '../../core/desk-of-office.ts'
import { recomputeAllDueDates, recomputeDueDates } from '../../core/due/recompute-answers.ts'
import { STAGE_KIND_WORDS, type StageKind } from '../../core/installations/stage-kinds.ts'
import { ok, refused } from '../../core/result.ts'
import { addDays, calendarDate } from '../../core/units/calendar-date.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'

const KINDS = Object.keys(STAGE_KIND_WORDS) as StageKind[]
const someDay = fc
  .tuple(fc.integer({ min: 2019, max: 2026 }), fc.integer({ min: 1, max: 12 }), fc.integer({ min: 1, max: 28 }))
  .map(([year, month, day]) => `${year}-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}`)
const dayOrNone = fc.option(someDay, { freq: 3 })
const someStage = fc.record({
  kind: fc.constantFrom(...KINDS),
  fittedOn: dayOrNone,
  ownDueOn: fc.oneof({ weight: 3, arbitrary: fc.constant(null) }, { weight: 1, arbitrary: someDay }),
  ownDueUntil: dayOrNone,
  removedOn: fc.oneof({ weight: 7, arbitrary: fc.constant(null) }, { weight: 1, arbitrary: someDay }),
  /** What an earlier reckoning left; now and then nothing. */
  dueOn: dayOrNone,
})
const someUnitDrawn = fc.record({
  installedOn: dayOrNone,
  removedOn: fc.oneof({ weight: 5, arbitrary: fc.constant(null) }, { weight: 1, arbitrary: someDay }),
  dueOn: dayOrNone,
  stages: fc.array(someStage, { maxLength: 6 }),
})
/** A household as the test draws it: people, hardness, closed; units, removed or not, of stages. */
const someHousehold = fc.record({
  people: fc.option(fc.integer({ min: 1, max: 9 })),
  hardness: fc.option(fc.integer({ min: 0, max: 400 })),
  closedOn: fc.oneof({ weight: 5, arbitrary: fc.constant(null) }, { weight: 1, arbitrary: someDay }),
  dueOn: dayOrNone,
  units: fc.array(someUnitDrawn, { maxLength: 3 }),
})
type Household = typeof someHousehold extends fc.Arbitrary<infer Drawn> ? Drawn : never

async function emptyHouseholds(office: AnOffice): Promise<void> {
  for (const table of ['stages', 'installations', 'sites', 'customers'])
    await sql`delete from ${sql.table(table)}`.execute(office.database.write)
}

/** The earliest of its standing units, as every change keeps it; one that lost its last unit may have kept any date. */
function dueBefore({ dueOn, units }: Household): string | null {
  const standing = units.filter((unit) => unit.removedOn === null)
  if (standing.length === 0) return dueOn
  return standing.flatMap((unit) => unit.dueOn ?? []).sort()[0] ?? null
}

async function writeHouseholds(office: AnOffice, households: readonly Household[]): Promise<void> {
  const { write } = office.database
  for (const [at, household] of households.entries()) {
    const { people, hardness, closedOn, units } = household
    const dueOn = dueBefore(household)
    const n = at + 1
    await sql`insert into customers (id, office_id, reference, kind, sort_name, letter_name, salutation, phone, phone_note, email,
      mail_line1, mail_line2, mail_town, mail_region, mail_postal_code, mail_country, note, created_on)
      values (${n}, ${FIRST_OFFICE}, ${`R-${n}`}, 'person', 'Ashgrove', 'Ashgrove', '', '', '', '', '', '', '', '', '', '', '', '2021-03-01')`.execute(
      write,
    )
    await sql`insert into sites (id, office_id, customer_id, line1, line2, town, region, postal_code, country, access_note, water_source,
      hardness_mg_l, people, closed_on, due_on) values (${n}, ${FIRST_OFFICE}, ${n}, '', '', 'Saltgrass', 'XX', '', 'US', '', 'mains',
      ${hardness}, ${people}, ${closedOn}, ${dueOn})`.execute(write)
    // Units of one household lie far apart in the books: a later household's come in between.
    for (const [place, unit] of units.entries()) {
      const unitId = place * households.length + n
      await sql`insert into installations (id, office_id, site_id, name, installed_on, note, removed_on, due_on)
        values (${unitId}, ${FIRST_OFFICE}, ${n}, 'unit', ${unit.installedOn}, '', ${unit.removedOn}, ${unit.dueOn})`.execute(
        write,
      )
      for (const [index, stage] of unit.stages.entries())
        await sql`insert into stages (office_id, installation_id, position, kind, label, fitted_on, own_due_on, own_due_until, removed_on, due_on)
          values (${FIRST_OFFICE}, ${unitId}, ${index + 1}, ${stage.kind}, '', ${stage.fittedOn}, ${stage.ownDueOn}, ${stage.ownDueUntil},
          ${stage.removedOn}, ${stage.dueOn})`.execute(write)
    }
  }
}

/** Everything that a reckoning may have touched. */
async function whatStands(books: OpenBooks): Promise<unknown[]> {
  const stages = await sql`select * from stages order by installation_id, position, id`.execute(books.tx)
  const units = await sql`select * from installations order by id`.execute(books.tx)
  const sites = await sql`select * from sites order by id`.execute(books.tx)
  return [stages.rows, units.rows, sites.rows]
}

/** Runs a way of reckoning in a transaction that is then taken back, and says what it left and returned. */
async function reckoned(office: AnOffice, way: (books: OpenBooks) => Promise<number>) {
  let left: unknown[] = []
  let changed = 0
  await office.desk().write(async (books) => {
    changed = await way(books)
    left = await whatStands(books)
    return refused('WORK_STOPPED')
  })
  return { left, changed }
}

const indexesByDueDate = sql<{ name: string; sql: string }>`
  select name, sql from sqlite_master where type = 'index' and name in ('stages_in_want', 'sites_due') order by name`
const sizesByDueDate = sql<{ idx: string }>`
  select idx from sqlite_stat1 where idx = 'sites_due'`

describe.each(databases)('reckoning everything again on $name', ({ open }) => {
  test('DUE-17 everything at once writes the same as one stretch after the other, with the indexes made anew and without', async () => {
    const office = await anOffice(await open())
    await fc.assert(
      fc.asyncProperty(fc.array(someHousehold, { minLength: 1, maxLength: 12 }), async (households) => {
        await emptyHouseholds(office)
        await writeHouseholds(office, households)
        const plain = await reckoned(office, (books) =>
          recomputeDueDates(books, { kind: 'stretch', after: 0, until: 1_000_000 }),
        )
        expect(await reckoned(office, (books) => recomputeAllDueDates(books, { many: 1 }))).toEqual(plain)
        expect(await reckoned(office, (books) => recomputeAllDueDates(books))).toEqual(plain)
      }),
      { numRuns: 20 },
    )
  }, 120_000)

  test('DUE-17 where only the dates move, it comes to the same as from nothing', async () => {
    const office = await anOffice(await open())
    const moved = fc.tuple(fc.array(someHousehold, { minLength: 1, maxLength: 8 }), fc.integer({ min: 1, max: 40 }))
    await fc.assert(
      fc.asyncProperty(moved, async ([households, days]) => {
        await emptyHouseholds(office)
        await writeHouseholds(office, households)
        await office.desk().write(async (books) => ok(await recomputeAllDueDates(books)))
        const stages = await sql<{ id: number; fitted_on: string | null }>`select id, fitted_on from stages`.execute(
          office.database.write,
        )
        for (const { id, fitted_on: on } of stages.rows)
          if (on !== null)
            await sql`update stages set fitted_on = ${addDays(calendarDate(on), days)} where id = ${id}`.execute(
              office.database.write,
            )
        const ways = [
          (books: OpenBooks) => recomputeAllDueDates(books, { many: 1 }),
          (books: OpenBooks) => recomputeDueDates(books, { kind: 'stretch', after: 0, until: 1_000_000 }),
          async (books: OpenBooks) => {
            await sql`update stages set due_on = null, due_rule = '', due_reason = '' where removed_on is null
              and installation_id in (select id from installations where removed_on is null)`.execute(books.tx)
            return recomputeAllDueDates(books)
          },
        ] as const
        const [all, stretch, fromNothing] = [
          await reckoned(office, ways[0]),
          await reckoned(office, ways[1]),
          await reckoned(office, ways[2]),
        ]
        expect(all).toEqual(stretch)
        expect(all.left).toEqual(fromNothing.left)
      }),
      { numRuns: 15 },
    )
  }, 120_000)

  test('DUE-17 more stages than one statement takes, and more units than are read at once', async () => {
    const office = await anOffice(await open())
    const stage = { fittedOn: '2026-03-09', ownDueOn: null, ownDueUntil: null, removedOn: null, dueOn: null }
    const stages = (['sediment', 'membrane', 'tank'] as const).map((kind) => ({ ...stage, kind }))
    const unit = { installedOn: null, removedOn: null, dueOn: null, stages }
    const household = { people: 2, hardness: null, closedOn: null, dueOn: null, units: [unit, unit] }
    await writeHouseholds(office, Array(301).fill(household))
    const done = await office.desk().write(async (books) => ok(await recomputeAllDueDates(books, { many: 100 })))
    expect(done).toEqual({ ok: true, value: 301 * 2 * 3 })
    const { rows } = await sql<{ due_on: string; count: number }>`
      select due_on, count(*) as count from stages group by due_on order by due_on`.execute(office.database.write)
    // Twelve months for two people, the tank with it: once a year.
    expect(rows.map((row) => [row.due_on, Number(row.count)])[0]).toEqual(['2027-03-09', 301 * 2 * 2])
    const sites = await sql<{ due_on: string }>`select distinct due_on from sites`.execute(office.database.write)
    expect(sites.rows).toEqual([{ due_on: '2027-03-09' }])
    expect(await office.desk().write(async (books) => ok(await recomputeAllDueDates(books, { many: 100 })))).toEqual(
      ok(0),
    )
  }, 60_000)
})

describe('the indexes by due date on SQLite', () => {
  const sqlite = databases.find(({ name }) => name === 'SQLite')

  test('DUE-17 are there again afterwards with their sizes, and also when all is taken back half way', async () => {
    if (!sqlite) throw new Error('SQLite is always among the databases')
    const office = await anOffice(await sqlite.open())
    const { write } = office.database
    const stage = {
      kind: 'carbon' as const,
      fittedOn: '2026-03-09',
      ownDueOn: null,
      ownDueUntil: null,
      removedOn: null,
    }
    const unit = { installedOn: null, removedOn: null, dueOn: null, stages: [{ ...stage, dueOn: null }] }
    const household = { people: 2, hardness: null, closedOn: null, dueOn: null, units: [unit] }
    await writeHouseholds(office, Array(20).fill(household))
    const before = (await indexesByDueDate.execute(write)).rows
    expect(before.map(({ name }) => name)).toEqual(['sites_due', 'stages_in_want'])
    await reckoned(office, (books) => recomputeAllDueDates(books, { many: 1 }))
    expect((await indexesByDueDate.execute(write)).rows).toEqual(before)
    await office.desk().write(async (books) => ok(await recomputeAllDueDates(books, { many: 1 })))
    expect((await indexesByDueDate.execute(write)).rows).toEqual(before)
    expect((await sizesByDueDate.execute(write)).rows.map(({ idx }) => idx)).toEqual(['sites_due'])
    const check = await sql<{ integrity_check: string }>`pragma integrity_check`.execute(write)
    expect(check.rows).toEqual([{ integrity_check: 'ok' }])
  })
})
