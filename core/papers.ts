import type { PaperAnswer } from './answering.ts'
import { routesPapers } from './routes/routes-answers.ts'

/** Papers by address, each from its folder's answers. */
export const PAPERS: readonly PaperAnswer[] = [...routesPapers]
