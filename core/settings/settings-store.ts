import type { ReadDb, WriteDb } from '../database/handles.ts'
import type { OfficeId } from '../units/ids.ts'
import { type OfficeSettings, officeSettingsSchema, type SettingName } from './office-settings.ts'

/** All settings of an office; what was never changed has its default. */
export async function readSettings(db: ReadDb, officeId: OfficeId): Promise<OfficeSettings> {
  const rows = await db.selectFrom('settings').select(['name', 'value']).where('office_id', '=', officeId).execute()
  const changed = Object.fromEntries(rows.map((row) => [row.name, JSON.parse(row.value) as unknown]))
  return officeSettingsSchema.parse(changed)
}

/** Writes changed settings, one row each. Values must have passed the schema. */
export async function writeSettings(tx: WriteDb, officeId: OfficeId, changes: Partial<OfficeSettings>): Promise<void> {
  for (const [name, value] of Object.entries(changes) as [SettingName, unknown][])
    await tx
      .insertInto('settings')
      .values({ office_id: officeId, name, value: JSON.stringify(value) })
      .onConflict((row) => row.columns(['office_id', 'name']).doUpdateSet({ value: JSON.stringify(value) }))
      .execute()
}

/** Puts a setting back to its default: its row goes. */
export async function forgetSetting(tx: WriteDb, officeId: OfficeId, name: SettingName): Promise<void> {
  await tx.deleteFrom('settings').where('office_id', '=', officeId).where('name', '=', name).execute()
}

/** Whether an office has more units than so many; looks at no more than those. */
export async function hasManyUnits(db: ReadDb, officeId: OfficeId, many: number): Promise<boolean> {
  const row = await db
    .selectFrom('installations')
    .select('id')
    .where('office_id', '=', officeId)
    .orderBy('id')
    .offset(many)
    .limit(1)
    .executeTakeFirst()
  return row !== undefined
}
