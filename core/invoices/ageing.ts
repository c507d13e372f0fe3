import { type CalendarDate, daysBetween } from '../units/calendar-date.ts'
import { type Cents, cents } from '../units/money.ts'

/** How long what is owed has been owed, counted from the date it fell due. */
export const AGES = ['current', '1-30', '31-60', '61-90', 'over-90'] as const
export type Age = (typeof AGES)[number]

export const AGE_WORDS: Readonly<Record<Age, string>> = {
  current: 'Not due yet',
  '1-30': '1–30 days',
  '31-60': '31–60 days',
  '61-90': '61–90 days',
  'over-90': 'Over 90 days',
}

/** The age of an amount: on its due date it is still current, the day after it is one day late. */
export function ageOf(dueOn: CalendarDate, today: CalendarDate): Age {
  const late = daysBetween(dueOn, today)
  if (late <= 0) return 'current'
  if (late <= 30) return '1-30'
  if (late <= 60) return '31-60'
  return late <= 90 ? '61-90' : 'over-90'
}

export interface OpenAmount {
  readonly dueOn: CalendarDate
  readonly open: Cents
}

/** What is owed, by age. Every amount lands in exactly one age, so the ages add up to what is owed. */
export function ageing(amounts: readonly OpenAmount[], today: CalendarDate): Readonly<Record<Age, Cents>> {
  const sums: Record<Age, number> = { current: 0, '1-30': 0, '31-60': 0, '61-90': 0, 'over-90': 0 }
  for (const { dueOn, open } of amounts) sums[ageOf(dueOn, today)] += open
  return {
    current: cents(sums.current),
    '1-30': cents(sums['1-30']),
    '31-60': cents(sums['31-60']),
    '61-90': cents(sums['61-90']),
    'over-90': cents(sums['over-90']),
  }
}
