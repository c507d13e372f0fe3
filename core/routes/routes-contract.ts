import { z } from 'zod'
import { procedure } from '../door.ts'
import { calendarDateSchema } from '../units/calendar-date.ts'
import { technicianIdSchema, visitIdSchema } from '../units/ids.ts'
import { technicianShapeSchema, visitShapeSchema } from '../visits/visit-shapes.ts'

export const routeStopSchema = z.object({
  stop: z.int(),
  visit: visitShapeSchema,
  driveMinutes: z.int(),
  /** Minutes since midnight; a hopeless day may run past it. */
  arrivesAt: z.int(),
  waitsMinutes: z.int(),
  lateMinutes: z.int(),
  leavesAt: z.int(),
})
export type RouteStop = z.infer<typeof routeStopSchema>

export const routeSchema = z.object({
  technician: technicianShapeSchema,
  on: calendarDateSchema,
  leavesAt: z.int(),
  backAt: z.int(),
  driveMinutes: z.int(),
  /** Stops that are not on the map: their driving is the usual allowance. */
  notOnMap: z.int(),
  stops: z.array(routeStopSchema),
  /** Where somebody made the order by hand: what it would be if it were worked out. */
  workedOut: z.object({ driveMinutes: z.int(), lateMinutes: z.int() }).nullable(),
})
export type Route = z.infer<typeof routeSchema>

/** The day's stops of each technician in driving order. */
export const routesContract = {
  day: procedure
    .input(z.object({ on: calendarDateSchema, technicianId: technicianIdSchema.nullable() }))
    .output(z.array(routeSchema)),
  /** Makes the order of a technician's day by hand: all of its visits, first to last. It stays until it is worked out again. */
  order: procedure
    .input(
      z.object({ on: calendarDateSchema, technicianId: technicianIdSchema, visitIds: z.array(visitIdSchema).max(60) }),
    )
    .output(z.object({})),
  /** Works the order out again, by driving and windows. */
  workOut: procedure.input(z.object({ on: calendarDateSchema, technicianId: technicianIdSchema })).output(z.object({})),
}
