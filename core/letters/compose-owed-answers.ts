import type { Desk } from '../answering.ts'
import { addDays, type CalendarDate, laterOf } from '../units/calendar-date.ts'
import type { CustomerId, SiteId } from '../units/ids.ts'
import { composeLetter, frozenLetter, type LetterTerms } from './compose-letter.ts'
import { readLetterHouseholds } from './households-store.ts'
import type { LetterKind } from './letter-kinds.ts'
import type { FrozenLetter } from './letter-page.ts'
import { ourWordings } from './our-wordings-answers.ts'
import { type OwedLetter, owedLetters } from './owed-letters.ts'
import { daysInTowns, mailedCustomersInTurn } from './owed-store.ts'
import { inPostalOrder, type PostalPlace } from './postal-order.ts'
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

/** Some of the letters, and how many of those that are owed have been looked at by now. */
export interface ComposedTurn {
  readonly composed: readonly ComposedOwed[]
  readonly done: number
  readonly total: number
}

/** Letters that are composed at once: a firm may owe ten thousand, and each holds every word of its page. */
const AT_ONCE = 200

/**
 * The letters owed today, composed, in postal order, some at a time: what is held does not grow with their number, but for the order itself.
 * Asks only; whoever writes them asks inside the writing transaction.
 */
export async function* composeOwed(
  { read, officeId }: Pick<Desk, 'read' | 'officeId'>,
  choice: OwedChoice,
  terms: LetterTerms,
): AsyncGenerator<ComposedTurn> {
  const { today, settings } = terms
  const owed = await owedInOrder(read, officeId, choice, terms)
  const wordings = await readWordings(read, officeId, ourWordings(settings.locale))
  const days = await daysInTowns(read, officeId, addDays(today, DAYS_IN_TOWN.from), addDays(today, DAYS_IN_TOWN.until))
  for (let from = 0; from < owed.length; from += AT_ONCE) {
    const some = owed.slice(from, from + AT_ONCE)
    const ids = some.map(({ letter }) => letter.customerId)
    const households = await readLetterHouseholds(read, officeId, ids, today, days)
    const composed = some.flatMap(({ letter, siteId }) => {
      const household = households.get(letter.customerId)
      const wording = wordings.find((each) => each.kind === letter.kind)
      if (!household || !wording) return []
      const whole = { ...household, writtenBefore: letter.before?.writtenOn ?? null }
      const text = composeLetter(letter.kind, whole, letter.dueOn, wording, terms)
      if (!text.stages.some((stage) => stage.due)) return []
      return [{ letter, siteId, frozen: frozenLetter(text, today) }]
    })
    yield { composed, done: from + some.length, total: owed.length }
  }
}

/** Who is owed a letter, in postal order, with no more of each than its letter begins with. */
async function owedInOrder(
  read: Desk['read'],
  officeId: Desk['officeId'],
  { kinds, customerIds, aheadUntil }: OwedChoice,
  { today, settings }: LetterTerms,
): Promise<{ readonly letter: OwedLetter; readonly siteId: SiteId; readonly place: PostalPlace }[]> {
  const until = laterOf(addDays(today, settings.firstLetterLeadDays), aheadUntil ?? today)
  const chosen = customerIds === null ? null : new Set(customerIds)
  const found: { letter: OwedLetter; siteId: SiteId; place: PostalPlace }[] = []
  for await (const some of mailedCustomersInTurn(read, officeId, until, today)) {
    const byCustomer = new Map(some.map((customer) => [customer.customerId, customer]))
    for (const letter of owedLetters(some, settings, today, aheadUntil).owed) {
      const customer = byCustomer.get(letter.customerId)
      if (!customer || !kinds.includes(letter.kind) || chosen?.has(letter.customerId) === false) continue
      const { siteId, postalCode, town, street } = customer
      found.push({ letter, siteId, place: { postalCode, town, street } })
    }
  }
  return inPostalOrder(found, ({ place }) => place)
}
