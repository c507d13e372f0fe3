import { addDays, type CalendarDate, daysBetween, earlierOf, laterOf } from '../units/calendar-date.ts'
import type { CustomerId, SiteId } from '../units/ids.ts'
import type { LetterKind } from './letter-kinds.ts'

/** A place of a customer, as far as its letters go. */
export interface MailedSite {
  readonly siteId: SiteId
  readonly closed: boolean
  /** The earliest due date of its stages. */
  readonly dueOn: CalendarDate | null
  /** A visit is booked here and not recorded yet. */
  readonly booked: boolean
  /** The latest recorded visit. */
  readonly visitedOn: CalendarDate | null
}

/** A letter that was written; one that was taken back is not in the list. */
export interface LetterBefore {
  readonly kind: LetterKind
  readonly writtenOn: CalendarDate
}

export interface MailedCustomer {
  readonly customerId: CustomerId
  readonly noMail: boolean
  readonly moved: boolean
  readonly closed: boolean
  /** The post could not deliver: the address has no street or no town. */
  readonly unaddressed: boolean
  readonly sites: readonly MailedSite[]
  readonly letters: readonly LetterBefore[]
}

export interface LetterPace {
  readonly firstLetterLeadDays: number
  readonly secondLetterAfterDays: number
  readonly finalLetterAfterDays: number
}

export interface OwedLetter {
  readonly customerId: CustomerId
  readonly kind: LetterKind
  /** The earliest due date of the customer's open places. */
  readonly dueOn: CalendarDate
  /** Since when the letter is owed. */
  readonly owedSince: CalendarDate
  /** The letter it follows. */
  readonly before: LetterBefore | null
}

/** Who is owed which letter today, and who would be if the post could find them. */
export interface OwedLetters {
  readonly owed: readonly OwedLetter[]
  readonly unaddressed: readonly OwedLetter[]
}

/**
 * One letter a customer at most: the first a lead before the earliest due date, the second and the final one after silence. Never to
 * a customer who has booked, has moved or closed, or asked for no mail. A recorded visit begins the count again. In the order given.
 * With `aheadUntil` also the first letters of what falls due until then, before their lead, as far ahead as they still count later on.
 */
export function owedLetters(
  customers: readonly MailedCustomer[],
  pace: LetterPace,
  today: CalendarDate,
  aheadUntil: CalendarDate | null = null,
): OwedLetters {
  const owed: OwedLetter[] = []
  const unaddressed: OwedLetter[] = []
  for (const customer of customers) {
    const letter = owedLetter(customer, pace, today, aheadUntil)
    if (letter) (customer.unaddressed ? unaddressed : owed).push(letter)
  }
  return { owed, unaddressed }
}

/** How many days before the due date a first letter can be written and still count as the one that was about it. */
export function daysLettersCount(pace: LetterPace): number {
  return pace.firstLetterLeadDays + pace.finalLetterAfterDays
}

function owedLetter(
  customer: MailedCustomer,
  pace: LetterPace,
  today: CalendarDate,
  aheadUntil: CalendarDate | null,
): OwedLetter | null {
  if (customer.noMail || customer.moved || customer.closed) return null
  const sites = customer.sites.filter((site) => !site.closed)
  if (sites.some((site) => site.booked)) return null
  const dueOn = sites.reduce<CalendarDate | null>(
    (first, { dueOn: due }) => (due && first ? earlierOf(first, due) : (due ?? first)),
    null,
  )
  if (dueOn === null) return null
  const isAhead = daysBetween(today, dueOn) > pace.firstLetterLeadDays
  if (isAhead && !(aheadUntil && dueOn <= aheadUntil && daysBetween(today, dueOn) <= daysLettersCount(pace)))
    return null
  const { customerId } = customer
  const counting = countingLetters(customer, dueOn, pace)
  const first = counting.find((letter) => letter.kind === 'first') ?? counting[0]
  const last = counting.at(-1)
  if (!first || !last) {
    const owedSince = isAhead ? today : addDays(dueOn, -pace.firstLetterLeadDays)
    return { customerId, kind: 'first', dueOn, owedSince, before: null }
  }
  if (isAhead || last.kind === 'final') return null
  const kind = last.kind === 'first' ? 'second' : 'final'
  const owedSince =
    kind === 'second' ? addDays(last.writtenOn, pace.secondLetterAfterDays) : finalOwedOn(first, last, pace)
  return owedSince <= today ? { customerId, kind, dueOn, owedSince, before: last } : null
}

/** Six weeks after the first; and when the second went out late, no sooner after it than was planned. */
function finalOwedOn(first: LetterBefore, second: LetterBefore, pace: LetterPace): CalendarDate {
  const between = Math.max(0, pace.finalLetterAfterDays - pace.secondLetterAfterDays)
  return laterOf(addDays(first.writtenOn, pace.finalLetterAfterDays), addDays(second.writtenOn, between))
}

/**
 * Letters that still count, oldest first: written after the last recorded visit of any place, and about the present due date. A
 * letter so old that it must have been about an earlier one (more than the whole row of letters before the lead) counts no more.
 */
function countingLetters(customer: MailedCustomer, dueOn: CalendarDate, pace: LetterPace): LetterBefore[] {
  const visitedOn = customer.sites.reduce<CalendarDate | null>(
    (last, site) => (last && site.visitedOn ? laterOf(last, site.visitedOn) : (site.visitedOn ?? last)),
    null,
  )
  const oldest = addDays(dueOn, -daysLettersCount(pace))
  return customer.letters
    .filter((letter) => letter.writtenOn >= oldest && (visitedOn === null || letter.writtenOn > visitedOn))
    .sort((a, b) => (a.writtenOn < b.writtenOn ? -1 : a.writtenOn > b.writtenOn ? 1 : 0))
}
