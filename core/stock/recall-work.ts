import { namedWork } from '../work/work.ts'
import { freeLotHere, recallLotHere } from './recall-answers.ts'
import { freeLotSchema, recallLotSchema, recallVisitsInput } from './recall-contract.ts'
import { proposeRecallVisits } from './recall-visits-answers.ts'

/** A lot in many homes, recalled in a thread of its own: all their due dates follow it. */
export const recallLotWork = namedWork({ input: recallLotSchema, run: recallLotHere })

/** The same lot, fit for use again. */
export const freeLotWork = namedWork({ input: freeLotSchema, run: freeLotHere })

/** The visits that one press would book for so many homes. */
export const proposeRecallVisitsWork = namedWork({ input: recallVisitsInput, run: proposeRecallVisits })
