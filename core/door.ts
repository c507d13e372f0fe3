import { oc } from '@orpc/contract'
import { problemSchema } from './problems.ts'

/** Where every contract begins: a procedure may refuse, and a refusal is a problem (code, sentence, next step). */
export const procedure = oc.errors({ REFUSED: { status: 422, data: problemSchema } })
