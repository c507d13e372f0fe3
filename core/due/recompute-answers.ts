import type { OpenBooks, SecondHand, SharedTurns } from '../answering.ts'
import type { FollowUp } from '../happenings.ts'
import { ok } from '../result.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { SiteId } from '../units/ids.ts'
import {
  bringBackIndexes,
  type EarliestDue,
  setAsideIndexes,
  writeInstallationDues,
  writeKnownSiteDues,
  writeSiteDues,
  writeStageDues,
} from './due-dates-store.ts'
import type { DueDefaults } from './due-facts.ts'
import {
  type DueScope,
  lastInstallationId,
  readDueDefaults,
  readKeptInstallations,
  readKnownOfParts,
} from './due-facts-store.ts'
import { AT_ONCE, changedDues, countOf, type DueTurn, type DueTurnsInput, dueTurn } from './due-turn-answers.ts'

/** Households to a question, so that no list of ids grows beyond what a database takes. */
const SITES_AT_ONCE = 500

/** Reckons the due dates in scope again and writes down those that changed. Returns how many stages did. */
export async function recomputeDueDates(books: OpenBooks, scope: DueScope, defaults?: DueDefaults): Promise<number> {
  const { tx, read, dialect, officeId } = books
  const figures = defaults ?? (await readDueDefaults(read, officeId))
  const kept = await readKeptInstallations(read, officeId, scope, books.today)
  const { stages, installations, sites } = changedDues(kept, figures)
  await writeStageDues(tx, dialect, officeId, stages)
  await writeInstallationDues(tx, dialect, officeId, installations)
  // Of named households also those whose last unit is gone: they have no installation left to say so.
  await writeSiteDues(tx, dialect, officeId, scope.kind === 'sites' ? scope.siteIds : sites)
  return countOf(stages)
}

/** How everything is reckoned again. */
export interface RecomputeAll {
  /** So many moved dates are worth making the indexes by due date anew. */
  readonly many?: number
  /** Reckons part of it meanwhile. Only where the open transaction changed none of the facts that due dates rest on, but for the office's own figures. */
  readonly secondHand?: SecondHand | undefined
  /** Turns from which on sharing pays: with fewer the second thread would come too late. */
  readonly sharedFrom?: number
}

/**
 * Reckons everything again in the open transaction and writes the same as `recomputeDueDates` does stretch by stretch, but cheaper:
 * households are written once at the end, and once `many` dates have moved, a third of those looked at, the indexes by due date are made
 * anew. In a large office a second thread reckons while this one writes. Returns how many stages changed.
 */
export async function recomputeAllDueDates(books: OpenBooks, how: RecomputeAll = {}): Promise<number> {
  const { tx, read, dialect, officeId } = books
  const defaults = await readDueDefaults(read, officeId)
  const turns = Math.ceil((await lastInstallationId(read, officeId)) / AT_ONCE)
  const parts = await readKnownOfParts(read, officeId)
  const begin: DueTurnsInput = { officeId, today: books.today, defaults, parts }
  const shared =
    turns >= (how.sharedFrom ?? SHARED_FROM) ? how.secondHand?.share<DueTurn>(DUE_TURNS, begin, turns) : undefined
  const households = new Map<SiteId, Household>()
  let setAside: string[] | null = null
  let [changed, moved, seen] = [0, 0, 0]
  try {
    for await (const dues of everyTurn(shared ?? ownTurns(turns), (turn) => dueTurn(read, begin, turn))) {
      gather(households, dues)
      changed += countOf(dues.stages)
      moved += dues.moved
      seen += dues.seen
      if (setAside === null && moved >= (how.many ?? MANY_MOVED) && moved > seen / 3)
        setAside = await setAsideIndexes(tx, dialect)
      await writeStageDues(tx, dialect, officeId, dues.stages)
      await writeInstallationDues(tx, dialect, officeId, dues.installations)
    }
  } finally {
    await shared?.end()
  }
  await writeKnownSiteDues(tx, dialect, officeId, changedHouseholds(households))
  await bringBackIndexes(tx, setAside ?? [])
  return changed
}

/** The name that `core/turns.ts` knows the turns by. */
const DUE_TURNS = 'due-dates'

const SHARED_FROM = 40

/** So many moved dates are worth making an index anew. */
const MANY_MOVED = 5_000

/** Due dates follow whatever they rest on, inside the same transaction. */
export const dueFollowUp: FollowUp<OpenBooks> = async (books, happening) => {
  switch (happening.kind) {
    case 'sites-changed':
      await recomputeSites(books, happening.siteIds)
      break
    case 'installations-changed':
      for (let from = 0; from < happening.installationIds.length; from += SITES_AT_ONCE)
        await recomputeDueDates(books, {
          kind: 'installations',
          installationIds: happening.installationIds.slice(from, from + SITES_AT_ONCE),
        })
      break
    case 'part-changed':
      await recomputeDueDates(books, { kind: 'part', partId: happening.partId })
      break
    case 'reading-taken':
      await recomputeSites(books, [happening.siteId])
      break
    case 'lot-recalled':
      await recomputeDueDates(books, { kind: 'lot', lotId: happening.lotId })
      break
    case 'day-begun':
      await recomputeDueDates(books, { kind: 'own-dates-ended', before: books.today })
      break
    case 'visit-recorded':
      await recomputeSites(books, [happening.visit.siteId])
      break
    case 'visit-corrected':
      await recomputeSites(books, [...new Set([happening.before.siteId, happening.after.siteId])])
      break
    case 'due-rules-changed':
      await recomputeAllDueDates(books, { secondHand: books.secondHand })
      break
    default:
      break
  }
  return ok(undefined)
}

async function recomputeSites(books: OpenBooks, siteIds: readonly SiteId[]): Promise<void> {
  const defaults = await readDueDefaults(books.read, books.officeId)
  for (let from = 0; from < siteIds.length; from += SITES_AT_ONCE)
    await recomputeDueDates(books, { kind: 'sites', siteIds: siteIds.slice(from, from + SITES_AT_ONCE) }, defaults)
}

/** A household's earliest due date in the books, and as reckoned from its units so far. */
interface Household {
  readonly stored: CalendarDate | null
  dueOn: CalendarDate | null
}

function gather(households: Map<SiteId, Household>, { units }: DueTurn): void {
  for (const [siteId, stored, dueOn] of units) {
    const household = households.get(siteId)
    if (!household) households.set(siteId, { stored, dueOn })
    else if (dueOn !== null && (household.dueOn === null || dueOn < household.dueOn)) household.dueOn = dueOn
  }
}

function changedHouseholds(households: ReadonlyMap<SiteId, Household>): EarliestDue<SiteId>[] {
  return [...households]
    .filter(([, { stored, dueOn }]) => stored !== dueOn)
    .map(([siteId, { dueOn }]): EarliestDue<SiteId> => [siteId, dueOn])
    .sort(([one], [other]) => one - other)
}

/** What comes of every turn, in any order: those that the other thread has done first, so that it never waits to be read. */
async function* everyTurn<Turn>(
  pile: Pick<SharedTurns<Turn>, 'take' | 'ready' | 'awaited'>,
  own: (turn: number) => Promise<Turn>,
): AsyncGenerator<Turn> {
  for (;;) {
    const given = pile.ready()
    const turn = given === null ? pile.take() : null
    const made = given ?? (turn === null ? await pile.awaited() : await own(turn))
    if (made !== null) yield made
    else {
      const left = pile.take()
      if (left === null) return
      yield await own(left)
    }
  }
}

/** All turns for whoever asks, where there is nobody to share with. */
function ownTurns(turns: number): Pick<SharedTurns<DueTurn>, 'take' | 'ready' | 'awaited'> {
  let next = 0
  return { take: () => (next < turns ? next++ : null), ready: () => null, awaited: async () => null }
}
