import { expect, test } from 'vitest'
import {
  monthsAwayInWords,
  monthsAwaySchema,
  monthsAwayText,
  readMonthsAway,
} from '../../core/customers/months-away.ts'

test('DUE-20 months away are kept as numbers, each once and in order, and never all twelve', () => {
  for (const text of ['', '6,7,8', '1,12', '1,2,3,4,5,6,7,8,9,10,11']) {
    expect(monthsAwaySchema.safeParse(text).success).toBe(true)
    expect(monthsAwayText(readMonthsAway(text))).toBe(text)
  }
  for (const text of ['0', '13', '8,7', '6,6', 'June', '6,', '1,2,3,4,5,6,7,8,9,10,11,12'])
    expect(monthsAwaySchema.safeParse(text).success).toBe(false)
})

test('DUE-20 what is no month in old books is passed over, and a whole year away counts as none', () => {
  expect(readMonthsAway('8,7,x,99,7')).toEqual([7, 8])
  expect(readMonthsAway('1,2,3,4,5,6,7,8,9,10,11,12')).toEqual([])
})

test('DUE-20 months away are said in runs, over the turn of the year too', () => {
  expect(monthsAwayInWords([])).toBe('')
  expect(monthsAwayInWords([7])).toBe('July')
  expect(monthsAwayInWords([6, 7])).toBe('June and July')
  expect(monthsAwayInWords([1, 12])).toBe('December and January')
  expect(monthsAwayInWords([2, 7])).toBe('February and July')
  expect(monthsAwayInWords([6, 7, 8])).toBe('June to August')
  expect(monthsAwayInWords([1, 2, 12])).toBe('December to February')
  expect(monthsAwayInWords([1, 4, 10, 11, 12])).toBe('April and October to January')
  expect(monthsAwayInWords([1, 4, 10])).toBe('January, April and October')
})
