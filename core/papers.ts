import type { PaperAnswer } from './answering.ts'

/** Papers by address, each from its folder's answers. */
export const PAPERS: readonly PaperAnswer[] = []
