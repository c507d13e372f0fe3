import { dueTurns } from './due/due-turns-work.ts'
import type { NamedTurns } from './work/turns.ts'

/** What a second thread can be asked to share, by name. */
export const TURNS: Readonly<Record<string, NamedTurns>> = { 'due-dates': dueTurns }
