import type { LetterManner, LetterOutcome, LetterStep, RepliesOnRecord } from '../../core/orders/letters-to-visits.ts'

/** Letters as the trade has them: 30 days before, after 14 days, after 42; seven in ten lead to a visit. */
export const MANNER: LetterManner = {
  secondAfterDays: 14,
  finalAfterDays: 42,
  percent: 70,
  weighs: 20,
  daysOffered: 14,
}

export const NO_RECORD: RepliesOnRecord = {
  outcomes: [],
  firsts: [],
  delays: [],
  unasked: { bookings: 0, waiting: 0, days: 0 },
}

export const outcome = (kind: LetterStep, days: number, booked: boolean, letters = 1): LetterOutcome => ({
  kind,
  days,
  booked,
  letters,
})
