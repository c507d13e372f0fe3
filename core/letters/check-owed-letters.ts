import { type CalendarDate, dayNumberOf } from '../units/calendar-date.ts'
import type { LetterPace, MailedCustomer, OwedLetter, OwedLetters } from './owed-letters.ts'

/**
 * The judge of `owedLetters`: goes through the rules one by one and says what is wrong, letter by letter; also for every customer
 * without a letter whether one should have gone out. Empty when nothing is.
 */
export function checkOwedLetters(
  customers: readonly MailedCustomer[],
  answer: OwedLetters,
  pace: LetterPace,
  today: CalendarDate,
): string[] {
  const complaints: string[] = []
  const given = new Map<number, OwedLetter>()
  for (const letter of [...answer.owed, ...answer.unaddressed]) {
    if (given.has(letter.customerId)) complaints.push(`customer ${letter.customerId} gets two letters`)
    given.set(letter.customerId, letter)
  }
  for (const letter of answer.owed)
    if (customers.find((one) => one.customerId === letter.customerId)?.unaddressed)
      complaints.push(`customer ${letter.customerId} cannot be addressed`)
  for (const customer of customers) {
    const letter = given.get(customer.customerId)
    given.delete(customer.customerId)
    const expected = nextKind(customer, pace, dayNumberOf(today))
    const got = letter?.kind ?? 'none'
    if (got !== expected) complaints.push(`customer ${customer.customerId} is given ${got}, and is owed ${expected}`)
  }
  for (const id of given.keys()) complaints.push(`customer ${id} is not in the books`)
  return complaints
}

/** Told day by day, as an office would: from the last answer on, which letters have gone out, and has enough time passed? */
function nextKind(customer: MailedCustomer, pace: LetterPace, today: number): 'first' | 'second' | 'final' | 'none' {
  const open = customer.sites.filter((site) => !site.closed)
  const mayWrite = !(customer.noMail || customer.moved || customer.closed || open.some((site) => site.booked))
  const dues = open.flatMap((site) => (site.dueOn ? [dayNumberOf(site.dueOn)] : []))
  if (!mayWrite || dues.length === 0) return 'none'
  const due = Math.min(...dues)
  if (today < due - pace.firstLetterLeadDays) return 'none'
  const lastVisit = Math.max(
    -Infinity,
    ...customer.sites.flatMap((site) => (site.visitedOn ? [dayNumberOf(site.visitedOn)] : [])),
  )
  const sent = customer.letters
    .map((letter) => ({ kind: letter.kind, day: dayNumberOf(letter.writtenOn) }))
    .filter(({ day }) => day > lastVisit && day >= due - pace.firstLetterLeadDays - pace.finalLetterAfterDays)
  if (sent.length === 0) return 'first'
  const latest = sent.reduce((one, other) => (other.day >= one.day ? other : one))
  if (latest.kind === 'final') return 'none'
  if (latest.kind === 'first') return today - latest.day >= pace.secondLetterAfterDays ? 'second' : 'none'
  const started = sent.filter(({ kind }) => kind === 'first').map(({ day }) => day)
  const start = started.length > 0 ? Math.min(...started) : Math.min(...sent.map(({ day }) => day))
  const silent = today - start >= pace.finalLetterAfterDays
  const spaced = today - latest.day >= pace.finalLetterAfterDays - pace.secondLetterAfterDays
  return silent && spaced ? 'final' : 'none'
}
