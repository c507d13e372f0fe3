import { Migrator } from 'kysely/migration'
import { expect, test } from 'vitest'
import { openSqlite } from '../../core/database/open-sqlite.ts'
import { FIRST_OFFICE } from '../../core/desk-of-office.ts'
import { findRun } from '../../core/letters/runs-store.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { MIGRATIONS } from '../../migrations/list.ts'

const STEP = '0005-what-a-letter-was-printed-with'

test('LET-13 a run from before its letterhead was kept stays, and says that it has none', async () => {
  const { write, read, close } = openSqlite(':memory:')
  const upTo = (last: string) =>
    new Migrator({
      db: write,
      provider: {
        getMigrations: async () => Object.fromEntries(Object.entries(MIGRATIONS).filter(([name]) => name <= last)),
      },
    }).migrateToLatest()
  const before = Object.keys(MIGRATIONS)
    .filter((name) => name < STEP)
    .sort()
    .at(-1)
  expect((await upTo(before ?? '')).error).toBeUndefined()
  await write
    .insertInto('offices')
    .values({
      id: FIRST_OFFICE,
      name: 'Larkmoor Water',
      ...{ line1: '4 Sluice Yard', line2: '', town: 'Tollard Mill', region: 'XX', postal_code: '00142', country: 'US' },
      ...{ phone: '555-0100', email: '', latitude: null, longitude: null, founded_at: '2021-03-01T09:00:00.000Z' },
    })
    .execute()
  const { id } = await write
    .insertInto('letter_runs')
    .values({
      office_id: FIRST_OFFICE,
      name: 'Nov 1: 3 first letters',
      written_on: calendarDate('2026-11-01'),
      written_at: '2026-11-01T09:00:00.000Z',
      ...{ by_whom: 'the office', letters: 3, page_size: 'letter', window_envelope: 'us-10', taken_back_reason: '' },
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  expect((await upTo(STEP)).error).toBeUndefined()
  expect(await findRun(read, FIRST_OFFICE, id)).toMatchObject({
    name: 'Nov 1: 3 first letters',
    letters: 3,
    sender: null,
  })
  await close()
})
