import { z } from 'zod'
import { hardnessSchema, meterFactorSchema, millilitresSchema } from '../units/measures.ts'
import { centsSchema, taxRateSchema } from '../units/money.ts'
import { minutesSchema, timeOfDaySchema } from '../units/time-of-day.ts'

const days = z.int().min(0).max(3650)
const months = z.int().min(1).max(240)
const percent = z.number().min(0).max(100)
const minutesAtMost = (most: number) => minutesSchema.max(most)
/** A hundred thousand: nobody charges more for a call or an hour. */
const MOST_CENTS = 10_000_000

/**
 * What a dealer can change, with the defaults of the trade. One row a setting in the table `settings`; the names here are the row names.
 * Months by stage kind are not here: they are the table `interval_rules`.
 */
export const officeSettingsSchema = z.object({
  // how the office writes and measures
  locale: z.enum(['en-US', 'en-GB', 'de-DE']).default('en-US'),
  currency: z
    .string()
    .regex(/^[A-Z]{3}$/)
    .default('USD'),
  measures: z.enum(['us', 'metric']).default('us'),
  pageSize: z.enum(['letter', 'a4']).default('letter'),
  windowEnvelope: z.enum(['us-10', 'din-5008-b']).default('us-10'),
  personAtDesk: z.string().min(1).default('the office'),

  // when a stage is due (common practice, no source)
  smallHouseholdPeople: z.int().min(1).max(50).default(2),
  largeHouseholdPeople: z.int().min(2).max(50).default(5),
  usualPeople: z.int().min(1).max(50).default(3),
  usualHardness: hardnessSchema.default(hardnessSchema.parse(150)),
  dailyMillilitresPerPerson: millilitresSchema.max(200_000).default(millilitresSchema.parse(3000)),
  recoveryPercent: percent.min(1).default(25),
  sanitiseMonths: months.default(12),
  /** Share of the dissolved solids that a membrane holds back: healthy from, time to replace at, overdue at. */
  healthyRejectionPercent: percent.default(90),
  replaceRejectionPercent: percent.default(75),
  overdueRejectionPercent: percent.default(70),
  /** What the office's meters multiply conductivity by: 0.5 for sodium chloride; 0.64 and 0.7 occur (from memory). */
  meterFactor: meterFactorSchema.default(meterFactorSchema.parse(0.5)),
  /** A fall of the corrected flow beyond this against the membrane's own first readings is flagged. */
  flowFallPercent: percent.min(1).default(15),
  /** For so long after it a reading that holds keeps the calendar waiting. */
  readingSpeaksMonths: months.default(18),
  /** A trend whose earliest and latest day lie further apart than this is too unsure to act on. */
  widestBandDays: days.min(1).default(730),
  graceDays: days.default(30),

  // letters
  firstLetterLeadDays: days.default(30),
  secondLetterAfterDays: days.default(14),
  finalLetterAfterDays: days.default(42),

  // visits
  dayStartsAt: timeOfDaySchema.default(timeOfDaySchema.parse(8 * 60)),
  dayEndsAt: timeOfDaySchema.default(timeOfDaySchema.parse(17 * 60)),
  daysOffered: z.int().min(1).max(90).default(14),
  arrivalWindowMinutes: minutesAtMost(720).default(minutesSchema.parse(120)),
  callMinutes: minutesAtMost(480).default(minutesSchema.parse(20)),
  stageMinutes: minutesAtMost(480).default(minutesSchema.parse(8)),
  sanitiseMinutes: minutesAtMost(480).default(minutesSchema.parse(25)),
  driveMinutesPerVisit: minutesAtMost(480).default(minutesSchema.parse(20)),
  /** Road for one of straight line; about 1.2 in town (Newell 1980). */
  circuity: z.number().min(1).max(3).default(1.2),
  drivingKmPerHour: z.number().min(5).max(130).default(45),
  workdays: z
    .string()
    .regex(/^[1-7]+$/)
    .default('12345'),

  // the plan of visits
  planHorizonYears: z.int().min(1).max(20).default(5),
  /** What a call costs the office before a part is changed: the drive, the time at the door. */
  callCostCents: centsSchema.min(0).max(MOST_CENTS).default(centsSchema.parse(6400)),
  /** What an hour of a technician's work costs the office (common practice, no source). */
  hourCostCents: centsSchema.min(0).max(MOST_CENTS).default(centsSchema.parse(4000)),
  earlyMembrane: z.enum(['when-it-pays', 'never']).default('when-it-pays'),
  /** Months that visits are kept out of where that can be, as numbers and commas; blank for none. */
  avoidedMonths: z
    .string()
    .regex(/^$|^(1[0-2]|[1-9])(,(1[0-2]|[1-9]))*$/)
    .default(''),

  // money
  callOutCents: centsSchema.min(0).max(MOST_CENTS).default(centsSchema.parse(6400)),
  labourCentsPerHour: centsSchema.min(0).max(MOST_CENTS).default(centsSchema.parse(0)),
  taxRate: taxRateSchema.default(taxRateSchema.parse(5600)),
  paymentTermsDays: days.default(14),
  taxNumber: z.string().default(''),
  howToPay: z.string().max(400).default('Pay by bank transfer, card or cheque, and name the number of the invoice.'),

  // stock and orders
  paceDays: z.int().min(7).max(730).default(91),
  reviewPeriodDays: days.default(7),
  leadTimeDays: days.default(10),
  /** Weeks between two counts: of what makes up most of the use, of what follows, of all else (common practice: monthly, quarterly, half-yearly). */
  countWeeksMuch: z.int().min(1).max(520).default(4),
  countWeeksSome: z.int().min(1).max(520).default(13),
  countWeeksLittle: z.int().min(1).max(520).default(26),
  /** From so many movements in thirteen weeks on, a heap is counted more often (common practice, no source). */
  countBusyFrom: z.int().min(1).max(10_000).default(20),
  countHeapsAWeek: z.int().min(1).max(10_000).default(40),
  /** What counts for a visit when a part is short, in points; figures of our own, common practice has none. */
  shortVisitPoints: z.int().min(1).max(1000).default(100),
  shortDayLatePoints: z.int().min(0).max(100).default(10),
  /** Days late beyond this do not count: a household that was forgotten for a year is not worth all others. */
  shortMostDaysLate: z.int().min(0).max(365).default(90),
  shortOurWordPoints: z.int().min(0).max(10_000).default(300),
  /** For each minute at the wheel that coming a second time would cost. */
  shortDrivenMinutePoints: z.int().min(0).max(100).default(2),
  serviceLevelPercent: percent.default(95),
  /** What the office expects of a first letter before its own record says it; weighs as much as so many letters of each kind. */
  /** What the printer strays by on a sheet of labels, to be made good: to the right and down. */
  labelShiftRightMm: z.number().min(-5).max(5).default(0),
  labelShiftDownMm: z.number().min(-5).max(5).default(0),
  letterToVisitPercent: percent.default(70),
  letterFigureWeighs: z.int().min(1).max(1000).default(20),
  /** What placing an order costs, and keeping a piece for a year as a share of its price (common practice, no source). */
  orderCostCents: centsSchema.min(0).max(MOST_CENTS).default(centsSchema.parse(1500)),
  holdingPercent: percent.default(20),
})
export type OfficeSettings = z.infer<typeof officeSettingsSchema>
export type SettingName = keyof OfficeSettings

export const DEFAULT_SETTINGS: OfficeSettings = officeSettingsSchema.parse({})
