import type { Asking } from '../answering.ts'
import type { ReadDb } from '../database/handles.ts'
import { readSettings } from '../settings/settings-store.ts'
import { addDays } from '../units/calendar-date.ts'
import type { PartId } from '../units/ids.ts'
import { fittedByDay } from './demand-store.ts'

type Asked = Pick<Asking, 'officeId' | 'today'> & { readonly read: ReadDb }

/** Pieces of each part to be expected day by day, today first, for so many days. */
export async function expectedUse(
  { read, officeId, today }: Asked,
  days: number,
): Promise<(partId: PartId) => Float64Array> {
  const { paceDays } = await readSettings(read, officeId)
  const used = await fittedByDay(read, officeId, addDays(today, -paceDays))
  return (partId) => {
    const pieces = (used.get(partId) ?? []).reduce((sum, count) => sum + count, 0)
    return new Float64Array(days).fill(pieces / paceDays)
  }
}
