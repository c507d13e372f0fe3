import type { OpenDatabase } from '../../core/database/handles.ts'
import { FIRST_OFFICE } from '../../core/desk-of-office.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { cents } from '../../core/units/money.ts'
import { minutesSchema } from '../../core/units/time-of-day.ts'
import { aMailedHousehold, type MailedHousehold } from './a-mailed-household.ts'

export interface PlannedOne {
  readonly on: string
  readonly latestOn: string
  readonly minutes: number
}

/** A household whose kept plan has the given visits, each of which sees to all its stages; due on the first of them or as said. */
export async function aPlannedHousehold(
  database: OpenDatabase,
  wanted: {
    readonly reference: string
    readonly name?: string
    readonly dueOn?: string
    readonly visits: readonly PlannedOne[]
  },
): Promise<MailedHousehold> {
  const { write } = database
  const [first] = wanted.visits
  const dueOn = wanted.dueOn ?? first?.on ?? '2027-06-01'
  const { reference, name } = wanted
  const household = await aMailedHousehold(database, { reference, dueOn, ...(name === undefined ? {} : { name }) })
  const key = { office_id: FIRST_OFFICE, site_id: household.siteId }
  await write
    .insertInto('site_plans')
    .values({
      ...key,
      planned_on: calendarDate('2026-12-01'),
      horizon_on: calendarDate('2031-12-01'),
      next_visit_on: first ? calendarDate(first.on) : null,
      latest_on: first ? calendarDate(first.latestOn) : null,
      visits: wanted.visits.length,
      total_cents: cents(0),
      saves_own_dates_cents: cents(0),
      saves_everything_cents: cents(0),
      proved: 1,
    })
    .execute()
  const stages = await write
    .selectFrom('stages as s')
    .innerJoin('installations as i', (join) =>
      join.onRef('i.office_id', '=', 's.office_id').onRef('i.id', '=', 's.installation_id'),
    )
    .select('s.id')
    .where('s.office_id', '=', FIRST_OFFICE)
    .where('i.site_id', '=', household.siteId)
    .execute()
  for (const visit of wanted.visits) {
    const latest_on = calendarDate(visit.latestOn)
    await write
      .insertInto('planned_visits')
      .values({
        ...key,
        latest_on,
        visit_on: calendarDate(visit.on),
        minutes: minutesSchema.parse(visit.minutes),
        cents: cents(12_000),
      })
      .execute()
    await write
      .insertInto('planned_changes')
      .values(
        stages.map(({ id }, index) => ({
          ...key,
          latest_on,
          stage_id: id,
          kind: index === 0 ? ('forced' as const) : ('along' as const),
          due_on: calendarDate(visit.on),
        })),
      )
      .execute()
  }
  return household
}
