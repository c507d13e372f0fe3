import type { Desk } from '../answering.ts'
import { addDays, type CalendarDate, laterOf } from '../units/calendar-date.ts'
import type { CustomerId, SiteId } from '../units/ids.ts'
import { composeLetter, frozenLetter, type LetterTerms } from './compose-letter.ts'
import { readLetterHouseholds } from './households-store.ts'
import type { LetterKind } from './letter-kinds.ts'
import type { FrozenLetter } from './letter-page.ts'
import { ourWordings } from './our-wordings-answers.ts'
import { type OwedLetter, owedLetters } from './owed-letters.ts'
import { daysInTowns, listMailedCustomers } from './owed-store.ts'
import { comparePostal } from './postal-order.ts'
import { readWordings } from './wording-store.ts'

/** How far ahead the letter says when someone is in the town: visits of the next weeks, but not before it can arrive. */
const DAYS_IN_TOWN = { from: 4, until: 42 } as const

/** Which of the owed letters: kinds, and customers (null for everyone who is owed one). */
export interface OwedChoice {
  readonly kinds: readonly LetterKind[]
  readonly customerIds: readonly CustomerId[] | null
  /** Also first letters of what falls due until this day, before their lead. */
  readonly aheadUntil: CalendarDate | null
}

/** An owed letter with every word and price of it. */
export interface ComposedOwed {
  readonly letter: OwedLetter
  readonly siteId: SiteId
  readonly frozen: FrozenLetter
}

/** The letters owed today, composed, in postal order. Asks only; whoever writes them asks inside the writing transaction. */
export async function composeOwed(
  { read, officeId }: Pick<Desk, 'read' | 'officeId'>,
  { kinds, customerIds, aheadUntil }: OwedChoice,
  terms: LetterTerms,
): Promise<ComposedOwed[]> {
  const { today, settings } = terms
  const until = laterOf(addDays(today, settings.firstLetterLeadDays), aheadUntil ?? today)
  const listed = await listMailedCustomers(read, officeId, until, today)
  const byCustomer = new Map(listed.map((customer) => [customer.customerId, customer]))
  const chosen = customerIds === null ? null : new Set(customerIds)
  const owed = owedLetters(listed, settings, today, aheadUntil)
    .owed.filter((letter) => kinds.includes(letter.kind) && (chosen === null || chosen.has(letter.customerId)))
    .flatMap((letter) => {
      const customer = byCustomer.get(letter.customerId)
      return customer ? [{ letter, customer }] : []
    })
    .sort((a, b) => comparePostal(a.customer, b.customer))
  const wordings = await readWordings(read, officeId, ourWordings(settings.locale))
  const days = await daysInTowns(read, officeId, addDays(today, DAYS_IN_TOWN.from), addDays(today, DAYS_IN_TOWN.until))
  const ids = owed.map(({ letter }) => letter.customerId)
  const households = await readLetterHouseholds(read, officeId, ids, today, days)
  return owed.flatMap(({ letter, customer }) => {
    const household = households.get(letter.customerId)
    const wording = wordings.find((each) => each.kind === letter.kind)
    if (!household || !wording) return []
    const whole = { ...household, writtenBefore: letter.before?.writtenOn ?? null }
    const text = composeLetter(letter.kind, whole, letter.dueOn, wording, terms)
    if (!text.stages.some((stage) => stage.due)) return []
    return [{ letter, siteId: customer.siteId, frozen: frozenLetter(text, today) }]
  })
}
