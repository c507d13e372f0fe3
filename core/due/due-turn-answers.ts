import type { ReadDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { InstallationId, OfficeId, SiteId } from '../units/ids.ts'
import { dueDatesOf } from './due-dates.ts'
import type { ChangedStages, DueDefaults, StageDue } from './due-facts.ts'
import { type KeptInstallation, type KnownOfParts, readKeptInstallations } from './due-facts-store.ts'
import { earliestDueOn } from './household-reason.ts'

/** Installations to a turn: more of them live so long in memory that the engine moves them about. */
export const AT_ONCE = 500

/** What turns are reckoned from; the office's figures come along, since they may just have changed, and what all turns would ask alike. */
export interface DueTurnsInput {
  readonly officeId: OfficeId
  readonly today: CalendarDate
  readonly defaults: DueDefaults
  readonly parts: KnownOfParts
}

/** How many stages are to be written. */
export const countOf = ({ ids, movedIds }: ChangedStages): number => ids.length + movedIds.length

/** What is to be written of the installations looked at, and what they are due on. Plain data: it travels between threads. */
export interface DueTurn {
  /** Stages looked at, and how many of them are due on another day than before. */
  readonly seen: number
  readonly moved: number
  readonly stages: ChangedStages
  readonly installations: readonly (readonly [InstallationId, CalendarDate | null])[]
  /** Every unit: its household, the date that stands in the books for that, and the unit's own earliest due date. */
  readonly units: readonly (readonly [SiteId, CalendarDate | null, CalendarDate | null])[]
  /** Households of units whose earliest date moves. */
  readonly sites: readonly SiteId[]
}

/** Reckons the installations of one turn. */
export async function dueTurn(read: ReadDb, input: DueTurnsInput, turn: number): Promise<DueTurn> {
  const { officeId, today, defaults, parts } = input
  const stretch = { kind: 'stretch', after: turn * AT_ONCE, until: (turn + 1) * AT_ONCE } as const
  return changedDues(await readKeptInstallations(read, officeId, stretch, today, parts), defaults)
}

export function changedDues(kept: readonly KeptInstallation[], defaults: DueDefaults): DueTurn {
  let [seen, moved] = [0, 0]
  const stages = gatheredStages()
  const installations: [InstallationId, CalendarDate | null][] = []
  const units: [SiteId, CalendarDate | null, CalendarDate | null][] = []
  const sites: SiteId[] = []
  for (const installation of kept) {
    const dues = installation.closed ? closedDues(installation) : dueDatesOf(installation.facts, defaults)
    seen += dues.length
    dues.forEach((due, index) => {
      const stored = installation.stored[index]
      if (stored?.dueOn !== due.dueOn) moved += 1
      if (stored?.rule !== due.rule || stored.reason !== due.reason) stages.add(due)
      else if (stored.dueOn !== due.dueOn) stages.move(due)
    })
    const dueOn = earliestDueOn(dues)
    units.push([installation.siteId, installation.siteDueOn, dueOn])
    if (dueOn === installation.dueOn) continue
    installations.push([installation.installationId, dueOn])
    sites.push(installation.siteId)
  }
  return { seen, moved, stages: stages.all, installations, units, sites }
}

interface GatheredStages {
  readonly all: ChangedStages
  readonly add: (due: StageDue) => void
  /** Of a stage whose rule and reason stay. */
  readonly move: (due: StageDue) => void
}

/** Many stages share a date, a rule and a reason: each is held once. */
function gatheredStages(): GatheredStages {
  const all = {
    ids: [] as number[],
    said: [] as number[],
    sayings: [] as ChangedStages['sayings'][number][],
    movedIds: [] as number[],
    movedTo: [] as ChangedStages['movedTo'][number][],
  }
  const known = new Map<string, number>()
  return {
    all,
    add: ({ stageId, dueOn, rule, reason }) => {
      const key = `${dueOn}${rule}${reason}`
      let at = known.get(key)
      if (at === undefined) {
        at = all.sayings.push([dueOn, rule, reason]) - 1
        known.set(key, at)
      }
      all.ids.push(stageId)
      all.said.push(at)
    },
    move: ({ stageId, dueOn }) => {
      all.movedIds.push(stageId)
      all.movedTo.push(dueOn)
    },
  }
}

function closedDues(installation: KeptInstallation): StageDue[] {
  return installation.facts.stages.map(({ stageId }) => ({
    stageId,
    dueOn: null,
    rule: 'not-dated',
    reason: 'the household is closed',
  }))
}
