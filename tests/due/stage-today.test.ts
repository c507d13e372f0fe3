import { expect, test } from 'vitest'
import { type KeptStage, reasonOn, trainStageOn } from '../../core/due/stage-today.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { stageIdSchema } from '../../core/units/ids.ts'
import { gallonsToMillilitres } from '../../core/units/measures.ts'

const kept: KeptStage = {
  stageId: stageIdSchema.parse(7),
  kind: 'sediment',
  label: '',
  changedOn: calendarDate('2026-01-01'),
  fittedOn: null,
  dueOn: calendarDate('2026-12-27'),
  dueRule: 'volume',
  dueReason: 'rated for 1,500 gal, sees 4.2 gal a day',
  ratedMillilitres: gallonsToMillilitres(1500),
  monthsAway: '',
}

test('DUE-14 a stage that goes by volume says how much of it has passed', () => {
  expect(reasonOn(calendarDate('2026-12-22'), kept, 'us')).toBe('1,479 of 1,500 gal')
  expect(reasonOn(calendarDate('2026-01-01'), kept, 'us')).toBe('0 of 1,500 gal')
  expect(reasonOn(calendarDate('2025-01-01'), kept, 'us')).toBe('0 of 1,500 gal')
  expect(reasonOn(calendarDate('2026-06-30'), kept, 'metric')).toBe('2,839 of 5,678 L')
})

test('DUE-20 nothing passes in the months in which nobody is there', () => {
  // January to March and September to December 27 are in use: 90 + 117 days, 90 of them gone by April, and by August.
  const seasonal = { ...kept, monthsAway: '4,5,6,7,8' }
  expect(reasonOn(calendarDate('2026-04-01'), seasonal, 'us')).toBe('652 of 1,500 gal')
  expect(reasonOn(calendarDate('2026-08-15'), seasonal, 'us')).toBe('652 of 1,500 gal')
})

test('DUE-22 how the use is known is said with it, where it was measured or entered', () => {
  const metered = { ...kept, dueReason: 'rated for 1,500 gal, sees 4.2 gal a day, by the meter' }
  expect(reasonOn(calendarDate('2026-12-22'), metered, 'us')).toBe('1,479 of 1,500 gal, by the meter')
})

test('DUE-14 every other reason stays as it was stored', () => {
  expect(reasonOn(calendarDate('2026-06-30'), { ...kept, dueRule: 'months', dueReason: '12 months' }, 'us')).toBe(
    '12 months',
  )
  expect(reasonOn(calendarDate('2026-06-30'), { ...kept, ratedMillilitres: null }, 'us')).toBe(kept.dueReason)
  expect(reasonOn(calendarDate('2026-06-30'), { ...kept, changedOn: kept.dueOn }, 'us')).toBe(kept.dueReason)
})

test('DUE-13 the stage train shows name, date, life left and lateness as of today', () => {
  expect(trainStageOn(calendarDate('2026-06-30'), kept, 'us', true)).toEqual({
    stageId: 7,
    kind: 'sediment',
    label: 'Sediment',
    dueOn: '2026-12-27',
    lifeLeft: 0.5,
    daysLate: 0,
    reason: '750 of 1,500 gal',
    ringed: true,
  })
  const late = { ...kept, label: 'First sediment', dueRule: 'months', dueReason: '12 months' }
  expect(trainStageOn(calendarDate('2027-01-10'), late, 'us', false)).toMatchObject({
    label: 'First sediment',
    lifeLeft: 0,
    daysLate: 14,
  })
})
