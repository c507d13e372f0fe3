import fc from 'fast-check'
import { expect, test } from 'vitest'
import { type Backup, backupsToKeep } from '../../core/backups/backups-to-keep.ts'
import { addDays, calendarDate } from '../../core/units/calendar-date.ts'

const TODAY = calendarDate('2026-12-01')
const daysAgo = (days: number, hour = 12, why: Backup['why'] = 'asked'): Backup => {
  const takenOn = addDays(TODAY, -days)
  return {
    name: `${days} ${hour} ${why}`,
    takenOn,
    takenAt: `${takenOn}T${String(hour).padStart(2, '0')}:00:00.000Z`,
    why,
    bytes: 1,
  }
}
const names = (backups: readonly Backup[]): string[] => backups.map((backup) => backup.name)

test('BACK-2 the newest five are kept whatever their age', () => {
  const old = [3000, 3001, 3002, 3003, 3004, 3005].map((days) => daysAgo(days))
  expect(names(backupsToKeep(old, TODAY))).toEqual(names(old.slice(0, 5)))
})

test('BACK-2 of a day that is past its newest five the last one is kept', () => {
  const today = [8, 9, 10, 11, 12].map((hour) => daysAgo(0, hour))
  const kept = names(backupsToKeep([...today, daysAgo(3, 9), daysAgo(3, 17), daysAgo(3, 13)], TODAY))
  expect(kept).toContain('3 17 asked')
  expect(kept).not.toContain('3 9 asked')
})

test('BACK-2 one made before a change stays ninety days', () => {
  const many = Array.from({ length: 30 }, (_, index) => daysAgo(index))
  const kept = names(
    backupsToKeep([...many, daysAgo(80, 3, 'before-change'), daysAgo(95, 3, 'before-change'), daysAgo(95, 4)], TODAY),
  )
  expect(kept).toContain('80 3 before-change')
  expect(kept).not.toContain('95 3 before-change')
})

test('BACK-2 two years of daily backups come down to at most 14 days, 10 weeks, 24 months and the newest, and the newest always stays', () => {
  fc.assert(
    fc.property(fc.uniqueArray(fc.integer({ min: 0, max: 900 }), { minLength: 1, maxLength: 400 }), (ages) => {
      const all = ages.map((days) => daysAgo(days))
      const kept = backupsToKeep(all, TODAY)
      const newest = [...ages].sort((a, b) => a - b)[0]
      expect(kept[0]?.name).toBe(`${newest} 12 asked`)
      expect(kept.length).toBeLessThanOrEqual(15 + 11 + 25 + 5)
      // Keeping once more changes nothing.
      expect(names(backupsToKeep(kept, TODAY))).toEqual(names(kept))
    }),
  )
})
