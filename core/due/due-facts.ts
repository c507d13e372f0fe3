import type { IntervalRules } from '../installations/interval-rules.ts'
import type { StageKind } from '../installations/stage-kinds.ts'
import type { OfficeSettings } from '../settings/office-settings.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { StageId } from '../units/ids.ts'
import type { Hardness, Millilitres } from '../units/measures.ts'

/** What a due date rests on at one stage. */
export interface StageFacts {
  readonly stageId: StageId
  readonly kind: StageKind
  /** Last changed, or for a tank last sanitised; null when nobody wrote it down. */
  readonly changedOn: CalendarDate | null
  /** Months set by hand for this stage, 0 to 240. */
  readonly ownMonths: number | null
  /** Rated volume of the fitted part. */
  readonly ratedMillilitres: Millilitres | null
  /** A due date set by hand, and the note that came with it. */
  readonly ownDueOn: CalendarDate | null
  readonly ownDueNote: string
}

/** What the due dates of an installation rest on; its stages in flow order, feed to tap. */
export interface InstallationFacts {
  readonly people: number | null
  readonly hardness: Hardness | null
  /** When the unit was fitted: a stage that was never dated counts from here. */
  readonly fittedOn: CalendarDate | null
  /** Months set by hand for the whole unit: they take the place of the months by people. */
  readonly ownMonths: number | null
  /** Measured or known for this unit; else the office's. */
  readonly recoveryPercent: number | null
  /** Water drunk a day at this unit; else people times the office's figure. */
  readonly drunkPerDay: Millilitres | null
  readonly stages: readonly StageFacts[]
}

/** The office's own figures, from its settings and its table of months. */
export interface DueDefaults {
  readonly intervals: IntervalRules
  readonly settings: Pick<
    OfficeSettings,
    | 'smallHouseholdPeople'
    | 'largeHouseholdPeople'
    | 'usualPeople'
    | 'usualHardness'
    | 'dailyMillilitresPerPerson'
    | 'recoveryPercent'
    | 'sanitiseMonths'
    | 'measures'
  >
}

/** Which rule gave the date. Rules by measurement and by recall join this list later. */
export const DUE_RULES = [
  'own-date',
  'months',
  'volume',
  'feed-water',
  'sanitise',
  'with-membrane',
  'not-dated',
] as const
export type DueRule = (typeof DUE_RULES)[number]

/** When a stage is due and why. `dueOn` is null only for a stage that has no date to count from. */
export interface StageDue {
  readonly stageId: StageId
  readonly dueOn: CalendarDate | null
  readonly rule: DueRule
  readonly reason: string
}
