import { type CalendarDate, daysBetween, earlierOf } from '../units/calendar-date.ts'
import type { CustomerId } from '../units/ids.ts'
import type { FirstLetter, LetterOutcome, LetterStep, RepliesOnRecord } from './letters-to-visits.ts'

/** A letter as the books keep it, with what followed. */
export interface LetterOnRecord {
  readonly customerId: CustomerId
  readonly kind: LetterStep
  readonly writtenOn: CalendarDate
  /** The first visit that was booked after it and not cancelled; null while there is none. */
  readonly bookedOn: CalendarDate | null
  /** The customer moved or was closed. */
  readonly leftOn: CalendarDate | null
}

export interface DelayOnRecord {
  readonly bookedOn: CalendarDate
  readonly visitOn: CalendarDate
  readonly visits: number
}

/**
 * What became of each letter: a booking, or silence until the next letter to the customer, until the customer left, or until today.
 * A booking counts for the latest letter before it alone. Those who left keep the days they had.
 */
export function repliesOf(
  letters: readonly LetterOnRecord[],
  delays: readonly DelayOnRecord[],
  unasked: RepliesOnRecord['unasked'],
  today: CalendarDate,
): RepliesOnRecord {
  const ofCustomer = new Map<CustomerId, LetterOnRecord[]>()
  for (const letter of letters) {
    const own = ofCustomer.get(letter.customerId)
    if (own) own.push(letter)
    else ofCustomer.set(letter.customerId, [letter])
  }
  const outcomes: LetterOutcome[] = []
  const firsts: FirstLetter[] = []
  for (const own of ofCustomer.values()) {
    const inTurn = own.toSorted((a, b) => (a.writtenOn < b.writtenOn ? -1 : a.writtenOn > b.writtenOn ? 1 : 0))
    inTurn.forEach((letter, at) => {
      outcomes.push(outcomeOf(letter, inTurn[at + 1]?.writtenOn ?? null, today))
      if (letter.kind === 'first') firsts.push(firstOf(letter, today))
    })
  }
  return { outcomes, firsts, delays: delaysOf(delays), unasked }
}

function outcomeOf(letter: LetterOnRecord, nextOn: CalendarDate | null, today: CalendarDate): LetterOutcome {
  const { kind, writtenOn, bookedOn, leftOn } = letter
  const ends = [today, nextOn, leftOn].filter((day) => day !== null)
  const end = ends.reduce(earlierOf)
  const booked = bookedOn !== null && bookedOn <= end
  return { kind, days: Math.max(0, daysBetween(writtenOn, booked ? bookedOn : end)), booked, letters: 1 }
}

function firstOf({ writtenOn, bookedOn }: LetterOnRecord, today: CalendarDate): FirstLetter {
  return {
    daysAgo: daysBetween(writtenOn, today),
    bookedAfter: bookedOn === null ? null : daysBetween(writtenOn, bookedOn),
    letters: 1,
  }
}

function delaysOf(delays: readonly DelayOnRecord[]): { days: number; visits: number }[] {
  const byDays = new Map<number, number>()
  for (const { bookedOn, visitOn, visits } of delays) {
    const days = Math.max(0, daysBetween(bookedOn, visitOn))
    byDays.set(days, (byDays.get(days) ?? 0) + visits)
  }
  return [...byDays].map(([days, visits]) => ({ days, visits }))
}
