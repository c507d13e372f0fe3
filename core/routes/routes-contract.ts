import { z } from 'zod'
import { procedure } from '../door.ts'
import { calendarDateSchema } from '../units/calendar-date.ts'
import { technicianIdSchema } from '../units/ids.ts'
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
})
export type Route = z.infer<typeof routeSchema>

/** The day's stops of each technician in driving order. */
export const routesContract = {
  day: procedure
    .input(z.object({ on: calendarDateSchema, technicianId: technicianIdSchema.nullable() }))
    .output(z.array(routeSchema)),
}
