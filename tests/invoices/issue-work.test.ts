import { describe, expect, test } from 'vitest'
import { billVisits } from '../../core/invoices/bill-visit-answers.ts'
import { gapsInNumbers, partsOfInvoiceNumber } from '../../core/invoices/invoice-number.ts'
import { type InvoicePage, issuedPileSchema, MOST_AT_ONCE } from '../../core/invoices/invoices-contract.ts'
import { issueWork } from '../../core/invoices/issue-work.ts'
import { WORKS } from '../../core/works.ts'
import { aBilledHousehold, aRecordedVisit, hear } from '../builders/a-billed-household.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { databases, type EachDatabase } from '../data/each-database.ts'

/** Drafts of one household, a visit each; the keys, oldest first. */
async function withDrafts(open: EachDatabase['open'], count: number) {
  const office = await anOffice(await open())
  const household = await aBilledHousehold(office.database)
  for (let drawn = 0; drawn < count; drawn += 1) {
    const visit = await aRecordedVisit(office.database, household, [household.sediment])
    await hear(office, billVisits, { kind: 'visit-recorded', visit })
  }
  const { rows } = (await office.ask('invoices/list', { pile: 'drafts', limit: 500 })).json as InvoicePage
  return { office, household, drafts: rows.map((row) => row.invoiceId) }
}

/** Runs the work and stops it once `until` drafts were come to. */
async function run(office: AnOffice, input: unknown, until = Number.POSITIVE_INFINITY) {
  const said: string[] = []
  const result = await issueWork.run(
    {
      ...office.desk(),
      progress: async ({ done, saying }) => {
        said.push(saying)
        return done < until
      },
    },
    input,
  )
  if (!result.ok) throw new Error(result.problem.sentence)
  return { ...issuedPileSchema.parse(result.value), said }
}

async function numbersOf(office: AnOffice): Promise<number[]> {
  const { rows } = (await office.ask('invoices/list', { pile: 'all', limit: 500 })).json as InvoicePage
  return rows.flatMap((row) => partsOfInvoiceNumber(row.number)?.place ?? []).sort((a, b) => a - b)
}

test('INV-16 the work is known by its name', () => {
  expect(WORKS['issue-invoices']).toBe(issueWork)
})

describe.each(databases)('a pile of drafts on $name', ({ open }) => {
  test('INV-16 all are issued in their order, without a gap, and every stretch says how far it is', async () => {
    const { office, drafts } = await withDrafts(open, MOST_AT_ONCE + 3)
    const over = await run(office, { upTo: drafts.at(-1) })
    expect(over).toMatchObject({ issued: 28, first: '2026-00001', last: '2026-00028', left: [], notComeTo: 0 })
    expect(over.said).toEqual(['0 invoices of 28 issued', '25 invoices of 28 issued'])
    expect(gapsInNumbers(await numbersOf(office))).toEqual({ missing: [], doubled: [] })
  })

  test('INV-16 stopped on the way, what has a number keeps it, the rest are drafts, and the next pile goes on without a gap', async () => {
    const { office, drafts } = await withDrafts(open, MOST_AT_ONCE * 2 + 1)
    const over = await run(office, { upTo: drafts.at(-1) }, MOST_AT_ONCE)
    expect(over).toMatchObject({ issued: 25, last: '2026-00025', notComeTo: 26 })
    expect((await office.ask('invoices/sums')).json).toMatchObject({ drafts: 26, unpaid: 25 })
    expect(await run(office, { upTo: drafts.at(-1) })).toMatchObject({ issued: 26, first: '2026-00026' })
    expect(gapsInNumbers(await numbersOf(office))).toEqual({ missing: [], doubled: [] })
  })

  test('INV-16 a draft that cannot be issued is left with the reason and holds up nothing', async () => {
    const { office, household, drafts } = await withDrafts(open, 3)
    const { invoiceId: empty } = (await office.ask('invoices/startDraft', { siteId: household.siteId })).json as {
      invoiceId: number
    }
    const over = await run(office, { invoiceIds: [drafts[0], empty, drafts[1], drafts[2]] })
    expect(over).toMatchObject({ issued: 3, first: '2026-00001', last: '2026-00003', left: [{ invoiceId: empty }] })
    expect(over.left[0]?.why).toContain('Bexhill-Moreno')
    expect(await numbersOf(office)).toEqual([1, 2, 3])
    expect((await office.ask('invoices/sums')).json).toMatchObject({ drafts: 1, lastDraft: empty })
  })

  test('PAY-7 a pile is read page by page, whatever it is sorted by, and no invoice twice', async () => {
    const { office, drafts } = await withDrafts(open, 7)
    await run(office, { upTo: drafts.at(-1) })
    for (const sort of ['written', 'payBy', 'open', 'customer'])
      for (const descending of [false, true]) {
        const ids: number[] = []
        let after: InvoicePage['next'] = null
        do {
          const asked = { pile: 'unpaid', sort, descending, after, limit: 3 }
          const page: InvoicePage = (await office.ask('invoices/list', asked)).json as InvoicePage
          ids.push(...page.rows.map((row) => row.invoiceId))
          after = page.next
        } while (after !== null)
        const inOrder = descending ? drafts.toReversed() : drafts
        expect(ids, `${sort} ${descending}`).toEqual(inOrder)
      }
    const found = async (search: string) =>
      ((await office.ask('invoices/list', { pile: 'unpaid', search })).json as InvoicePage).rows.map(
        (row) => row.number,
      )
    expect(await found('7')).toEqual(['2026-00007'])
    expect(await found('2026-00003')).toEqual(['2026-00003'])
    expect(await found('2026-0000')).toHaveLength(7)
    expect(await found('2025-00003')).toEqual([])
  })
})
