import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { openDatabase } from '../../core/database/open-books.ts'
import { writeBooks } from '../../core/database/write-books.ts'
import { deskOf, FIRST_OFFICE } from '../../core/desk-of-office.ts'
import { recomputeAllDueDates } from '../../core/due/recompute-answers.ts'
import { distributionOf } from '../../core/orders/poisson-binomial.ts'
import { keptProposals } from '../../core/orders/propose-answers.ts'
import { keptWorth } from '../../core/orders/worth-answers.ts'
import { ok } from '../../core/result.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { chancesOneByOne } from '../judges/poisson-binomial-by-transform.ts'
import { stockTheOffice } from './a-stocked-office.ts'
import { writeManyHouseholds } from './many-households.ts'
import { type Measure, type MeasureLine, middleOf } from './measure.ts'

const today = calendarDate('2026-12-01')
const now = '2026-12-01T12:00:00.000Z'
const TERMS = 10_000
const PARTS = 2000

/** The distribution of ten thousand unequal chances, against the plain convolution; the two must agree. */
async function measureDistribution(): Promise<MeasureLine[]> {
  let seed = 20_261_201
  const chances = Array.from({ length: TERMS }, () => {
    seed = (seed * 48_271) % 2_147_483_647
    return seed / 2_147_483_647
  })
  const [ours, plain] = [distributionOf(chances), chancesOneByOne(chances)]
  const off = ours.reduce((most, chance, k) => Math.max(most, Math.abs(chance - (plain[k] ?? Number.NaN))), 0)
  if (!(off < 1e-13)) throw new Error(`The two ways differ by ${off}`)
  const fast = await middleOf(25, () => distributionOf(chances))
  const slow = await middleOf(9, () => chancesOneByOne(chances))
  return [
    { name: `reorder.distribution.${TERMS}-unequal`, value: fast, unit: 'ms', ratio: fast / slow, floor: 20 },
    { name: `reorder.distribution.${TERMS}-unequal.plain`, value: slow, unit: 'ms' },
  ]
}

/** What runs short in the whole office, reading and judging included; and what its stock is worth. */
async function measureOffice(households: number): Promise<MeasureLine[]> {
  const folder = mkdtempSync(join(tmpdir(), 'penstock-bench-'))
  const file = join(folder, 'books.sqlite')
  try {
    await writeManyHouseholds(file, households)
    stockTheOffice(file, PARTS)
    const books = openDatabase(file)
    const asking = { officeId: FIRST_OFFICE, today, now, by: 'the bench', dialect: books.dialect }
    await writeBooks(books, asking, [], async (open) => ok(await recomputeAllDueDates(open)))
    const desk = deskOf(books, { today: () => today, now: () => now }, 'the bench', { start: async () => '' })
    const { groups, enough } = await keptProposals.reckon(desk)
    const short = groups.reduce((sum, group) => sum + group.proposals.length, 0)
    if (short + enough < PARTS) throw new Error(`${short + enough} proposals of ${PARTS} parts`)
    const reorder = await middleOf(5, () => keptProposals.reckon(desk))
    const worth = await middleOf(5, () => keptWorth.reckon(desk))
    await books.close()
    const of = `${PARTS}-parts.${households * 5}-stages`
    return [
      { name: `reorder.${of}.${short}-short`, value: reorder / 1000, unit: 's', floor: 3 },
      { name: `reorder.worth.${of}`, value: worth / 1000, unit: 's' },
    ]
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

export const measures: readonly Measure[] = [
  { name: 'reorder.distribution', run: measureDistribution },
  { name: 'reorder.office', run: measureOffice },
]
