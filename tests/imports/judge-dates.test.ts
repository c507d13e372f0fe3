import { describe, expect, test } from 'vitest'
import {
  dateOfSerial,
  judgeDateColumn,
  looksLikeDate,
  looksLikeSerial,
  orderForOpenColumn,
  readDate,
} from '../../core/imports/judge-dates.ts'
import { LIST_DAY } from '../builders/a-list.ts'

const read = (cell: string, order: 'month-first' | 'day-first' = 'month-first'): string => {
  const date = readDate(cell, order, LIST_DAY)
  return date.kind === 'date' ? date.date : date.kind
}

describe('the dates of a column', () => {
  test('IMP-6 one day above twelve shows the order of the whole column', () => {
    expect(judgeDateColumn(['3/4/2026', '5/14/2026', '1/2/2026'])).toMatchObject({
      order: 'month-first',
      grounds: 'shown',
      example: '5/14/2026',
    })
    expect(judgeDateColumn(['3/4/2026', '14/5/2026'])).toMatchObject({ order: 'day-first', grounds: 'shown' })
    expect(judgeDateColumn(['13/4/2026', '14/5/2026', '5/14/2026'])).toMatchObject({
      order: 'day-first',
      grounds: 'mixed',
    })
    expect(judgeDateColumn(['3/4/2026'])).toMatchObject({ order: null, grounds: 'open' })
    expect(judgeDateColumn(['2026-03-04', '4.3.2026', '5/5/2026'])).toMatchObject({ order: null, grounds: 'none' })
  })

  test('IMP-6 an open column goes by the other columns, then by the country', () => {
    const shown = judgeDateColumn(['14/5/2026'])
    const open = judgeDateColumn(['3/4/2026'])
    expect(orderForOpenColumn([open, shown], 'en-US')).toBe('day-first')
    expect(orderForOpenColumn([open], 'en-US')).toBe('month-first')
    expect(orderForOpenColumn([open], 'de-DE')).toBe('day-first')
  })

  test.each([
    ['2026-11-09', '2026-11-09'],
    ['2026-11-09T00:00:00Z', '2026-11-09'],
    ['2026/11/9', '2026-11-09'],
    ['20261109', '2026-11-09'],
    ['11/9/2026', '2026-11-09'],
    ['11/9/26 12:00 AM', '2026-11-09'],
    ['11-9-99', '1999-11-09'],
    ['9.11.2026', '2026-11-09'],
    ['Nov 9, 2026', '2026-11-09'],
    ['9 November 2026', '2026-11-09'],
    ['Mon, 9-Nov-26', '2026-11-09'],
    ['9. Mai 2026', '2026-05-09'],
    ['Nov 2026', '2026-11-01'],
    ['Nov-26', '2026-11-01'],
    ['11/2026', '2026-11-01'],
    ["'11/9/2026", '2026-11-09'],
    ['9-Nov', 'unreadable'],
    ['31/12/2026', 'other-order'],
    ['2/30/2026', 'unreadable'],
    ['2026-02-30', 'unreadable'],
    ['soon', 'unreadable'],
    ['N/A', 'blank'],
    ['1/0/1900', 'blank'],
    ['', 'blank'],
  ])('IMP-6 %j reads %s', (cell, expected) => {
    expect(read(cell)).toBe(expected)
  })

  test('IMP-6 the same cell in a column that is day first', () => {
    expect(read('3/4/2026', 'day-first')).toBe('2026-04-03')
    expect(read('3/4/2026')).toBe('2026-03-04')
    expect(read('12/31/2026', 'day-first')).toBe('other-order')
  })

  // Microsoft Support, DATEVALUE: 1/1/2008 is 39448, 8/22/2011 is 40777 (from memory).
  test('IMP-6 day numbers of a spreadsheet', () => {
    expect(dateOfSerial(39_448)).toBe('2008-01-01')
    expect(read('40777')).toBe('2011-08-22')
    expect(read('45992.5')).toBe('2025-12-01')
    expect(looksLikeSerial('45992')).toBe(true)
    expect(looksLikeDate('45992', LIST_DAY)).toBe(false)
    expect(looksLikeDate('31/12/2026', LIST_DAY)).toBe(true)
  })
})
