import type { CustomerId, SiteId } from '../units/ids.ts'
import type { Choice } from './find-likeness.ts'
import type { ListHousehold } from './group-rows.ts'
import { joinListed } from './join-listed.ts'
import { choiceFor, type JudgedHousehold } from './judge-list.ts'

/** A household to be written: under a new customer, under one in the books, or under that of another new household. */
export interface FreshHousehold {
  readonly household: ListHousehold
  readonly customer:
    | { readonly kind: 'new' }
    | { readonly kind: 'books'; readonly customerId: CustomerId }
    | { readonly kind: 'fresh'; readonly index: number }
}

/** What is told of a household that is in the books already. */
export interface JoinedHousehold {
  readonly siteId: SiteId
  readonly customerId: CustomerId
  readonly household: ListHousehold
}

/** What becomes of the households of a list; the four make up all of them. */
export interface PlanTally {
  /** Under a customer of their own. */
  readonly created: number
  /** Told of a household that is in the books, or further up in the list. */
  readonly completed: number
  readonly furtherAddresses: number
  readonly leftOut: number
}

export interface ImportPlan {
  readonly fresh: readonly FreshHousehold[]
  readonly joined: readonly JoinedHousehold[]
  readonly tally: PlanTally
}

type Ends =
  | { readonly kind: 'fresh'; readonly index: number }
  | { readonly kind: 'books'; readonly siteId: SiteId; readonly customerId: CustomerId }
  | { readonly kind: 'gone' }

/**
 * What will be written, from the judged list and what was chosen. Each household ends in exactly one place: new, joined to one that is
 * new or in the books, or left out. One that was like a household left out is new. A customer number that is given away, in the books
 * (`numbersInBooks`, in small letters) or further up, is kept in the note.
 */
export function planImport(
  judged: readonly JudgedHousehold[],
  chosen: Readonly<Record<string, Choice>>,
  numbersInBooks: ReadonlySet<string>,
): ImportPlan {
  const fresh: FreshHousehold[] = []
  const joined = new Map<SiteId, JoinedHousehold>()
  const ends: Ends[] = []
  let leftOut = 0
  for (const one of judged) {
    const end = endOf(one, choiceFor(one, chosen), ends, fresh, joined)
    if (end.kind === 'gone') leftOut += 1
    ends.push(end)
  }
  const created = fresh.filter(({ customer }) => customer.kind === 'new').length
  const furtherAddresses = fresh.length - created
  return {
    fresh: withFreeNumbers(fresh, numbersInBooks),
    joined: [...joined.values()],
    tally: { created, completed: judged.length - fresh.length - leftOut, furtherAddresses, leftOut },
  }
}

/** A customer number names one customer: whoever comes second goes without, and the note says which number the list had. */
function withFreeNumbers(fresh: readonly FreshHousehold[], numbersInBooks: ReadonlySet<string>): FreshHousehold[] {
  const given = new Set(numbersInBooks)
  return fresh.map((one) => {
    const { household, customer } = one
    const number = household.reference.toLowerCase()
    if (customer.kind !== 'new' || number === '') return one
    if (!given.has(number)) {
      given.add(number)
      return one
    }
    const said = `Customer number in the list: ${household.reference}, which another customer has`
    const note = [household.note, said].filter((piece) => piece !== '').join('\n')
    return { ...one, household: { ...household, reference: '', note } }
  })
}

function endOf(
  one: JudgedHousehold,
  choice: Choice,
  ends: readonly Ends[],
  fresh: FreshHousehold[],
  joined: Map<SiteId, JoinedHousehold>,
): Ends {
  const { household, likeness } = one
  if (choice === 'leave-out') return { kind: 'gone' }
  const like = likeness === null ? null : whereIs(likeness.whom, ends)
  if (choice === 'same-household' && like?.kind === 'books') {
    const there = joined.get(like.siteId)
    joined.set(like.siteId, { ...like, household: there ? joinListed(there.household, household) : household })
    return like
  }
  if (choice === 'same-household' && like?.kind === 'fresh') {
    const there = fresh[like.index]
    if (there) fresh[like.index] = { ...there, household: joinListed(there.household, household) }
    return like
  }
  fresh.push({ household, customer: customerOf(choice, like) })
  return { kind: 'fresh', index: fresh.length - 1 }
}

function whereIs(whom: NonNullable<JudgedHousehold['likeness']>['whom'], ends: readonly Ends[]): Ends | null {
  if (whom.in === 'books') return { kind: 'books', siteId: whom.siteId, customerId: whom.customerId }
  const end = ends[whom.index] ?? null
  return end?.kind === 'gone' ? null : end
}

function customerOf(choice: Choice, like: Ends | null): FreshHousehold['customer'] {
  if (choice !== 'same-customer' || like === null || like.kind === 'gone') return { kind: 'new' }
  return like.kind === 'books' ? { kind: 'books', customerId: like.customerId } : { kind: 'fresh', index: like.index }
}
