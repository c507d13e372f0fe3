import { sql } from 'kysely'
import type { WriteDb } from '../database/handles.ts'
import type { OfficeId, SiteId } from '../units/ids.ts'
import type { PlanWishes } from './plan-shapes.ts'

/** Writes what people wish of a household's visits; its version goes up by one. */
export async function updatePlanWishes(
  tx: WriteDb,
  officeId: OfficeId,
  siteId: SiteId,
  wishes: PlanWishes & { readonly months: string },
): Promise<void> {
  await tx
    .updateTable('sites')
    .set({
      plan_avoid_months: wishes.months,
      plan_membrane_never_early: wishes.membraneNeverEarly === null ? null : wishes.membraneNeverEarly ? 1 : 0,
      plan_align: wishes.align ? 1 : 0,
      version: sql<number>`version + 1`,
    })
    .where('office_id', '=', officeId)
    .where('id', '=', siteId)
    .execute()
}
