import { z } from 'zod'
import { calendarDateSchema } from '../units/calendar-date.ts'
import { installationIdSchema, readingIdSchema, siteIdSchema, stageIdSchema, visitIdSchema } from '../units/ids.ts'
import { celsiusSchema, flowSchema, kilopascalsSchema, millilitresSchema, tdsSchema } from '../units/measures.ts'

const percent = z.number()

/** What was measured at one unit; null where nothing was. In the units of the books. */
export const readingFiguresSchema = z.object({
  tdsIn: tdsSchema.nullable(),
  tdsOut: tdsSchema.nullable(),
  flow: flowSchema.nullable(),
  feedPressure: kilopascalsSchema.nullable(),
  /** Air in the tank while it is empty. */
  tankPressure: kilopascalsSchema.nullable(),
  temperature: celsiusSchema.nullable(),
  /** What the meter on the product line has counted in all. */
  meter: millilitresSchema.nullable(),
})

/** A reading outside a visit. `confirmed`: whoever took it was asked about what is unlikely, and said that it is right. */
export const takenReadingSchema = z.object({
  installationId: installationIdSchema,
  takenOn: calendarDateSchema,
  figures: readingFiguresSchema,
  note: z.string().trim().max(200),
  confirmed: z.boolean(),
})
export type TakenReading = z.infer<typeof takenReadingSchema>

export const readingOnSheetSchema = readingFiguresSchema.extend({
  readingId: readingIdSchema,
  takenOn: calendarDateSchema,
  /** The visit it was taken at; null for one taken by itself. */
  visitId: visitIdSchema.nullable(),
  note: z.string(),
  rejectionPercent: percent.nullable(),
  /** Asked about and kept with its mark: shown, but nothing rests on it. */
  unlikely: z.boolean(),
  /** Of the membrane that is fitted now. */
  ofThisMembrane: z.boolean(),
  struck: z.object({ on: calendarDateSchema, reason: z.string() }).nullable(),
})
export type ReadingOnSheet = z.infer<typeof readingOnSheetSchema>

/** Rejection of the membrane that is fitted now. */
export const rejectionPictureSchema = z.object({
  /** In order of days; of several that count on a day their mean counts. */
  points: z.array(
    z.object({
      readingId: readingIdSchema,
      on: calendarDateSchema,
      percent,
      counts: z.boolean(),
      unlikely: z.boolean(),
    }),
  ),
  finding: z.enum(['none', 'too-few', 'below', 'crosses', 'holding', 'rising', 'unsure']),
  /** Days with a reading that counts. */
  readings: z.int(),
  latestPercent: percent.nullable(),
  lastReadOn: calendarDateSchema.nullable(),
  /** The day on which it is expected to reach the replacement mark, with the earliest and the latest; null where there is none to name. */
  crossesOn: calendarDateSchema.nullable(),
  earliestOn: calendarDateSchema.nullable(),
  latestOn: calendarDateSchema.nullable(),
  /** Since when it lies at or under the mark. */
  belowSince: calendarDateSchema.nullable(),
  trend: z
    .object({
      /** Percent held back, change in a year: in the middle, at its steepest and at its flattest. */
      perYear: percent,
      perYearSteepest: percent,
      perYearFlattest: percent,
      /** How often such a band holds the true trend, 0 to 1. */
      confidence: z.number(),
      /** The readings it is laid through. */
      firstOn: calendarDateSchema,
      lastOn: calendarDateSchema,
      /** From the first reading on as far as a picture looks, percent held back: two points. */
      line: z.array(z.object({ on: calendarDateSchema, percent })),
      /** The band around it, straight from point to point. */
      band: z.array(z.object({ on: calendarDateSchema, low: percent, high: percent })),
    })
    .nullable(),
  /** The first and last day that a picture shows; null without a reading. */
  fromOn: calendarDateSchema.nullable(),
  untilOn: calendarDateSchema.nullable(),
  /** What it comes to, for people: the finding, what speaks for it, and what to do next. */
  sentences: z.array(z.string()),
})
export type RejectionTells = z.infer<typeof rejectionPictureSchema>

/** Flow of the membrane that is fitted now, put to the same warmth and pressure. */
export const flowPictureSchema = z.object({
  points: z.array(
    z.object({
      readingId: readingIdSchema,
      on: calendarDateSchema,
      measured: flowSchema,
      /** Null where there was too little pressure to reckon with. */
      corrected: flowSchema.nullable(),
      unlikely: z.boolean(),
      /** "feed pressure and temperature taken as usual here"; blank when all was measured. */
      takenWords: z.string(),
    }),
  ),
  finding: z.enum(['none', 'first', 'held', 'explained', 'fallen', 'no-drive']),
  /** The membrane's own first corrected flow, mL/min; null while there is none to compare with. */
  firstFlow: z.number().nullable(),
  /** The corrected flow below which a fall is pointed out. */
  flaggedBelow: z.number().nullable(),
  correctedFallPercent: percent.nullable(),
  measuredFallPercent: percent.nullable(),
  /** Likeliest first. */
  causes: z.array(
    z.object({
      kind: z.enum([
        'low-pressure',
        'cold-water',
        'low-tank-charge',
        'clogged-pre-filter',
        'failing-membrane',
        'leaking-seal',
      ]),
      /** "Cold water". */
      name: z.string(),
      /** What speaks for it, and what a technician does next. */
      sentence: z.string(),
      next: z.string(),
    }),
  ),
  /** What it comes to, for people. */
  sentences: z.array(z.string()),
})
export type FlowTells = z.infer<typeof flowPictureSchema>

export const unitMeasurementsSchema = z.object({
  installationId: installationIdSchema,
  name: z.string(),
  /** The membrane that is fitted now; null for a unit without one. */
  membrane: z
    .object({ stageId: stageIdSchema, label: z.string(), changedOn: calendarDateSchema.nullable() })
    .nullable(),
  /** All of them, of earlier membranes and struck-out ones too, the latest first. */
  readings: z.array(readingOnSheetSchema),
  rejection: rejectionPictureSchema,
  flow: flowPictureSchema,
  /** Water drunk by the meter; blank where no meter tells it. */
  meterWords: z.string(),
  /** What somebody should look at: two readings on one day, a meter that went back. */
  remarks: z.array(z.string()),
})
export type UnitMeasurements = z.infer<typeof unitMeasurementsSchema>

export const householdMeasurementsSchema = z.object({
  siteId: siteIdSchema,
  marks: z.object({
    healthyPercent: percent,
    replacePercent: percent,
    overduePercent: percent,
    flowFallPercent: percent,
    widestBandDays: z.int(),
    readingSpeaksMonths: z.int(),
  }),
  units: z.array(unitMeasurementsSchema),
})
export type HouseholdMeasurements = z.infer<typeof householdMeasurementsSchema>
