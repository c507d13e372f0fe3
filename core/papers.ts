import type { PaperAnswer } from './answering.ts'
import { INVOICE_PAPERS } from './invoices/invoice-papers-answers.ts'
import { lettersPapers } from './letters/letters-answers.ts'
import { recallLettersPaperAnswer } from './letters/recall-letters-answers.ts'
import { orderPaper } from './orders/order-paper-answers.ts'
import { worthPaper } from './orders/worth-answers.ts'
import { routesPapers } from './routes/routes-answers.ts'
import { countPaper } from './stock/count-paper-answers.ts'
import { labelPapers } from './stock/labels-answers.ts'
import { pullPaper } from './stock/pull-paper-answers.ts'
import { householdPaper } from './visits/household-paper-answers.ts'

/** Papers by address, each from its folder's answers. */
export const PAPERS: readonly PaperAnswer[] = [
  ...lettersPapers,
  recallLettersPaperAnswer,
  ...INVOICE_PAPERS,
  ...routesPapers,
  pullPaper,
  countPaper,
  ...labelPapers,
  householdPaper,
  orderPaper,
  worthPaper,
]
