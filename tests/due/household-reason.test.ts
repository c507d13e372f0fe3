import { describe, expect, test } from 'vitest'
import { earliestDueOn, householdReason, type ReasonedStage, stagesInWords } from '../../core/due/household-reason.ts'
import type { StageKind } from '../../core/installations/stage-kinds.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'

const stage = (kind: StageKind, dueOn: string | null, reason = 'why', label = ''): ReasonedStage => ({
  kind,
  label,
  dueOn: dueOn === null ? null : calendarDate(dueOn),
  reason,
})
const six = '6 months, family of six'

describe('why a household is due', () => {
  test('DUE-15 the earliest date of all its stages, and why, in one line', () => {
    const unit = [
      stage('sediment', '2026-11-09', six),
      stage('carbon', '2026-11-09', six),
      stage('membrane', '2028-08-01', '24 months, hard water'),
      stage('tank', '2027-05-08', 'sanitise, once a year'),
      stage('post-carbon', '2026-11-09', six),
      stage('remineraliser', '2026-12-19', '7 months, set for this stage'),
    ]
    expect(earliestDueOn(unit)).toBe('2026-11-09')
    expect(householdReason(unit)).toBe(`all filters: ${six}`)
  })

  test('DUE-15 one stage is named by itself', () => {
    expect(
      householdReason([stage('sediment', '2026-12-05', '1,480 of 1,500 gal'), stage('carbon', '2027-01-05')]),
    ).toBe('sediment: 1,480 of 1,500 gal')
    expect(householdReason([stage('tank', '2026-12-20', 'sanitise, once a year')])).toBe('tank: sanitise, once a year')
  })

  test('DUE-15 two reasons on one day stand one after the other', () => {
    const unit = [
      stage('sediment', '2026-12-05', six),
      stage('carbon', '2026-12-05', six),
      stage('membrane', '2026-12-05', '24 months, hard water'),
      stage('post-carbon', '2027-02-01'),
    ]
    expect(householdReason(unit)).toBe(`pre-filters: ${six}; membrane: 24 months, hard water`)
  })

  test('DUE-15 with no dated stage there is nothing to say', () => {
    expect(householdReason([])).toBe('')
    expect(householdReason([stage('carbon', null, 'not known when it was last changed')])).toBe('')
  })
})

describe('naming a choice of stages', () => {
  const sediment = stage('sediment', null)
  const carbon = stage('carbon', null)
  const post = stage('post-carbon', null)
  const lamp = stage('uv-lamp', null)
  const minerals = stage('remineraliser', null)
  const all = [sediment, carbon, post, lamp, minerals]

  test.each([
    [[sediment, carbon, post], 'all filters'],
    [[sediment, carbon, post, minerals], 'all filters, minerals'],
    [[sediment, carbon], 'pre-filters'],
    [[sediment, post], 'sediment, post filter'],
    [[lamp], 'lamp'],
    [[], ''],
  ])('DUE-15 case %#', (chosen, words) => {
    expect(stagesInWords(chosen, all)).toBe(words)
  })

  test('DUE-15 a lone filter is not "all filters", and an own label is used', () => {
    expect(stagesInWords([sediment], [sediment])).toBe('sediment')
    const own = stage('other', null, '', 'Leak stop')
    expect(stagesInWords([own], [own])).toBe('leak stop')
  })
})
