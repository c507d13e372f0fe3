import type { OpenDatabase } from '../../core/database/handles.ts'
import { FIRST_OFFICE } from '../../core/desk-of-office.ts'
import { recomputeAllDueDates } from '../../core/due/recompute-answers.ts'
import type { StageKind } from '../../core/installations/stage-kinds.ts'
import type { Office } from '../../core/office.ts'
import { ok } from '../../core/result.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import type { PartId } from '../../core/units/ids.ts'
import {
  celsius,
  flow,
  gallonsToMillilitres,
  grainsToHardness,
  kilopascals,
  millilitres,
  psiToKilopascals,
  tds,
} from '../../core/units/measures.ts'
import { cents } from '../../core/units/money.ts'
import { aServicedHousehold } from './a-serviced-household.ts'

const office_id = FIRST_OFFICE

/** A reading as a test tells it: day, TDS in and out, then flow in mL/min, feed in psi, tank in psi, degrees C, meter in gallons. */
export type ToldReading = readonly [
  on: string,
  tdsIn: number | null,
  tdsOut: number | null,
  rest?: {
    readonly flow?: number
    readonly feed?: number
    readonly tank?: number
    readonly warmth?: number
    readonly meter?: number
    readonly unlikely?: true
  },
]

export interface ToldHome {
  readonly name: string
  readonly reference: string
  readonly town?: string
  readonly people: number | null
  readonly grains: number | null
  readonly fittedOn: string
  /** Feed to tap; the day of the last change, and the rated volume of the part in gallons. */
  readonly stages: readonly (readonly [kind: StageKind, changedOn: string | null, gallons?: number])[]
  readonly readings: readonly ToldReading[]
}

/** A household whose readings tell a story. Due dates are reckoned by `reckonDueDates` afterwards. */
export async function aToldHome({ write }: OpenDatabase, home: ToldHome) {
  const parts: { kind: 'sediment'; partId: PartId | null }[] = []
  for (const [index, [kind, , gallons]] of home.stages.entries()) {
    const number = `${home.reference}-${index + 1}`
    const partId = kind === 'tank' ? null : await aPart(write, number, kind, gallons ?? null)
    parts.push({ kind: kind as 'sediment', partId })
  }
  const made = await aServicedHousehold(write, {
    name: home.name,
    reference: home.reference,
    parts,
    ...(home.town ? { town: home.town } : {}),
  })
  await write
    .updateTable('sites')
    .set({ people: home.people, hardness_mg_l: home.grains === null ? null : grainsToHardness(home.grains) })
    .where('id', '=', made.siteId)
    .execute()
  await write
    .updateTable('installations')
    .set({ installed_on: calendarDate(home.fittedOn), name: 'The unit under the kitchen sink' })
    .where('id', '=', made.installationId)
    .execute()
  for (const [index, [, changedOn]] of home.stages.entries())
    await write
      .updateTable('stages')
      .set({ fitted_on: changedOn === null ? null : calendarDate(changedOn) })
      .where('id', '=', made.stageIds[index] as never)
      .execute()
  for (const reading of home.readings) await aReading(write, made.installationId, reading)
  return made
}

async function aReading(
  write: OpenDatabase['write'],
  installationId: number,
  [on, tdsIn, tdsOut, rest = {}]: ToldReading,
): Promise<void> {
  await write
    .insertInto('readings')
    .values({
      office_id,
      installation_id: installationId as never,
      visit_id: null,
      taken_on: calendarDate(on),
      tds_in_mg_l: tdsIn === null ? null : tds(tdsIn),
      tds_out_mg_l: tdsOut === null ? null : tds(tdsOut),
      flow_ml_min: rest.flow === undefined ? null : flow(rest.flow),
      feed_kpa: rest.feed === undefined ? null : kilopascals(psiToKilopascals(rest.feed)),
      tank_kpa: rest.tank === undefined ? null : kilopascals(psiToKilopascals(rest.tank)),
      temperature_c: rest.warmth === undefined ? null : celsius(rest.warmth),
      meter_ml: rest.meter === undefined ? null : millilitres(gallonsToMillilitres(rest.meter)),
      unlikely: rest.unlikely ? 1 : 0,
      note: '',
      struck_on: null,
    })
    .execute()
}

const COSTS: Readonly<Partial<Record<StageKind, number>>> = { membrane: 4100, remineraliser: 1400, 'post-carbon': 900 }

async function aPart(
  write: OpenDatabase['write'],
  number: string,
  kind: StageKind,
  gallons: number | null,
): Promise<PartId> {
  const cost = COSTS[kind] ?? 600
  const made = await write
    .insertInto('parts')
    .values({
      office_id,
      number,
      name: `Part for ${kind}`,
      stage_kind: kind,
      gtin: '',
      price_cents: cents(cost * 3),
      cost_cents: cents(cost),
      rated_ml: gallons === null ? null : gallonsToMillilitres(gallons),
      shelf_months: null,
      fit_minutes: null,
      reorder_point: null,
      service_level_percent: null,
      note: '',
      closed_on: null,
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  return made.id
}

/** Reckons every due date of the books. */
export async function reckonDueDates(office: Office): Promise<void> {
  const done = await office.desk().write(async (books) => ok(await recomputeAllDueDates(books)))
  if (!done.ok) throw new Error(done.problem.sentence)
}
