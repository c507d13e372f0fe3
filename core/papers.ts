import type { PaperAnswer } from './answering.ts'
import { INVOICE_PAPERS } from './invoices/invoice-papers-answers.ts'
import { routesPapers } from './routes/routes-answers.ts'

/** Papers by address, each from its folder's answers. */
export const PAPERS: readonly PaperAnswer[] = [...INVOICE_PAPERS, ...routesPapers]
