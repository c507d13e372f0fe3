import type { Asking, Desk, KeptQuestion } from '../answering.ts'
import type { ReadDb } from '../database/handles.ts'
import { ok, type Result } from '../result.ts'
import { readSettings } from '../settings/settings-store.ts'
import { addDays, calendarDate, mondayOf } from '../units/calendar-date.ts'
import { NO_MONEY } from '../units/money.ts'
import { checkWhatToCount } from './check-what-to-count.ts'
import { type HeapRow, type WeekToCount, weekToCountSchema } from './count-contract.ts'
import {
  type CountableHeap,
  countableHeaps,
  countsOfHeaps,
  hasManyHeaps,
  type LastCount,
  missedByPulls,
  movedTimes,
  namesOfHeaps,
  usedSince,
} from './count-facts-store.ts'
import { countedSince, linesOfOpenCounts } from './stock-counts-store.ts'
import { type CountWeek, type HeapToCount, whatToCount } from './what-to-count.ts'

const YEAR = 365
const THIRTEEN_WEEKS = 91
/** From so many heaps on everybody else would wait while they are gone through. */
const MANY_HEAPS = 4_000

export const heapKey = (heap: { readonly placeId: number; readonly lotId: number }): string =>
  `${heap.placeId}/${heap.lotId}`

type Asked = Pick<Asking, 'officeId' | 'today'> & { readonly read: ReadDb }

/** Whether so much lies in this warehouse that rounds are begun and weeks are chosen in a thread of their own. */
export const liesMuch = ({ read, officeId }: Pick<Asked, 'read' | 'officeId'>): Promise<boolean> =>
  hasManyHeaps(read, officeId, MANY_HEAPS)

/** What to count this week, kept until something is written. */
export const keptWeekToCount: KeptQuestion<WeekToCount> = {
  name: 'what-to-count',
  output: weekToCountSchema,
  isLarge: liesMuch,
  reckon: weekToCount,
}

/** What to count this week, judged before it is shown. What an open round has already is not asked for twice. */
export async function weekToCount(asked: Asked): Promise<WeekToCount> {
  const { read, officeId, today } = asked
  const settings = await readSettings(read, officeId)
  const begun = new Set((await linesOfOpenCounts(read, officeId)).map(heapKey))
  const lying = (await countableHeaps(read, officeId)).filter((heap) => begun.size === 0 || !begun.has(heapKey(heap)))
  const counts = new Map((await countsOfHeaps(read, officeId)).map((count) => [heapKey(count), count]))
  const uses = await usedSince(read, officeId, addDays(today, -YEAR))
  const alreadyThisWeek = await countedSince(read, officeId, mondayOf(today))
  const week: CountWeek = {
    today,
    heaps: await withHistory(asked, lying, counts),
    uses,
    rules: {
      weeksMuch: settings.countWeeksMuch,
      weeksSome: settings.countWeeksSome,
      weeksLittle: settings.countWeeksLittle,
      busyFrom: settings.countBusyFrom,
      heapsAWeek: settings.countHeapsAWeek,
    },
    alreadyThisWeek,
  }
  const plan = whatToCount(week, settings.locale)
  const complaints = checkWhatToCount(week, plan)
  if (complaints.length > 0) throw new Error(`An unlawful week of counting: ${complaints.join(' ')}`)
  const why = new Map(plan.chosen.map((heap) => [heapKey(heap), heap.why]))
  const usedValues = new Map(uses.map((use) => [use.partId, use.usedValue]))
  const lotIds = [...new Set(plan.chosen.map((heap) => heap.lotId))]
  const heaps = (await namesOfHeaps(read, officeId, lotIds)).flatMap((heap): HeapRow[] => {
    const reason = why.get(heapKey(heap))
    if (reason === undefined) return []
    const lastCountedOn = counts.get(heapKey(heap))?.on ?? null
    return [{ ...heap, why: reason, lastCountedOn, usedValue: usedValues.get(heap.partId) ?? NO_MONEY }]
  })
  return { heaps, waiting: plan.waiting, limit: settings.countHeapsAWeek, counted: alreadyThisWeek }
}

async function withHistory(
  { read, officeId, today }: Asked,
  lying: readonly CountableHeap[],
  counts: ReadonlyMap<string, LastCount>,
): Promise<HeapToCount[]> {
  const moved = await movedTimes(read, officeId, addDays(today, -THIRTEEN_WEEKS))
  const missed = new Map((await missedByPulls(read, officeId)).map((row) => [heapKey(row), row.at.slice(0, 10)]))
  return lying.map(({ placeId, lotId, partId, walkOrder, receivedOn }) => {
    const key = counts.size + missed.size === 0 ? '' : heapKey({ placeId, lotId })
    const count = counts.get(key)
    const missedOn = missed.get(key)
    return {
      placeId,
      lotId,
      partId,
      walkOrder,
      since: receivedOn,
      lastCountedOn: count?.on ?? null,
      lastDifference: Math.abs(count?.difference ?? 0),
      touched: moved.get(lotId)?.get(placeId) ?? 0,
      missedOn: missedOn !== undefined && missedOn > (count?.on ?? '') ? calendarDate(missedOn) : null,
    }
  })
}

export async function week(desk: Desk): Promise<Result<WeekToCount>> {
  return ok(await desk.kept.ask(keptWeekToCount, desk))
}
