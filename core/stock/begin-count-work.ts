import { namedWork } from '../work/work.ts'
import { beginCountHere } from './begin-count-answers.ts'
import { beginCountSchema } from './count-contract.ts'

/** A round of a large warehouse, begun in a thread of its own: it may have a line for everything that lies anywhere. */
export const beginCountWork = namedWork({ input: beginCountSchema, run: beginCountHere })
