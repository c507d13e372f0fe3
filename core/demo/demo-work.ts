import { z } from 'zod'
import type { OpenBooks } from '../answering.ts'
import { recomputeAllDueDates } from '../due/recompute-answers.ts'
import { ourWordings } from '../letters/our-wordings-answers.ts'
import { ok, type Result, refused } from '../result.ts'
import { orderDaysAhead } from '../routes/day-order-answers.ts'
import { DEFAULT_SETTINGS } from '../settings/office-settings.ts'
import { findOffice, insertOffice } from '../settings/office-store.ts'
import { replanAll } from '../visits/replan-answers.ts'
import { namedWork, type WorkDesk } from '../work/work.ts'
import { insertLedger } from './demo-ledger-store.ts'
import { insertLetters } from './demo-letters-store.ts'
import { insertMoney } from './demo-money-store.ts'
import { DEMO_HOUSEHOLDS, DEMO_SEED, demoOffice } from './demo-office.ts'
import { insertHouseholds, insertWarehouse } from './demo-people-store.ts'
import type { DemoOffice } from './demo-records.ts'
import { insertVisits } from './demo-visits-store.ts'
import { SCENARIO } from './scenario.ts'

export const demoInputSchema = z
  .object({ households: z.int().min(1).max(5_000).default(DEMO_HOUSEHOLDS) })
  .default({ households: DEMO_HOUSEHOLDS })

/** Writes the demo office into empty books, in one transaction. OFFICE_EXISTS when there is an office already. */
export const demoWork = namedWork({
  input: demoInputSchema,
  run: async (desk: WorkDesk, input): Promise<Result<{ households: number; visits: number }>> => {
    await desk.progress({ done: 0, total: 100, saying: 'imagining five years of a small dealer' })
    const office = demoOffice(desk.today, DEMO_SEED, input.households)
    return desk.write((books) =>
      writeDemo(books, office, (done, saying) => desk.progress({ done, total: 100, saying })),
    )
  },
})

async function writeDemo(
  books: OpenBooks,
  office: DemoOffice,
  step: (done: number, saying: string) => Promise<boolean>,
): Promise<Result<{ households: number; visits: number }>> {
  if (await findOffice(books.read, books.officeId)) return refused('OFFICE_EXISTS')
  await insertOffice(books.tx, { ...SCENARIO.office, id: books.officeId, isDemo: true, foundedAt: books.now })
  const warehouse = await insertWarehouse(books, office)
  if (!(await step(5, 'writing the households'))) return refused('WORK_STOPPED')
  const homes = await insertHouseholds(books, office, warehouse)
  if (!(await step(15, 'writing the visits'))) return refused('WORK_STOPPED')
  const visits = await insertVisits(books, office, homes, warehouse)
  if (!(await step(30, 'writing the stock'))) return refused('WORK_STOPPED')
  await insertLedger(books, office, warehouse, visits)
  if (!(await step(45, 'writing the letters'))) return refused('WORK_STOPPED')
  await insertLetters(books, office, homes, ourWordings(DEFAULT_SETTINGS.locale))
  if (!(await step(60, 'writing the invoices'))) return refused('WORK_STOPPED')
  const all = await insertMoney(books, office, { homes, warehouse, visits }, (done) =>
    step(60 + Math.floor((35 * done) / Math.max(1, office.invoices.length)), 'writing the invoices'),
  )
  if (!all || !(await step(96, 'reckoning what is due'))) return refused('WORK_STOPPED')
  await recomputeAllDueDates(books)
  await orderDaysAhead(books)
  await replanAll(books)
  await books.record({
    subjectKind: 'office',
    subjectId: books.officeId,
    verb: 'founded',
    sentence: `${SCENARIO.office.name}, the demo office, was founded`,
  })
  return ok({ households: office.households.length, visits: office.visits.length })
}
