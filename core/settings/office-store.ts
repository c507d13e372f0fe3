import type { ReadDb, WriteDb } from '../database/handles.ts'
import { DEFAULT_INTERVAL_RULES } from '../installations/interval-rules.ts'
import type { OfficeId } from '../units/ids.ts'
import type { OfficeAddress } from './office-contract.ts'

export interface OfficeRow extends OfficeAddress {
  readonly id: OfficeId
  readonly isDemo: boolean
  readonly latitude: number | null
  readonly longitude: number | null
}

/** The office's own row; null before the first start was answered. */
export async function findOffice(db: ReadDb, officeId: OfficeId): Promise<OfficeRow | null> {
  const row = await db
    .selectFrom('offices')
    .select([
      'id',
      'name',
      'line1',
      'line2',
      'town',
      'region',
      'postal_code',
      'country',
      'phone',
      'email',
      'is_demo',
      'latitude',
      'longitude',
    ])
    .where('id', '=', officeId)
    .executeTakeFirst()
  if (!row) return null
  const { postal_code: postalCode, is_demo: isDemo, ...rest } = row
  return { ...rest, postalCode, isDemo: isDemo === 1 }
}

export async function hasHouseholds(db: ReadDb, officeId: OfficeId): Promise<boolean> {
  const row = await db.selectFrom('sites').select('id').where('office_id', '=', officeId).limit(1).executeTakeFirst()
  return row !== undefined
}

/** Writes the office's row and the trade's default intervals by stage kind. */
export async function insertOffice(
  tx: WriteDb,
  office: OfficeAddress & {
    id: OfficeId
    isDemo: boolean
    latitude: number | null
    longitude: number | null
    foundedAt: string
  },
): Promise<void> {
  await tx
    .insertInto('offices')
    .values({
      id: office.id,
      name: office.name,
      line1: office.line1,
      line2: office.line2,
      town: office.town,
      region: office.region,
      postal_code: office.postalCode,
      country: office.country,
      phone: office.phone,
      email: office.email,
      latitude: office.latitude,
      longitude: office.longitude,
      is_demo: office.isDemo ? 1 : 0,
      founded_at: office.foundedAt,
    })
    .execute()
  await tx
    .insertInto('interval_rules')
    .values(
      DEFAULT_INTERVAL_RULES.map((rule) => ({
        office_id: office.id,
        stage_kind: rule.stageKind,
        basis: rule.basis,
        months_most: rule.monthsMost,
        months_least: rule.monthsLeast,
      })),
    )
    .execute()
}
