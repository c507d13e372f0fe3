import { expect, test } from 'vitest'
import { calendarDate } from '../../../core/units/calendar-date.ts'
import { readDayOptions } from '../../../electron/day/day-options.ts'

const today = calendarDate('2026-12-01')
const read = (...words: string[]) => readDayOptions(words, '/home/office', today, '/home/office/books.sqlite')

test('the day, the folder and the books are taken as typed; a relative folder from where it was typed', () => {
  expect(read('--on', '2026-12-03', '--out', 'papers', '--data', 'my books.sqlite')).toEqual({
    kind: 'go',
    options: { on: '2026-12-03', out: '/home/office/papers', data: '/home/office/my books.sqlite' },
  })
  expect(read('--out', '/papers')).toEqual({
    kind: 'go',
    options: { on: today, out: '/papers', data: '/home/office/books.sqlite' },
  })
  expect(read('--out', '/papers', '--demo')).toMatchObject({ options: { data: null } })
  expect(read('--out', '/papers', '--data', 'postgres://books')).toMatchObject({
    options: { data: 'postgres://books' },
  })
})

test('words that are not understood are answered with a sentence and the way to help', () => {
  for (const words of [
    [],
    ['--out'],
    ['--on', '2026-02-30', '--out', 'x'],
    ['--on', '12/01/2026', '--out', 'x'],
    ['--out', 'x', '--demo', '--data', 'y'],
    ['--weather', 'fine'],
  ])
    expect(read(...words)).toMatchObject({ kind: 'wrong', sentence: expect.stringContaining('--help') })
  expect(read('--help')).toEqual({ kind: 'help' })
})
