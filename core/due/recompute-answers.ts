import type { OpenBooks } from '../answering.ts'
import type { FollowUp } from '../happenings.ts'
import { ok } from '../result.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { InstallationId, SiteId } from '../units/ids.ts'
import { dueDatesOf } from './due-dates.ts'
import { writeInstallationDues, writeSiteDues, writeStageDues } from './due-dates-store.ts'
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
  const kept = await readKeptInstallations(read, officeId, scope)
  const { stages, installations, sites } = changedDues(kept, figures)
  await writeStageDues(tx, dialect, officeId, stages)
  await writeInstallationDues(tx, dialect, officeId, installations)
  // Of named households also those whose last unit is gone: they have no installation left to say so.
  await writeSiteDues(tx, dialect, officeId, scope.kind === 'sites' ? scope.siteIds : sites)
  return stages.length
}

/** Reckons everything again, a stretch of installations at a time. */
export async function recomputeAllDueDates(books: OpenBooks): Promise<number> {
  const defaults = await readDueDefaults(books.read, books.officeId)
  const last = await lastInstallationId(books.read, books.officeId)
  let changed = 0
  for (let after = 0; after < last; after += STRETCH)
    changed += await recomputeDueDates(books, { kind: 'stretch', after, until: after + STRETCH }, defaults)
  return changed
}

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

interface ChangedDues {
  readonly stages: StageDue[]
  readonly installations: [InstallationId, CalendarDate | null][]
  readonly sites: SiteId[]
}

function changedDues(kept: readonly KeptInstallation[], defaults: DueDefaults): ChangedDues {
  const changed: ChangedDues = { stages: [], installations: [], sites: [] }
  for (const installation of kept) {
    const dues = installation.closed ? closedDues(installation) : dueDatesOf(installation.facts, defaults)
    dues.forEach((due, index) => {
      const stored = installation.stored[index]
      if (stored?.dueOn !== due.dueOn || stored.rule !== due.rule || stored.reason !== due.reason)
        changed.stages.push(due)
    })
    const dueOn = earliestDueOn(dues)
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
