import type { OpenBooks } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import { readSettings } from '../settings/settings-store.ts'
import { calendarDate } from '../units/calendar-date.ts'
import { shortDate } from '../units/date-words.ts'
import { type CountRow, findCount } from './stock-counts-store.ts'

/** An open round, or the sentence that says who ended it. */
export async function openCount(books: OpenBooks, countId: number): Promise<Result<CountRow>> {
  const count = await findCount(books.read, books.officeId, countId)
  if (!count) return refused('COUNT_GONE')
  if (count.state === 'open') return ok(count)
  const { locale } = await readSettings(books.read, books.officeId)
  const date = shortDate(calendarDate((count.endedAt ?? count.on).slice(0, 10)), locale)
  return refused('COUNT_ENDED', { state: count.state, by: count.endedBy, date })
}
