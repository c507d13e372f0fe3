/** How far a long reckoning is, between two steps of it. */
export interface ReckoningStep {
  readonly done: number
  readonly total: number
  readonly saying: string
}

/**
 * A long reckoning that pauses every thousand or so pieces and says how far it is, so that whoever runs it can let others have
 * their turn, or stop. Pure: it knows neither clock nor thread.
 */
export type Reckoning<Answer> = Generator<ReckoningStep, Answer, void>

/** Runs a reckoning to its end without pausing. */
export function toTheEnd<Answer>(reckoning: Reckoning<Answer>): Answer {
  for (;;) {
    const step = reckoning.next()
    if (step.done) return step.value
  }
}

/** Pieces between two pauses. */
export const PIECES_A_STEP = 1_000
