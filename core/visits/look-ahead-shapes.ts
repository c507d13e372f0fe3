import { z } from 'zod'
import { stageKindSchema } from '../installations/stage-kinds.ts'
import { calendarDateSchema } from '../units/calendar-date.ts'

const count = z.int().min(0)
/** Index of a week, 0 for the present one. */
const week = z.int().min(0)

/** So many visits and the minutes they take, drives included. */
const movesSchema = z.object({ visits: count, minutes: count })
export type Moves = z.infer<typeof movesSchema>

const toWeekSchema = movesSchema.extend({ to: week })
const stagesSchema = z.array(z.object({ kind: stageKindSchema, count }))
const shareSchema = z.object({ minutes: count, hours: count })
const peakSchema = shareSchema.extend({ week })

export const weekAheadSchema = z.object({
  monday: calendarDateSchema,
  /** Minutes of work and driving that the technicians have. */
  hours: count,
  booked: movesSchema,
  planned: movesSchema,
  /** Households whose next visit is planned in this week: the ones that can be written to. */
  households: count,
  /** Of the planned ones: those that can only be in weeks in which nobody works. */
  homeless: movesSchema,
  /** Seen to by the visits of this week, the most first. */
  stages: stagesSchema,
  /** Of the planned ones, what could be in an earlier week, in a later one, or in neither. */
  earlier: movesSchema,
  later: movesSchema,
  bound: movesSchema,
  /** How many could be in each of the other weeks. */
  couldGo: z.array(toWeekSchema),
  /** Minutes of this week once the year is evened out, booked visits included. */
  evenedMinutes: count,
  /** What evening out takes from this week, and to where. */
  moves: z.array(toWeekSchema),
})
export type WeekAhead = z.infer<typeof weekAheadSchema>

export const lookAheadSchema = z.object({
  weeks: z.array(weekAheadSchema),
  /** Planned visits whose grace is over; `caughtUpBy` is the Monday of the week in which the last can be done, null if in none. */
  late: movesSchema.extend({ stages: stagesSchema, caughtUpBy: calendarDateSchema.nullable() }),
  /** Households that have something to plan, and how many of these have no plan yet. */
  households: count,
  notPlanned: count,
  technicians: count,
  /** Shares of a week's hours; null when nothing is to be done or nobody works. `least` is what no shifting can get below. */
  peaks: z
    .object({ least: shareSchema.extend({ from: week, until: week }), asPlanned: peakSchema, reached: peakSchema })
    .nullable(),
  /** The longest planned visit with its drive. */
  longestMinutes: count,
})
export type LookAhead = z.infer<typeof lookAheadSchema>
