import { z } from 'zod'
import { type CalendarDate, calendarDateSchema, daysBetween, isoWeekOf } from '../units/calendar-date.ts'

export const BACKUP_REASONS = ['asked', 'before-change', 'before-putting-back'] as const

/** One backup of the books, a file. */
export const backupSchema = z.object({
  name: z.string(),
  takenOn: calendarDateSchema,
  /** The instant, UTC; sorts as text. */
  takenAt: z.string(),
  why: z.enum(BACKUP_REASONS),
  bytes: z.int().min(0),
})
export type Backup = z.infer<typeof backupSchema>

/** How long what is kept. Common practice, no source. */
const NEWEST_ALWAYS = 5
const DAYS_OF_DAILY = 14
const DAYS_OF_WEEKLY = 70
const DAYS_OF_MONTHLY = 730
const DAYS_BEFORE_SOMETHING = 90

/**
 * Which backups to keep: the newest five whatever their age, the last of each day for two weeks, of each week for ten, of each month
 * for two years; those made before a change of the books for ninety days at least. Newest first.
 */
export function backupsToKeep(backups: readonly Backup[], today: CalendarDate): Backup[] {
  const newestFirst = [...backups].sort((a, b) => (a.takenAt < b.takenAt ? 1 : a.takenAt > b.takenAt ? -1 : 0))
  const spans = new Set<string>()
  return newestFirst.filter((backup, index) => {
    const isFirstOfSpan = spansOf(backup, today).filter((span) => {
      const isNew = !spans.has(span)
      spans.add(span)
      return isNew
    })
    const isRecentGuard = backup.why !== 'asked' && daysBetween(backup.takenOn, today) <= DAYS_BEFORE_SOMETHING
    return index < NEWEST_ALWAYS || isRecentGuard || isFirstOfSpan.length > 0
  })
}

/** The day, week and month that a backup may stand for, as far as it is recent enough. */
function spansOf({ takenOn }: Backup, today: CalendarDate): string[] {
  const age = daysBetween(takenOn, today)
  const { year, week } = isoWeekOf(takenOn)
  return [
    ...(age <= DAYS_OF_DAILY ? [`day ${takenOn}`] : []),
    ...(age <= DAYS_OF_WEEKLY ? [`week ${year} ${week}`] : []),
    ...(age <= DAYS_OF_MONTHLY ? [`month ${takenOn.slice(0, 7)}`] : []),
  ]
}
