import { describe, expect, test } from 'vitest'
import type { OpenDatabase } from '../../core/database/handles.ts'
import { FIRST_OFFICE } from '../../core/desk-of-office.ts'
import { writtenRunSchema } from '../../core/letters/write-letters.ts'
import { writeSettings } from '../../core/settings/settings-store.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { cents, taxRate } from '../../core/units/money.ts'
import { WORKS } from '../../core/works.ts'
import { aMailedHousehold } from '../builders/a-mailed-household.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'
import { readPdf, wordsOn } from '../judges/read-pdf.ts'

async function printed(office: AnOffice, address: string): Promise<Buffer> {
  const response = await office.handle(new Request(`http://office/papers/letters/${address}.pdf`))
  expect(response.status).toBe(200)
  return Buffer.from(await response.arrayBuffer())
}

/** A household with two units, so that each has its heading on the letter. */
async function twoUnits(books: OpenDatabase): Promise<void> {
  const { write, read } = books
  await aMailedHousehold(books, { reference: 'BM-0417', dueOn: '2026-12-10' })
  const first = await read.selectFrom('installations').selectAll().executeTakeFirstOrThrow()
  const stage = await read.selectFrom('stages').selectAll().where('kind', '=', 'carbon').executeTakeFirstOrThrow()
  const { id: _unit, ...unit } = first
  const { id: installation_id } = await write
    .insertInto('installations')
    .values({ ...unit, name: 'The unit in the tea room' })
    .returning('id')
    .executeTakeFirstOrThrow()
  const { id: _stage, ...copied } = stage
  await write
    .insertInto('stages')
    .values({ ...copied, installation_id, position: 1 })
    .execute()
}

async function aRun(office: AnOffice): Promise<number> {
  const written = await WORKS['write-letters']?.run(
    { ...office.desk(), progress: async () => true },
    { kinds: ['first'], customerIds: null },
  )
  return writtenRunSchema.parse(written?.ok ? written.value : null).runId
}

const NEW_OFFICE = {
  name: 'Saltgrass Water',
  ...{ line1: '9 Ropewalk', line2: 'Unit 3', town: 'Saltgrass', postal_code: '00177' },
  ...{ phone: '555-0177', email: 'desk@saltgrass.example.com' },
}

/** What an office may change after a run was printed, one after the other. */
const CHANGES: readonly (readonly [what: string, change: (office: AnOffice) => Promise<unknown>])[] = [
  ['the office’s name and address', ({ database }) => database.write.updateTable('offices').set(NEW_OFFICE).execute()],
  [
    'the country, its dates and its money',
    ({ database }) =>
      writeSettings(database.write, FIRST_OFFICE, { locale: 'de-DE', currency: 'EUR', measures: 'metric' }),
  ],
  [
    'the sheet and its envelope',
    ({ database }) => writeSettings(database.write, FIRST_OFFICE, { pageSize: 'a4', windowEnvelope: 'din-5008-b' }),
  ],
  [
    'the price of a call, labour, tax and who sits at the desk',
    ({ database }) =>
      writeSettings(database.write, FIRST_OFFICE, {
        ...{ callOutCents: cents(9900), labourCentsPerHour: cents(5000), taxRate: taxRate(19_000) },
        personAtDesk: 'Corinne Abernathy-Vance',
      }),
  ],
  [
    'the wording',
    async (office) =>
      expect(
        (
          await office.ask('letters/saveWording', {
            ...{ kind: 'first', subject: 'Other words: {due}', body: 'Other words.', answer: 'Ring.', version: 0 },
          })
        ).status,
      ).toBe(200),
  ],
  ['a stage’s name', ({ database }) => database.write.updateTable('stages').set({ label: 'Chalk trap' }).execute()],
  ['what a stage is', ({ database }) => database.write.updateTable('stages').set({ kind: 'softener' }).execute()],
  ['a unit’s name', ({ database }) => database.write.updateTable('installations').set({ name: 'Cellar' }).execute()],
  [
    'the household’s address',
    ({ database }) =>
      database.write.updateTable('sites').set({ line1: '99 Elsewhere Rd', town: 'Nether Quay' }).execute(),
  ],
  [
    'the customer’s name',
    ({ database }) =>
      database.write
        .updateTable('customers')
        .set({ letter_name: 'Somebody Else', salutation: 'Dear Somebody' })
        .execute(),
  ],
  [
    'a part’s price',
    ({ database }) =>
      database.write
        .updateTable('parts')
        .set({ price_cents: cents(1) })
        .execute(),
  ],
  [
    'a due date',
    ({ database }) =>
      database.write
        .updateTable('stages')
        .set({ due_on: calendarDate('2029-01-01') })
        .execute(),
  ],
]

describe.each(databases)('a reprint from $name', ({ open }) => {
  test('LET-13 whatever the office changes afterwards, the reprint is the same to the byte', async () => {
    const books = await open()
    const office = await anOffice(books, '2026-11-25')
    await twoUnits(books)
    const runId = await aRun(office)
    const { id: letterId } = await books.read.selectFrom('letters').select('id').executeTakeFirstOrThrow()
    const whole = await printed(office, `${runId}`)
    const one = await printed(office, `${runId}/${letterId}`)
    const { pages } = await readPdf(whole)
    expect(pages.map(wordsOn).join(' ')).toContain('The unit in the tea room, 7 Millrace Ct')
    for (const [what, change] of CHANGES) {
      await change(office)
      expect((await printed(office, `${runId}`)).equals(whole), what).toBe(true)
      expect((await printed(office, `${runId}/${letterId}`)).equals(one), what).toBe(true)
    }
  })

  test('LET-13 a run from before its letterhead was kept is printed with the office of today', async () => {
    const books = await open()
    const office = await anOffice(books, '2026-11-25')
    await twoUnits(books)
    const runId = await aRun(office)
    const nothing = { sender_name: null, sender_particulars: null, sender_line: null, locale: null }
    await books.write.updateTable('letter_runs').set(nothing).execute()
    await books.write.updateTable('letter_stages').set({ installation_id: null, unit: null }).execute()
    await books.write.updateTable('offices').set(NEW_OFFICE).execute()
    await books.write.updateTable('installations').set({ name: 'Cellar' }).execute()
    const { pages } = await readPdf(await printed(office, `${runId}`))
    const words = pages.map(wordsOn).join(' ')
    expect(words).toContain('Saltgrass Water')
    expect(words).toContain('9 Ropewalk, Unit 3, Saltgrass · 555-0177 · desk@saltgrass.example.com')
    expect(words).toContain('Cellar, 7 Millrace Ct')
  })
})
