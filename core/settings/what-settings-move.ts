import type { SettingName } from './office-settings.ts'

/** Settings that due dates rest on: changing one recomputes them all. */
export const MOVES_DUE_DATES: ReadonlySet<SettingName> = new Set([
  'smallHouseholdPeople',
  'largeHouseholdPeople',
  'usualPeople',
  'usualHardness',
  'dailyMillilitresPerPerson',
  'recoveryPercent',
  'sanitiseMonths',
  'healthyRejectionPercent',
  'replaceRejectionPercent',
  'overdueRejectionPercent',
  'widestBandDays',
  'readingSpeaksMonths',
  // The reasons are written in the office's measures and dates.
  'measures',
  'locale',
])

/** Settings that the plans of visits rest on, beside the due dates: changing one makes every plan stale. */
export const MOVES_PLANS: ReadonlySet<SettingName> = new Set([
  'planHorizonYears',
  'callCostCents',
  'hourCostCents',
  'earlyMembrane',
  'avoidedMonths',
  'graceDays',
  'callMinutes',
  'stageMinutes',
  'sanitiseMinutes',
])
