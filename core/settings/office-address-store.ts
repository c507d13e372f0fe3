import type { ReadDb, WriteDb } from '../database/handles.ts'
import type { OfficeId } from '../units/ids.ts'
import type { OfficeAddress } from './office-contract.ts'

export async function findOfficeVersion(db: ReadDb, officeId: OfficeId): Promise<number> {
  const row = await db.selectFrom('offices').select('version').where('id', '=', officeId).executeTakeFirst()
  return row?.version ?? 0
}

/** Writes the office's address when it is still the version that was seen; says whether it was. */
export async function updateOfficeAddress(
  tx: WriteDb,
  officeId: OfficeId,
  version: number,
  address: OfficeAddress,
): Promise<boolean> {
  const { postalCode: postal_code, ...rest } = address
  const { numUpdatedRows } = await tx
    .updateTable('offices')
    .set({ ...rest, postal_code, version: version + 1 })
    .where('id', '=', officeId)
    .where('version', '=', version)
    .executeTakeFirst()
  return numUpdatedRows > 0n
}
