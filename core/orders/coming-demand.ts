import { addDays, type CalendarDate, daysBetween, earlierOf, laterOf } from '../units/calendar-date.ts'
import type { CustomerId, InstallationId, PartId, SiteId } from '../units/ids.ts'
import type { LetterStep, Replies } from './letters-to-visits.ts'
import type { ComingVisits, LikelyUse } from './reorder-shapes.ts'
import { type HouseholdStanding, type LetterPace, visitedBy } from './reply-course.ts'

/** A household with something due, as the books have it. */
export interface DueHousehold {
  readonly siteId: SiteId
  readonly customerId: CustomerId
  /** The earliest due date of its stages. */
  readonly dueOn: CalendarDate
  readonly unasked: boolean
  readonly gone: boolean
  readonly visitedOn: CalendarDate | null
}

/** Stages of one unit that hold the same part. */
export interface StagesOfUnit {
  readonly installationId: InstallationId
  readonly partId: PartId
  readonly pieces: number
  readonly dueOn: CalendarDate
}

export interface WrittenLetter {
  readonly customerId: CustomerId
  readonly kind: LetterStep
  readonly writtenOn: CalendarDate
}

export interface ComingFacts {
  readonly today: CalendarDate
  /** So far ahead one looks. */
  readonly horizon: number
  readonly households: readonly DueHousehold[]
  /** Stages that no booked visit is to change. */
  readonly stages: readonly StagesOfUnit[]
  /** The households of the units that are in use. */
  readonly units: ReadonlyMap<InstallationId, SiteId>
  readonly letters: readonly WrittenLetter[]
  readonly booked: readonly { readonly siteId: SiteId; readonly on: CalendarDate }[]
  readonly replies: Replies
  readonly pace: LetterPace & { readonly firstLetterLeadDays: number }
  readonly graceDays: number
}

export interface ComingDemand {
  readonly likely: readonly LikelyUse[]
  readonly visits: ComingVisits
  /** Households that get no letters and are due by the lead of a first letter. */
  readonly waitingUnasked: number
}

/**
 * What may be asked for: each household is one toss, at the chance of a visit by its place in the row of letters; on that visit it
 * needs all that is due by then or within the grace after it. Households that are alike are put together.
 */
export function comingDemand(facts: ComingFacts): ComingDemand {
  const places = placesOf(facts)
  const leftUntil = firstDayNeeded(facts)
  const groups = new Map<string, { -readonly [Field in keyof LikelyUse]: LikelyUse[Field] }>()
  for (const { siteId, partId, pieces, dueOn } of ofHouseholds(facts)) {
    const place = places.of(siteId, dueOn)
    if (place === null) continue
    const from = leftUntil(dueOn)
    const key = `${partId}/${place.nth}/${from}/${pieces}`
    const group = groups.get(key)
    if (group) group.households += 1
    else groups.set(key, { partId, pieces, households: 1, visitedBy: place.visitedBy, from })
  }
  return { likely: [...groups.values()], visits: visitsOf(facts, places), waitingUnasked: waitingOf(facts) }
}

/** From which day on, counted from today, a visit would see to what falls due then; reckoned once a date. */
function firstDayNeeded({ today, graceDays }: ComingFacts): (dueOn: CalendarDate) => number {
  const known = new Map<CalendarDate, number>()
  return (dueOn) => {
    const found = known.get(dueOn)
    if (found !== undefined) return found
    const from = Math.max(0, daysBetween(today, dueOn) - graceDays)
    known.set(dueOn, from)
    return from
  }
}

interface StagesOfHousehold {
  readonly siteId: SiteId
  readonly partId: PartId
  pieces: number
  dueOn: CalendarDate
}

/** Several units of a household with the same part are one need of several pieces, from the first due date on. */
function ofHouseholds({ stages, units }: ComingFacts): StagesOfHousehold[] {
  const byPart = new Map<PartId, Map<SiteId, StagesOfHousehold>>()
  for (const { installationId, partId, pieces, dueOn } of stages) {
    const siteId = units.get(installationId)
    if (siteId === undefined) continue
    const ofPart = byPart.get(partId) ?? new Map<SiteId, StagesOfHousehold>()
    byPart.set(partId, ofPart)
    const known = ofPart.get(siteId)
    if (!known) ofPart.set(siteId, { siteId, partId, pieces, dueOn })
    else {
      known.pieces += pieces
      known.dueOn = earlierOf(known.dueOn, dueOn)
    }
  }
  return [...byPart.values()].flatMap((ofPart) => [...ofPart.values()])
}

interface Place {
  /** One number for all households that stand alike. */
  readonly nth: number
  readonly visitedBy: Float64Array
}

interface Places {
  /** Null where nobody goes. `dueOn` counts only for a household that has a visit booked already: the next one begins anew. */
  readonly of: (siteId: SiteId, dueOn: CalendarDate) => Place | null
}

function placesOf(facts: ComingFacts): Places {
  const { today, pace, replies, horizon } = facts
  const households = new Map(facts.households.map((each) => [each.siteId, each]))
  const booked = lastBooked(facts.booked)
  const latest = latestLetterOf(facts.letters)
  const known = new Map<string, Place>()
  const courseOf = (standing: HouseholdStanding): Place => {
    const key = Object.values(standing).join(' ')
    const found = known.get(key) ?? { nth: known.size, visitedBy: visitedBy(standing, replies, pace, horizon) }
    known.set(key, found)
    return found
  }
  const placeOf = (siteId: SiteId, dueOn: CalendarDate, visitOn: CalendarDate | null): Place | null => {
    const household = households.get(siteId)
    if (!household || household.gone) return null
    const letter = latest.get(household.customerId) ?? null
    const counts = visitOn === null ? household.dueOn : dueOn
    return courseOf(standingOf(household, { today, pace, dueOn: counts, visitOn, letter }))
  }
  // Without a visit the place of a household is the same whatever it needs: it is looked for once
  const unvisited = new Map<SiteId, Place | null>()
  return {
    of: (siteId, dueOn) => {
      const visitOn = booked.get(siteId)
      if (visitOn !== undefined) return placeOf(siteId, dueOn, visitOn)
      const found = unvisited.get(siteId)
      if (found !== undefined) return found
      const place = placeOf(siteId, dueOn, null)
      unvisited.set(siteId, place)
      return place
    },
  }
}

interface StandingFacts {
  readonly today: CalendarDate
  readonly pace: ComingFacts['pace']
  readonly dueOn: CalendarDate
  readonly visitOn: CalendarDate | null
  readonly letter: WrittenLetter | null
}

/**
 * Where a household stands: after the letter that counts for its due date, before its first one, or without letters. With a visit
 * booked, what that visit leaves begins a new row of letters after it.
 */
export function standingOf(household: DueHousehold, facts: StandingFacts): HouseholdStanding {
  const { today, pace, dueOn, visitOn, letter } = facts
  const untilLead = daysBetween(today, dueOn) - pace.firstLetterLeadDays
  const from = Math.max(0, untilLead, visitOn === null ? 0 : daysBetween(today, visitOn) + 1)
  if (household.unasked) return { path: 'unasked', from }
  if (visitOn !== null || letter === null) return { path: 'to-write', firstIn: from }
  const oldest = addDays(dueOn, -(pace.firstLetterLeadDays + pace.finalAfterDays))
  const counts = letter.writtenOn >= oldest && (household.visitedOn === null || letter.writtenOn > household.visitedOn)
  if (!counts) return { path: 'to-write', firstIn: from }
  return { path: 'written', kind: letter.kind, daysAgo: Math.max(0, daysBetween(letter.writtenOn, today)) }
}

function lastBooked(booked: ComingFacts['booked']): Map<SiteId, CalendarDate> {
  const last = new Map<SiteId, CalendarDate>()
  for (const { siteId, on } of booked) last.set(siteId, laterOf(last.get(siteId) ?? on, on))
  return last
}

function latestLetterOf(letters: readonly WrittenLetter[]): Map<CustomerId, WrittenLetter> {
  const latest = new Map<CustomerId, WrittenLetter>()
  for (const letter of letters) {
    const known = latest.get(letter.customerId)
    if (!known || letter.writtenOn > known.writtenOn) latest.set(letter.customerId, letter)
  }
  return latest
}

/** Visits as such: each booked one, and each household without one at its chance. */
function visitsOf(facts: ComingFacts, places: Places): ComingVisits {
  const byDay = new Map<CalendarDate, number>()
  for (const { on } of facts.booked) byDay.set(on, (byDay.get(on) ?? 0) + 1)
  const withVisit = new Set(facts.booked.map(({ siteId }) => siteId))
  const groups = new Map<number, { households: number; visitedBy: Float64Array }>()
  for (const { siteId, dueOn } of facts.households) {
    if (withVisit.has(siteId)) continue
    const place = places.of(siteId, dueOn)
    if (place === null) continue
    const group = groups.get(place.nth)
    if (group) group.households += 1
    else groups.set(place.nth, { households: 1, visitedBy: place.visitedBy })
  }
  return { booked: [...byDay].map(([on, visits]) => ({ on, visits })), likely: [...groups.values()] }
}

function waitingOf({ households, today, pace }: ComingFacts): number {
  const lead = addDays(today, pace.firstLetterLeadDays)
  return households.filter((each) => each.unasked && !each.gone && earlierOf(each.dueOn, lead) === each.dueOn).length
}
