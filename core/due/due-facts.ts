import type { MonthsAway } from '../customers/months-away.ts'
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
  /** A due date set by hand that still stands, and the note that came with it. */
  readonly ownDueOn: CalendarDate | null
  readonly ownDueNote: string
  /** Set when the lot that is fitted here was recalled. */
  readonly recall: LotRecall | null
}

export interface LotRecall {
  readonly on: CalendarDate
  readonly lot: string
}

/** A reading of the unit, as far as due dates rest on it; struck-out ones are not here. */
export interface UnitReading {
  readonly takenOn: CalendarDate
  /** Percent of the dissolved solids held back; null when one end was not measured. */
  readonly rejectionPercent: number | null
  /** What the meter on the product line has counted in all. */
  readonly meter: Millilitres | null
  /** Kept with its mark: shown, but no date rests on it. */
  readonly unlikely: boolean
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
  /** Water drunk a day at this unit, as entered; else people times the office's figure. */
  readonly drunkPerDay: Millilitres | null
  /** Months in which nobody is there: they wear no filter. */
  readonly monthsAway: MonthsAway
  /** In any order. */
  readonly readings: readonly UnitReading[]
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
    | 'locale'
    | 'healthyRejectionPercent'
    | 'replaceRejectionPercent'
    | 'overdueRejectionPercent'
    | 'widestBandDays'
    | 'readingSpeaksMonths'
  >
}

/** Which rule gave the date, in the order of the rule book; on one day the first of them speaks. */
export const DUE_RULES = [
  'own-date',
  'months',
  'volume',
  'feed-water',
  'measurement',
  'sanitise',
  'with-membrane',
  'recall',
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

/** Due dates to be written; `ids` and `said` go together, and a date, rule and reason that many stages share is held once. */
export interface ChangedStages {
  readonly ids: readonly number[]
  /** Places in `sayings`. */
  readonly said: readonly number[]
  readonly sayings: readonly (readonly [CalendarDate | null, DueRule, string])[]
  /** Stages that only the date moves of, and their dates: most, when a setting changes, and half as much to write. */
  readonly movedIds: readonly number[]
  readonly movedTo: readonly (CalendarDate | null)[]
}
