import { type CustomerName, keptNamesOf } from '../customers/customer-names.ts'
import type { CustomerId, SiteId } from '../units/ids.ts'
import type { ListHousehold } from './group-rows.ts'
import {
  addressKey,
  NAMES_ALIKE,
  nameLikeness,
  nameWords,
  normalEmail,
  normalPhone,
  normalPostalCode,
} from './normal-forms.ts'
import { PIECES_A_STEP, type Reckoning } from './steps.ts'

/** A household that is in the books already, as far as it is needed to recognise it. */
export interface KnownHousehold {
  readonly siteId: SiteId
  readonly customerId: CustomerId
  readonly reference: string
  readonly letterName: string
  readonly sortName: string
  readonly phones: readonly string[]
  readonly emails: readonly string[]
  readonly line1: string
  readonly line2: string
  readonly town: string
  readonly postalCode: string
}

/** Whom a household of the list looks like: one in the books, or an earlier one of the same list (by its place there). */
export type LikeWhom =
  | { readonly in: 'books'; readonly siteId: SiteId; readonly customerId: CustomerId }
  | { readonly in: 'list'; readonly index: number }

/** What is done with a household of the list. */
export const CHOICES = ['new', 'same-household', 'same-customer', 'leave-out'] as const
export type Choice = (typeof CHOICES)[number]

export interface Likeness {
  readonly whom: LikeWhom
  readonly called: string
  /** In words: "same telephone, same address". */
  readonly because: string
  /** What is sensible to do unless somebody says otherwise. */
  readonly advice: Choice
}

interface Remembered {
  readonly whom: LikeWhom
  readonly called: string
  readonly reference: string
  readonly name: readonly string[]
  readonly phones: ReadonlySet<string>
  readonly emails: ReadonlySet<string>
  readonly place: string
  readonly postalCode: string
}

/** Most households looked at for one key; a switchboard's number or a tower's address is shared by many. */
const MOST_ALIKE = 40

/**
 * Finds for every household of the list, in its order, whom it looks like most: in the books first, else earlier in the list. Looked up by
 * customer number, telephone, e-mail, address, and by name within the postal code, so the work grows with the list and not with its square.
 */
export function* findLikenesses(
  list: readonly ListHousehold[],
  books: readonly KnownHousehold[],
): Reckoning<(Likeness | null)[]> {
  const index = new Map<string, Remembered[]>()
  for (const known of books) remember(index, rememberKnown(known))
  const found: (Likeness | null)[] = []
  for (const [at, household] of list.entries()) {
    const own = rememberListed(household, at)
    found.push(mostAlike(own, index))
    remember(index, own)
    if (found.length % PIECES_A_STEP === 0)
      yield { done: found.length, total: list.length, saying: 'comparing with the households that are known' }
  }
  return found
}

function keysOf(one: Remembered): string[] {
  return [
    ...(one.reference === '' ? [] : [`r ${one.reference}`]),
    ...[...one.phones].map((phone) => `p ${phone}`),
    ...[...one.emails].map((email) => `e ${email}`),
    ...(one.place === '' ? [] : [`a ${one.place}`]),
    ...one.name.filter((word) => word.length >= 3).map((word) => `n ${one.postalCode} ${word.slice(0, 4)}`),
  ]
}

function remember(index: Map<string, Remembered[]>, one: Remembered): void {
  for (const key of keysOf(one)) {
    const there = index.get(key)
    if (there === undefined) index.set(key, [one])
    else if (there.length < MOST_ALIKE) there.push(one)
  }
}

function mostAlike(own: Remembered, index: ReadonlyMap<string, readonly Remembered[]>): Likeness | null {
  let best: { likeness: Likeness; weight: number } | null = null
  const seen = new Set<Remembered>()
  for (const key of keysOf(own)) {
    for (const other of index.get(key) ?? []) {
      if (seen.has(other)) continue
      seen.add(other)
      const judged = compare(own, other)
      if (judged !== null && judged.weight > (best?.weight ?? 0)) best = judged
    }
  }
  return best?.likeness ?? null
}

/** What two households have in common, and what follows from it; null when it is too little to speak of. */
function compare(own: Remembered, other: Remembered): { likeness: Likeness; weight: number } | null {
  const share = {
    reference: own.reference !== '' && own.reference === other.reference,
    phone: shareOne(own.phones, other.phones),
    email: shareOne(own.emails, other.emails),
    place: own.place !== '' && own.place === other.place,
    postalCode: own.postalCode !== '' && own.postalCode === other.postalCode,
  }
  const likeness = nameLikeness(own.name, other.name)
  const alike = likeness >= NAMES_ALIKE
  const reached = share.phone || share.email
  const elsewhere = own.place !== '' && other.place !== '' && !share.place
  const said = [
    ...(share.reference ? ['same customer number'] : []),
    ...(share.phone ? ['same telephone'] : []),
    ...(share.email ? ['same e-mail'] : []),
    ...(share.place ? ['same address'] : []),
    ...(alike ? [likeness === 1 && own.name.join() === other.name.join() ? 'same name' : 'similar name'] : []),
    ...(share.postalCode && !share.place ? ['same postal code'] : []),
    ...(elsewhere ? ['another address'] : []),
  ]
  const advice = adviceFor({ ...share, alike, reached, elsewhere, exact: own.name.join() === other.name.join() })
  if (advice === null) return null
  const weight =
    (share.reference ? 8 : 0) +
    (share.place ? 4 : 0) +
    (alike ? 4 * likeness : 0) +
    (share.phone ? 3 : 0) +
    (share.email ? 3 : 0) +
    (other.whom.in === 'books' ? 0.5 : 0)
  return { likeness: { whom: other.whom, called: other.called, because: said.join(', '), advice }, weight }
}

interface Shared {
  readonly reference: boolean
  readonly reached: boolean
  readonly place: boolean
  readonly postalCode: boolean
  readonly alike: boolean
  readonly exact: boolean
  readonly elsewhere: boolean
}

/** The sensible choice: the same household, a further address of a customer, or somebody else worth a look; null: nobody alike. */
function adviceFor({ reference, reached, place, postalCode, alike, exact, elsewhere }: Shared): Choice | null {
  if (reference) return elsewhere ? 'same-customer' : 'same-household'
  if (alike && place) return 'same-household'
  if (alike && reached) return elsewhere ? 'same-customer' : 'same-household'
  if (exact && postalCode && !elsewhere) return 'same-household'
  // Somebody else at the same address, or on the same telephone: a tenant, a spouse, a property office. Worth a look, and new.
  return place || reached || (exact && postalCode) ? 'new' : null
}

function shareOne(a: ReadonlySet<string>, b: ReadonlySet<string>): boolean {
  for (const one of a) if (b.has(one)) return true
  return false
}

function rememberKnown(known: KnownHousehold): Remembered {
  return {
    whom: { in: 'books', siteId: known.siteId, customerId: known.customerId },
    called: known.sortName,
    reference: known.reference.toLowerCase(),
    name: nameWords(known.letterName),
    phones: new Set(known.phones.map(normalPhone).filter((phone) => phone !== '')),
    emails: new Set(known.emails.map(normalEmail).filter((email) => email !== '')),
    place: addressKey(`${known.line1} ${known.line2}`, known.town, known.postalCode),
    postalCode: normalPostalCode(known.postalCode),
  }
}

function rememberListed(household: ListHousehold, index: number): Remembered {
  const { address } = household
  return {
    whom: { in: 'list', index },
    called: `${household.names.sortName}, line ${household.lines[0] ?? 0}`,
    reference: household.reference.toLowerCase(),
    name: nameWords(letterNameOf(household.name)),
    phones: new Set(household.phones.map(normalPhone).filter((phone) => phone !== '')),
    emails: new Set(household.emails.map(normalEmail)),
    place: addressKey(`${address.line1} ${address.line2}`, address.town, address.postalCode),
    postalCode: normalPostalCode(address.postalCode),
  }
}

function letterNameOf(name: CustomerName): string {
  return keptNamesOf(name).letterName
}
