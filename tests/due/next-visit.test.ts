import { expect, test } from 'vitest'
import { nextVisitInWords, seenToAtNextVisit } from '../../core/due/next-visit.ts'
import type { StageKind } from '../../core/installations/stage-kinds.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'

const stage = (kind: StageKind, dueOn: string | null) => ({
  kind,
  label: '',
  reason: 'why',
  dueOn: dueOn === null ? null : calendarDate(dueOn),
})
const today = calendarDate('2026-12-01')
const unit = [
  stage('sediment', '2026-11-09'),
  stage('carbon', '2026-11-09'),
  stage('membrane', '2028-08-01'),
  stage('tank', '2026-12-30'),
  stage('post-carbon', '2026-11-09'),
  stage('remineraliser', '2026-12-19'),
]

test('DUE-19 the next visit sees to what is due by then and what falls due within the grace', () => {
  expect(seenToAtNextVisit(unit, today, 30).map((one) => one.kind)).toEqual([
    'sediment',
    'carbon',
    'tank',
    'post-carbon',
    'remineraliser',
  ])
  expect(seenToAtNextVisit(unit, today, 0).map((one) => one.kind)).toEqual(['sediment', 'carbon', 'post-carbon'])
  expect(seenToAtNextVisit([stage('carbon', '2027-05-01'), stage('tank', '2027-05-20')], today, 30)).toHaveLength(2)
  expect(seenToAtNextVisit([stage('carbon', null)], today, 30)).toEqual([])
})

test('DUE-19 and says so in a sentence', () => {
  expect(nextVisitInWords(unit, today, 30, 'en-US')).toBe(
    'change all filters and the minerals, and sanitise the tank; it was due on Nov 9.',
  )
  expect(nextVisitInWords([stage('tank', '2027-05-08')], today, 30, 'en-US')).toBe('sanitise the tank; due May 8.')
  expect(nextVisitInWords([], today, 30, 'en-US')).toBe('')
})
