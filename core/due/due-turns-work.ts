import { namedTurns } from '../work/turns.ts'
import { type DueTurn, type DueTurnsInput, dueTurn } from './due-turn-answers.ts'

/** Due dates a turn at a time, for a second thread: it reads, the first one writes. */
export const dueTurns = namedTurns<DueTurnsInput, DueTurn>((read, input) => (turn) => dueTurn(read, input, turn))
