import { describe, expect, test } from 'vitest'
import { FIRST_OFFICE } from '../../core/desk-of-office.ts'
import { DUE_SORTS, type DueFilter } from '../../core/due/due-contract.ts'
import { countDueSites, type DuePage, listDueSites } from '../../core/due/due-list-store.ts'
import { dueCount, dueSites } from '../../core/due/due-stretches-answers.ts'
import { addDays, calendarDate } from '../../core/units/calendar-date.ts'
import { newStage, someCustomer, someSite, someUnit } from '../builders/a-household.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'

const today = calendarDate('2026-12-01')
const span = { today, until: addDays(today, 400), lateBefore: addDays(today, -60) }
const everything: DueFilter = { withinDays: 400, towns: [], stages: [], letters: 'any', search: '' }
const FILTERS: readonly DueFilter[] = [
  everything,
  { ...everything, stages: ['membrane'] },
  { ...everything, stages: ['membrane'], towns: ['Pell Harbor', 'Saltgrass'] },
  { ...everything, letters: 'none' },
  { ...everything, letters: 'final' },
  { ...everything, search: 'fe' },
]

/** Seventeen households of few names and towns, so that a stretch ends in the middle of those that are called alike or fall due on one day. */
async function someHouseholds(office: AnOffice): Promise<void> {
  for (let n = 0; n < 17; n += 1) {
    const name = ['Ashgrove', 'Fenwick', 'Ivanek'][n % 3] ?? ''
    const { json } = await office.ask('households/create', {
      customer: someCustomer({ sortName: name, letterName: name }),
      site: someSite({ town: ['Pell Harbor', 'Saltgrass', 'Tollard Mill', 'Orrin Falls'][n % 4] ?? '' }),
    })
    const { siteId } = json as { siteId: number }
    const stages = [newStage(n % 5 === 0 ? 'membrane' : 'carbon', `2026-0${1 + (n % 4)}-10`)]
    if (n % 5 === 0) stages.push(newStage('sediment', '2026-03-10'))
    await office.ask('installations/create', { siteId, fields: someUnit(), stages })
  }
}

describe.each(databases)('a long list of what is due on $name', ({ open }) => {
  test('DUE-16 walked a stretch at a time it comes to the same pages and figures, in every order and however it is narrowed', async () => {
    const { database, desk, ...office } = await anOffice(await open())
    await someHouseholds({ ...office, database, desk })
    const { read, dialect } = database
    const asked = { read, dialect, officeId: FIRST_OFFICE }
    const keys = (rows: Awaited<ReturnType<typeof dueSites>>) => rows.map((row) => row.siteId)
    let seen = 0
    for (const filter of FILTERS) {
      const counted = await countDueSites(read, dialect, FIRST_OFFICE, { filter, span, after: null })
      seen += counted.total
      expect(await dueCount(asked, { filter, span }, { many: 3, atOnce: 4 })).toEqual(counted)
      for (const sort of DUE_SORTS)
        for (const descending of [false, true]) {
          let after: DuePage['after'] = null
          for (let pages = 0; pages < 3; pages += 1) {
            const page: DuePage = { filter, span, sort, descending, after, limit: 7 }
            const plain = await listDueSites(read, dialect, FIRST_OFFICE, page)
            expect(keys(await dueSites(asked, page, { many: 3, atOnce: 2 + pages }))).toEqual(keys(plain))
            const last = plain.at(-1)
            if (!last) break
            after = { key: last[sort] ?? '', id: last.siteId }
          }
        }
    }
    expect(seen).toBeGreaterThan(30)
  }, 60_000)
})
