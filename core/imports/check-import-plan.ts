import { checkPlannedStages } from './check-planned-stages.ts'
import { checkTrueToCells } from './check-true-to-cells.ts'
import type { Choice } from './find-likeness.ts'
import type { ListSheet } from './find-sheet.ts'
import type { ListHousehold } from './group-rows.ts'
import type { JudgedHousehold, JudgedList } from './judge-list.ts'
import type { FreshHousehold, ImportPlan } from './plan-import.ts'

/** A plan with all that it follows from. */
export interface PlanToCheck {
  readonly sheet: ListSheet
  readonly judged: JudgedList
  readonly chosen: Readonly<Record<string, Choice>>
  /** Customer numbers given away in the books, in small letters. */
  readonly numbersInBooks: ReadonlySet<string>
  readonly plan: ImportPlan
}

/**
 * The judge of an import: every complaint in words, none when what will be written follows from the rows that were judged and from
 * what was chosen. Shares nothing with the planner but the shapes of both.
 */
export function checkImportPlan(check: PlanToCheck): string[] {
  return [
    ...checkEveryRowOnce(check),
    ...checkChoices(check),
    ...checkNumbers(check),
    ...checkTally(check),
    ...checkPlannedStages(check.judged, plannedHouseholds(check.plan)),
    ...checkTrueToCells(check.sheet, plannedHouseholds(check.plan)),
  ]
}

function plannedHouseholds(plan: ImportPlan): ListHousehold[] {
  return [...plan.fresh, ...plan.joined].map(({ household }) => household)
}

/** What somebody decided for a household: their own word where there was anything to decide, else the advice. */
function decided({ household, likeness }: JudgedHousehold, chosen: PlanToCheck['chosen']): Choice {
  const word = chosen[String(household.lines[0] ?? 0)]
  if (likeness !== null) return word ?? likeness.advice
  return word === 'leave-out' ? word : 'new'
}

/** Every accepted row is in exactly one planned household, beside the rows it was judged with; nothing else is planned. */
function checkEveryRowOnce({ judged, chosen, plan }: PlanToCheck): string[] {
  const complaints: string[] = []
  const placeOf = new Map<number, ListHousehold>()
  for (const household of plannedHouseholds(plan))
    for (const line of household.lines) {
      if (placeOf.has(line)) complaints.push(`Line ${line} is planned twice.`)
      placeOf.set(line, household)
    }
  const accepted = new Set<number>()
  for (const one of judged.households) {
    const isOut = decided(one, chosen) === 'leave-out'
    const places = new Set(one.household.lines.map((line) => placeOf.get(line)))
    for (const line of one.household.lines) {
      accepted.add(line)
      if (isOut && placeOf.has(line)) complaints.push(`Line ${line} was left out and is planned.`)
      if (!isOut && !placeOf.has(line)) complaints.push(`Line ${line} was accepted and is not planned.`)
    }
    if (!isOut && places.size > 1) complaints.push(`The rows of line ${one.household.lines[0] ?? 0} are torn apart.`)
  }
  for (const { line } of judged.refused)
    if (placeOf.has(line)) complaints.push(`Line ${line} was refused and is planned.`)
  for (const line of placeOf.keys()) if (!accepted.has(line)) complaints.push(`Line ${line} was never accepted.`)
  return complaints
}

/** Where a planned household goes: into the books as new, or to a site that is there. */
interface Landing {
  readonly fresh: FreshHousehold | null
  readonly siteId: number | null
}

/** What was chosen for every likeness is what is planned. One that was like a household left out is new. */
function checkChoices({ judged, chosen, plan }: PlanToCheck): string[] {
  const landings = indexLandings(plan)
  return judged.households.flatMap((one) => {
    const choice = decided(one, chosen)
    const line = one.household.lines[0] ?? 0
    const landing = landings(line)
    if (choice === 'leave-out' || landing === null) return []
    const begins = landing.fresh?.household.lines[0] === line
    const like = likeOf(one, judged, landings)
    if (choice === 'new' || like === null)
      return begins && landing.fresh?.customer.kind === 'new' ? [] : [`Line ${line} should be new and is not.`]
    if (choice === 'same-household')
      return like.fresh === landing.fresh && like.siteId === landing.siteId
        ? []
        : [`Line ${line} should be the same household as ${one.likeness?.called ?? ''} and is not.`]
    return begins && isOfSameCustomer(landing.fresh, one, like, plan)
      ? []
      : [`Line ${line} should be a further address of ${one.likeness?.called ?? ''} and is not.`]
  })
}

/** Landings by line, each household looked at once. */
function indexLandings(plan: ImportPlan): (line: number) => Landing | null {
  const byLine = new Map<number, Landing>()
  for (const fresh of plan.fresh) for (const line of fresh.household.lines) byLine.set(line, { fresh, siteId: null })
  for (const { household, siteId } of plan.joined)
    for (const line of household.lines) byLine.set(line, { fresh: null, siteId })
  return (line) => byLine.get(line) ?? null
}

/** Where the household that one looks like lands; null when it is left out or there is none. */
function likeOf(
  { likeness }: JudgedHousehold,
  judged: JudgedList,
  landings: (line: number) => Landing | null,
): Landing | null {
  if (likeness === null) return null
  if (likeness.whom.in === 'books') return { fresh: null, siteId: likeness.whom.siteId }
  return landings(judged.households[likeness.whom.index]?.household.lines[0] ?? -1)
}

function isOfSameCustomer(
  own: FreshHousehold | null,
  { likeness }: JudgedHousehold,
  like: Landing,
  plan: ImportPlan,
): boolean {
  if (own === null) return false
  if (like.fresh !== null) return own.customer.kind === 'fresh' && plan.fresh[own.customer.index] === like.fresh
  const wanted =
    likeness?.whom.in === 'books'
      ? likeness.whom.customerId
      : plan.joined.find(({ siteId }) => siteId === like.siteId)?.customerId
  return own.customer.kind === 'books' && own.customer.customerId === wanted
}

/** No two new customers have one number, and none has one that is given away in the books. */
function checkNumbers({ plan, numbersInBooks }: PlanToCheck): string[] {
  const given = new Map<string, number>()
  return plan.fresh.flatMap(({ household, customer }) => {
    const number = household.reference.toLowerCase()
    if (customer.kind !== 'new' || number === '') return []
    const line = household.lines[0] ?? 0
    const earlier = given.get(number)
    if (earlier === undefined) given.set(number, line)
    if (numbersInBooks.has(number)) return [`Line ${line} has customer number ${household.reference} of the books.`]
    return earlier === undefined
      ? []
      : [`Lines ${earlier} and ${line} have one customer number, ${household.reference}.`]
  })
}

/** Created, completed, further addresses and left out are all the households that were found, none counted twice. */
function checkTally({ judged, chosen, plan }: PlanToCheck): string[] {
  const { created, completed, furtherAddresses, leftOut } = plan.tally
  const complaints: string[] = []
  const say = (is: number, should: number, what: string): void => {
    if (is !== should) complaints.push(`${is} households ${what}, where there are ${should}.`)
  }
  const out = judged.households.filter((one) => decided(one, chosen) === 'leave-out').length
  const newCustomers = plan.fresh.filter(({ customer }) => customer.kind === 'new').length
  say(created, newCustomers, 'are said to be created')
  say(furtherAddresses, plan.fresh.length - newCustomers, 'are said to be further addresses')
  say(leftOut, out, 'are said to be left out')
  say(created + completed + furtherAddresses + leftOut, judged.households.length, 'are counted in all')
  const lines = judged.households.reduce((sum, { household }) => sum + household.lines.length, judged.refused.length)
  say(lines, judged.rows.length, 'and refused rows make up the rows')
  return complaints
}
