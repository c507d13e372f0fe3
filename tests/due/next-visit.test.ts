import { expect, test } from 'vitest'
import { nextVisitInWords, plannedVisitInWords, seenToAtNextVisit, seenToNext } from '../../core/due/next-visit.ts'
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

test('DUE-19 a plan has the next word: what it sees to, and from when until when', () => {
  const stages = unit.map((one, index) => ({ ...one, stageId: index + 1 }))
  const plan = (visitOn: string, latestOn: string, ids: readonly number[]) => ({
    visitOn: calendarDate(visitOn),
    latestOn: calendarDate(latestOn),
    stageIds: new Set(ids),
  })
  const ahead = plan('2027-06-05', '2027-07-05', [1, 2])
  const chosen = seenToNext(stages, ahead, today, 30)
  expect(chosen.map(({ stageId }) => stageId)).toEqual([1, 2])
  expect(plannedVisitInWords(chosen, stages, ahead, today, 'en-US')).toMatch(/^change the pre-filters; .+\.$/)
  expect(plannedVisitInWords([], stages, ahead, today, 'en-US')).toBe('')
  // A plan whose visit was missed has nothing to say any more.
  expect(seenToNext(stages, plan('2020-01-01', '2020-01-31', [1]), today, 30)).toEqual(
    seenToAtNextVisit(stages, today, 30),
  )
  expect(seenToNext(stages, undefined, today, 30)).toEqual(seenToAtNextVisit(stages, today, 30))
})
