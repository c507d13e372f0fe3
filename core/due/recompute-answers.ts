import type { OpenBooks } from '../answering.ts'
import type { FollowUp } from '../happenings.ts'
import { ok } from '../result.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { InstallationId, SiteId } from '../units/ids.ts'
import { dueDatesOf } from './due-dates.ts'
import {
  bringBackIndexes,
  type EarliestDue,
  setAsideIndexes,
  writeInstallationDues,
  writeKnownSiteDues,
  writeSiteDues,
  writeStageDues,
} from './due-dates-store.ts'
import type { DueDefaults, StageDue } from './due-facts.ts'
import {
  type DueScope,
  type KeptInstallation,
  lastInstallationId,
  readDueDefaults,
  readKeptInstallations,
} from './due-facts-store.ts'
import { earliestDueOn } from './household-reason.ts'

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
  return stages.length
}

/**
 * Reckons everything again in the open transaction and writes the same as `recomputeDueDates` does stretch by stretch, but cheaper:
 * households are written once at the end, and once `many` dates have moved, a third of those looked at, the indexes by due date are made anew.
 */
export async function recomputeAllDueDates(books: OpenBooks, many = MANY_MOVED): Promise<number> {
  const { tx, read, dialect, officeId } = books
  const defaults = await readDueDefaults(read, officeId)
  const last = await lastInstallationId(read, officeId)
  const households = new Map<SiteId, Household>()
  let setAside: string[] | null = null
  let [changed, moved, seen] = [0, 0, 0]
  for (let after = 0; after < last; after += AT_ONCE) {
    const kept = await readKeptInstallations(
      read,
      officeId,
      { kind: 'stretch', after, until: after + AT_ONCE },
      books.today,
    )
    const dues = changedDues(kept, defaults)
    gather(households, kept, dues)
    changed += dues.stages.length
    moved += dues.moved
    seen += dues.seen
    if (setAside === null && moved >= many && moved > seen / 3) setAside = await setAsideIndexes(tx, dialect)
    await writeStageDues(tx, dialect, officeId, dues.stages)
    await writeInstallationDues(tx, dialect, officeId, dues.installations)
  }
  await writeKnownSiteDues(tx, dialect, officeId, changedHouseholds(households))
  await bringBackIndexes(tx, setAside ?? [])
  return changed
}

/** Installations that are held in memory at once: more of them live so long that the engine moves them about. */
const AT_ONCE = 500

/** So many moved dates are worth making an index anew. */
const MANY_MOVED = 5_000

/** Installations to a stretch of the whole. */
export const STRETCH = 4_000

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
      await recomputeAllDueDates(books)
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

function gather(
  households: Map<SiteId, Household>,
  kept: readonly KeptInstallation[],
  { earliest }: Pick<ChangedDues, 'earliest'>,
): void {
  kept.forEach(({ siteId, siteDueOn }, index) => {
    const dueOn = earliest[index] ?? null
    const household = households.get(siteId)
    if (!household) households.set(siteId, { stored: siteDueOn, dueOn })
    else if (dueOn !== null && (household.dueOn === null || dueOn < household.dueOn)) household.dueOn = dueOn
  })
}

function changedHouseholds(households: ReadonlyMap<SiteId, Household>): EarliestDue<SiteId>[] {
  return [...households]
    .filter(([, { stored, dueOn }]) => stored !== dueOn)
    .map(([siteId, { dueOn }]): EarliestDue<SiteId> => [siteId, dueOn])
    .sort(([one], [other]) => one - other)
}

interface ChangedDues {
  /** Stages looked at, and how many of them are due on another day than before. */
  seen: number
  moved: number
  /** The earliest due date of every installation, in the order given. */
  readonly earliest: (CalendarDate | null)[]
  readonly stages: StageDue[]
  readonly installations: [InstallationId, CalendarDate | null][]
  readonly sites: SiteId[]
}

function changedDues(kept: readonly KeptInstallation[], defaults: DueDefaults): ChangedDues {
  const changed: ChangedDues = { seen: 0, moved: 0, earliest: [], stages: [], installations: [], sites: [] }
  for (const installation of kept) {
    const dues = installation.closed ? closedDues(installation) : dueDatesOf(installation.facts, defaults)
    changed.seen += dues.length
    dues.forEach((due, index) => {
      const stored = installation.stored[index]
      if (stored?.dueOn !== due.dueOn) changed.moved += 1
      if (stored?.dueOn !== due.dueOn || stored.rule !== due.rule || stored.reason !== due.reason)
        changed.stages.push(due)
    })
    const dueOn = earliestDueOn(dues)
    changed.earliest.push(dueOn)
    if (dueOn === installation.dueOn) continue
    changed.installations.push([installation.installationId, dueOn])
    changed.sites.push(installation.siteId)
  }
  return changed
}

function closedDues(installation: KeptInstallation): StageDue[] {
  return installation.facts.stages.map(({ stageId }) => ({
    stageId,
    dueOn: null,
    rule: 'not-dated',
    reason: 'the household is closed',
  }))
}
