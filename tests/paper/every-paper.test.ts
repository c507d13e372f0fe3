import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { openSqlite } from '../../core/database/open-sqlite.ts'
import { type Office, openOffice } from '../../core/office.ts'
import { PAGE_SIZES } from '../../core/paper/page-geometry.ts'
import { addDays, calendarDate } from '../../core/units/calendar-date.ts'
import { WORKS } from '../../core/works.ts'
import { clockAt } from '../builders/an-office.ts'
import { contentStreams, nestingFaults } from '../judges/content-streams.ts'

const TODAY = '2026-12-01'
/** Tagged; nothing doubtful about it. As pdf.js tells it. */
const MARKED = new Map([
  ['Marked', true],
  ['UserProperties', false],
  ['Suspects', false],
])
const papers = new Map<string, Uint8Array>()

/** Every paper that the program prints, from a demo office. */
beforeAll(async () => {
  const books = openSqlite(':memory:')
  const opened = await openOffice({ database: books, clock: clockAt(TODAY), log: () => {}, threads: 'same' })
  if (!opened.ok) throw new Error(opened.problem.sentence)
  const office = opened.value
  await WORKS.demo?.run({ ...office.desk(), progress: async () => true }, { households: 120 })
  const visit = await books.read
    .selectFrom('visits')
    .select(['id', 'visit_on'])
    .where('state', '=', 'booked')
    .where('visit_on', '>=', calendarDate(TODAY))
    .orderBy('visit_on')
    .executeTakeFirstOrThrow()
  const invoice = await books.read
    .selectFrom('invoices')
    .select(['id', 'customer_id', 'issued_on', 'number_text'])
    .where('state', '=', 'issued')
    .orderBy('id', 'desc')
    .executeTakeFirstOrThrow()
  const measured = await books.read
    .selectFrom('readings as r')
    .innerJoin('installations as i', 'i.id', 'r.installation_id')
    .select('i.site_id')
    .where('r.flow_ml_min', 'is not', null)
    .orderBy('r.id', 'desc')
    .executeTakeFirstOrThrow()
  const run = await books.read
    .selectFrom('letter_runs')
    .select('id')
    .orderBy('letters', 'desc')
    .executeTakeFirstOrThrow()
  const lot = await books.read.selectFrom('lots').select(['id', 'part_id']).orderBy('id').executeTakeFirstOrThrow()
  const order = await books.read
    .selectFrom('purchase_orders')
    .select('id')
    .orderBy('id', 'desc')
    .executeTakeFirstOrThrow()
  const addresses = {
    'letters owed': 'letters-owed/all',
    'letters of a run': `letters/${run.id}`,
    'pick list': `pull/${visit.visit_on}`,
    'route sheets': `routes/${visit.visit_on}`,
    'visits of a day': `visits/${visit.visit_on}`,
    'job card': `job-cards/${visit.id}`,
    invoice: `invoices/${encodeURIComponent(invoice.number_text ?? '')}`,
    'invoices of a day': `invoices-of/${invoice.issued_on ?? addDays(calendarDate(TODAY), -1)}`,
    statement: `statements/${invoice.customer_id}`,
    'household, with readings': `household/${measured.site_id}`,
    labels: `labels?of=lot-${lot.id}x31,part-${lot.part_id}x1`,
    'frames of labels': 'label-frames',
    'worth of the stock': `worth/${TODAY}`,
    'purchase order': `orders/${order.id}`,
  }
  for (const [name, address] of Object.entries(addresses)) papers.set(name, await paperOf(office, address))
  await office.close()
}, 120_000)

async function paperOf(office: Office, address: string): Promise<Uint8Array> {
  const [path, query = ''] = address.split('?')
  const response = await office.handle(new Request(`http://office/papers/${path}.pdf?${query}`))
  if (response.status !== 200) throw new Error(`${address}: ${await response.text()}`)
  return new Uint8Array(await response.arrayBuffer())
}

const folder = mkdtempSync(join(tmpdir(), 'penstock-papers-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

test('PAP-5 on every paper what is opened in a content stream is closed in it, and everything drawn is marked', () => {
  expect(papers.size).toBe(14)
  for (const [name, file] of papers) {
    const streams = contentStreams(file)
    expect(streams.length, name).toBeGreaterThan(0)
    const faults = streams.flatMap(nestingFaults)
    expect(faults, name).toEqual([])
  }
})

test('PAP-5 the judge sees a piece closed twice, one left open, and what is not marked', () => {
  const faultsOf = (operators: string) => nestingFaults({ object: 1, isPage: true, operators })
  expect(faultsOf('/P <</MCID 0>> BDC BT [<0001>] TJ ET EMC')).toEqual([])
  expect(faultsOf('/P <</MCID 0>> BDC EMC EMC')).toEqual(['1: EMC closes nothing'])
  expect(faultsOf('/P <</MCID 0>> BDC BT EMC ET')).toHaveLength(2)
  expect(faultsOf('q /Artifact BMC')).toEqual(['1: ends within q marked'])
  expect(faultsOf('0 0 m 1 1 l S')).toEqual(['1: S is not marked'])
  expect(faultsOf('BT (a \\) EMC) Tj ET')).toEqual(['1: Tj is not marked'])
  expect(faultsOf('/P <</MCID 0>> BDC EMC /P <</MCID 0>> BDC EMC')).toEqual(['1: two pieces are number 0'])
})

test('PAP-6 every paper names its language and its parts, and a reader shows its title', async () => {
  for (const [name, file] of papers) {
    const task = getDocument({ data: new Uint8Array(file), verbosity: 0 })
    const pdf = await task.promise
    const { info } = await pdf.getMetadata()
    expect('Language' in info && info.Language, name).toBe('en-US')
    expect(await pdf.getMarkInfo(), name).toEqual(MARKED)
    expect(await pdf.getViewerPreferences(), name).toEqual(new Map([['DisplayDocTitle', true]]))
    const { width, height } = PAGE_SIZES.letter
    for (let number = 1; number <= Math.min(3, pdf.numPages); number += 1) {
      const page = await pdf.getPage(number)
      expect(page.view, name).toEqual([0, 0, width, height])
      expect((await page.getStructTree())?.children.length, name).toBeGreaterThan(0)
    }
    await task.destroy()
  }
})

test('PAP-5 a renderer of another make has nothing to say about any paper', () => {
  // Poppler, where the machine has it.
  const poppler = (tool: string, ...words: string[]) => spawnSync(tool, words, { encoding: 'utf8' })
  const isThere = poppler('pdftoppm', '-v').status === 0
  const said = [...papers].map(([name, bytes], index) => {
    const file = join(folder, `${index}.pdf`)
    writeFileSync(file, bytes)
    if (!isThere) return ''
    const drawn = poppler('pdftoppm', '-r', '20', '-png', file, join(folder, 'page'))
    const read = poppler('pdftotext', file, join(folder, 'text'))
    expect(readFileSync(join(folder, 'text'), 'utf8').length, name).toBeGreaterThan(100)
    return drawn.stderr + read.stderr
  })
  expect(said.join('')).toBe('')
})
