import { ok, type Result } from '../result.ts'
import { counted } from '../units/date-words.ts'
import type { InvoiceId } from '../units/ids.ts'
import { namedWork, type WorkDesk } from '../work/work.ts'
import { type IssuedPile, type IssueWorkInput, issueWorkSchema, MOST_AT_ONCE } from './invoices-contract.ts'
import { listDraftsUpTo } from './invoices-store.ts'
import { type IssuedInvoice, issueTogether } from './issue-answers.ts'

/**
 * Issues a pile of drafts, a stretch at a time, each stretch one transaction. A number is taken in the transaction that writes its invoice, so the
 * numbers have no gap wherever the pile is stopped. What was issued has its number, may be on paper already, and stays; the rest stay drafts. All
 * or none would hold the books against everyone for as long as the pile takes, and one draft without lines would hold up the whole.
 */
export const issueWork = namedWork({ input: issueWorkSchema, run: issuePile })

async function issuePile(desk: WorkDesk, wanted: IssueWorkInput): Promise<Result<IssuedPile>> {
  const drafts =
    'invoiceIds' in wanted ? wanted.invoiceIds : await listDraftsUpTo(desk.read, desk.officeId, wanted.upTo)
  const numbers: string[] = []
  const left: IssuedPile['left'] = []
  let done = 0
  const answer = (): Result<IssuedPile> =>
    ok({
      issued: numbers.length,
      first: numbers[0] ?? '',
      last: numbers.at(-1) ?? '',
      left,
      notComeTo: drafts.length - done,
    })
  while (done < drafts.length) {
    const saying = `${counted(numbers.length, 'invoice')} of ${drafts.length.toLocaleString('en-US')} issued`
    if (!(await desk.progress({ done, total: drafts.length, saying }))) return answer()
    const stretch = drafts.slice(done, done + MOST_AT_ONCE)
    const together = await issueTogether(desk, stretch)
    // One that cannot be issued takes its stretch back with it: then each goes by itself, and only that one is left.
    const outcomes = together.ok ? [together] : await oneByOne(desk, stretch)
    for (const [index, outcome] of outcomes.entries()) {
      const invoiceId = stretch[index]
      if (outcome.ok) numbers.push(...outcome.value.map((each) => each.number))
      else if (invoiceId !== undefined) left.push({ invoiceId, why: outcome.problem.sentence })
    }
    done += stretch.length
  }
  return answer()
}

async function oneByOne(desk: WorkDesk, drafts: readonly InvoiceId[]): Promise<Result<IssuedInvoice[]>[]> {
  const outcomes: Result<IssuedInvoice[]>[] = []
  for (const invoiceId of drafts) outcomes.push(await issueTogether(desk, [invoiceId]))
  return outcomes
}
