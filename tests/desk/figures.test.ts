import fc from 'fast-check'
import { CompiledQuery } from 'kysely'
import { afterEach, describe, expect, test } from 'vitest'
import type { OpenDatabase } from '../../core/database/handles.ts'
import { migrateBooks } from '../../core/database/migrate.ts'
import { openSqlite } from '../../core/database/open-sqlite.ts'
import { hasManyDueQuery } from '../../core/desk/desk-store.ts'
import { FIRST_OFFICE } from '../../core/desk-of-office.ts'
import { stagesDueByPartQuery, stagesInWantQuery } from '../../core/orders/demand-store.ts'
import { addDays, calendarDate } from '../../core/units/calendar-date.ts'
import { aMailedHousehold } from '../builders/a-mailed-household.ts'
import { aLot, aPart, aPlace, aSupplier } from '../builders/a-warehouse.ts'
import { anOffice } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'

const DAY = calendarDate('2026-12-29')
let books: OpenDatabase | null = null
afterEach(async () => {
  await books?.close()
  books = null
})

async function emptyBooks(): Promise<OpenDatabase> {
  const opened = openSqlite(':memory:')
  books = opened
  await migrateBooks(opened, null)
  return opened
}

async function planOf({ write }: OpenDatabase, query: { compile: () => CompiledQuery }): Promise<string> {
  const { sql, parameters } = query.compile()
  const { rows } = await write.executeQuery<{ detail: string }>(
    CompiledQuery.raw(`explain query plan ${sql}`, [...parameters]),
  )
  return rows.map((row) => row.detail).join('; ')
}

test('DESK-6 the office is found to be large by walking its due households in their order, no further than it must', async () => {
  const opened = await emptyBooks()
  const plan = await planOf(opened, hasManyDueQuery(opened.read, FIRST_OFFICE, DAY, 2000))
  expect(plan).toContain('INDEX sites_due')
  expect(plan).not.toContain('TEMP B-TREE')
})

/** What SQLite has counted in an office of 100,000 households and 1,000 parts. */
const SIZES_OF_A_LARGE_OFFICE = [
  ['stages', 'stages_in_want', '400000 400000 400 2 2 2'],
  ['stages', 'stages_by_part', '500000 500000 500'],
  ['stages', 'stages_by_installation', '500000 500000 5 1'],
  ['parts', 'sqlite_autoindex_parts_2', '1000 1000 1'],
] as const

async function feelLarge({ write }: OpenDatabase): Promise<void> {
  const run = (statement: string, values: readonly string[] = []) =>
    write.executeQuery(CompiledQuery.raw(statement, [...values]))
  await run('analyze')
  await run("delete from sqlite_stat1 where tbl in ('stages', 'parts')")
  for (const row of SIZES_OF_A_LARGE_OFFICE) await run('insert into sqlite_stat1 values (?, ?, ?)', row)
  await run('analyze sqlite_schema')
}

test('ORD-2 the stages in want of a part are counted along their own index, which holds all that is asked', async () => {
  const opened = await emptyBooks()
  await feelLarge(opened)
  expect(await planOf(opened, stagesDueByPartQuery(opened.read, FIRST_OFFICE, DAY, DAY))).toContain(
    'COVERING INDEX stages_in_want',
  )
  expect(await planOf(opened, stagesInWantQuery(opened.read, FIRST_OFFICE, DAY))).toContain(
    'COVERING INDEX stages_in_want',
  )
})

const TODAY = calendarDate('2026-12-01')

describe.each(databases)('the trays on $name', ({ open }) => {
  test('DESK-6 whatever stands in the books, the trays count what the sheets of letters and orders list', async () => {
    const households = fc.array(fc.record({ dueIn: fc.integer({ min: -200, max: 90 }), noMail: fc.boolean() }), {
      minLength: 1,
      maxLength: 12,
    })
    const office = await anOffice(await open(), TODAY)
    const { write } = office.database
    const bin = await aPlace(write, 'A-02-1', 10)
    let written = 0
    await fc.assert(
      fc.asyncProperty(households, fc.integer({ min: 0, max: 3 }), async (rows, least) => {
        for (const { dueIn, noMail } of rows) {
          written += 1
          await aMailedHousehold(office.database, { reference: `R-${written}`, dueOn: addDays(TODAY, dueIn), noMail })
        }
        written += 1
        const partId = await aPart(write, `P-${written}`)
        await aSupplier(write, `Supplier ${written}`, [{ partId, price: 100, packSize: 2 }])
        await aLot(write, { partId, code: `L-${written}`, placeId: bin, pieces: 1 })
        await write.updateTable('parts').set({ reorder_point: least }).where('id', '=', partId).execute()
        const trays = (await office.ask('desk/trays')).json as { tray: string; count: number }[]
        const countOf = (tray: string) => trays.find((each) => each.tray === tray)?.count
        const owed = (await office.ask('letters/owed')).json as { rows: unknown[] }
        const short = (await office.ask('orders/proposals')).json as { groups: { proposals: unknown[] }[] }
        expect(countOf('letters')).toBe(owed.rows.length)
        expect(countOf('orders')).toBe(short.groups.reduce((sum, group) => sum + group.proposals.length, 0))
      }),
      { numRuns: 6 },
    )
  }, 60_000)
})
