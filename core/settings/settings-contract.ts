import { z } from 'zod'
import { procedure } from '../door.ts'
import { intervalRuleSchema } from '../installations/interval-rules.ts'
import { calendarDateSchema } from '../units/calendar-date.ts'
import { technicianIdSchema } from '../units/ids.ts'
import { minutesSchema, timeOfDaySchema } from '../units/time-of-day.ts'
import { officeAddressSchema } from './office-contract.ts'
import { officeSettingsSchema } from './office-settings.ts'

export const dayOffSchema = z.object({
  dayOffId: z.int().positive(),
  fromOn: calendarDateSchema,
  untilOn: calendarDateSchema,
  reason: z.string(),
})

export const technicianFormSchema = z
  .object({
    name: z.string().trim().min(1, 'A technician needs a name.').max(80),
    shortName: z.string().trim().max(20),
    phone: z.string().trim().max(40),
    workdays: z.string().regex(/^[1-7]*$/),
    startsAt: timeOfDaySchema,
    endsAt: timeOfDaySchema,
    minutesADay: minutesSchema.max(1440),
  })
  .refine((one) => one.startsAt < one.endsAt, { message: 'The day ends before it begins.', path: ['endsAt'] })
export type TechnicianForm = z.infer<typeof technicianFormSchema>

export const technicianSchema = z.object({
  technicianId: technicianIdSchema,
  version: z.int(),
  name: z.string(),
  shortName: z.string(),
  phone: z.string(),
  workdays: z.string(),
  startsAt: timeOfDaySchema,
  endsAt: timeOfDaySchema,
  minutesADay: minutesSchema,
  leftOn: calendarDateSchema.nullable(),
  /** From today on. */
  daysOff: z.array(dayOffSchema),
})
export type Technician = z.infer<typeof technicianSchema>

export const settingsSheetSchema = z.object({
  values: officeSettingsSchema,
  address: officeAddressSchema,
  addressVersion: z.int(),
  intervalRules: z.array(intervalRuleSchema),
  technicians: z.array(technicianSchema),
})
export type SettingsSheet = z.infer<typeof settingsSheetSchema>

const done = z.object({})
export const settingNameSchema = z.enum(
  Object.keys(officeSettingsSchema.shape) as [keyof typeof officeSettingsSchema.shape],
)

/** `from` is what was on screen; `to` null goes back to the usual value. */
export const settingChangeSchema = z.object({ name: settingNameSchema, from: z.unknown(), to: z.unknown() })
export type SettingChange = z.infer<typeof settingChangeSchema>

/** The months of one stage kind; `rule` null goes back to the usual ones. */
export const intervalChangeSchema = z.object({
  stageKind: intervalRuleSchema.shape.stageKind,
  rule: intervalRuleSchema.nullable(),
})
export type IntervalChange = z.infer<typeof intervalChangeSchema>

/** What a dealer can change: settings one by one, the address, the months by stage kind, who works here. */
export const settingsContract = {
  sheet: procedure.output(settingsSheetSchema),
  change: procedure.input(settingChangeSchema).output(done),
  changeAddress: procedure.input(z.object({ address: officeAddressSchema, version: z.int() })).output(done),
  changeInterval: procedure.input(intervalChangeSchema).output(done),
  saveTechnician: procedure
    .input(z.object({ technicianId: technicianIdSchema.nullable(), version: z.int(), form: technicianFormSchema }))
    .output(z.object({ technicianId: technicianIdSchema })),
  technicianLeaves: procedure
    .input(z.object({ technicianId: technicianIdSchema, leftOn: calendarDateSchema.nullable() }))
    .output(done),
  addDayOff: procedure
    .input(
      z.object({
        technicianId: technicianIdSchema,
        fromOn: calendarDateSchema,
        untilOn: calendarDateSchema,
        reason: z.string().max(100),
      }),
    )
    .output(z.object({ dayOffId: z.int() })),
  removeDayOff: procedure.input(z.object({ dayOffId: z.int().positive() })).output(done),
}
