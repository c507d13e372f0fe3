import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { columnTemplate, exportLines, leastWidth, type TableColumn } from '../../../renderer/design/table-columns.ts'
import { choiceOf, rowAfterKey, toggled, withAll, withRange } from '../../../renderer/design/table-hands.ts'
import { handleTableKey, itemsInHand, runTableKey, type TableActions } from '../../../renderer/design/table-keyboard.ts'
import { readNumber, writeNumber } from '../../../renderer/design/typed-number.ts'

const press = (key: string, over: Partial<{ shiftKey: boolean; ctrlKey: boolean }> = {}) => ({
  key,
  shiftKey: false,
  ctrlKey: false,
  metaKey: false,
  ...over,
})

function someHands(hand = 2) {
  const done: string[] = []
  const actions: TableActions = {
    count: 10,
    page: 4,
    hand,
    goTo: (index) => done.push(`go ${index}`),
    choose: (index, range) => done.push(`choose ${index}${range ? ' range' : ''}`),
    extend: (to) => done.push(`extend ${to}`),
    chooseAll: () => done.push('all'),
    open: (index) => done.push(`open ${index}`),
    letter: (key) => done.push(`letter ${key}`) > 0,
  }
  return { done, actions }
}

describe('the hand in a table', () => {
  test.each([
    ['ArrowDown', 'go 3'],
    ['ArrowUp', 'go 1'],
    ['PageDown', 'go 5'],
    ['PageUp', 'go 0'],
    ['Home', 'go 0'],
    ['End', 'go 9'],
    [' ', 'choose 2'],
    ['Enter', 'open 2'],
    ['b', 'letter b'],
  ])('%s does "%s"', (key, what) => {
    const { done, actions } = someHands()
    expect(handleTableKey(press(key), actions)).toBe(true)
    expect(done).toEqual([what])
  })

  test('nothing is in hand: Enter and Space mean nothing, the first arrow takes the first row', () => {
    const { done, actions } = someHands(-1)
    expect(handleTableKey(press('Enter'), actions)).toBe(false)
    expect(handleTableKey(press('ArrowDown'), actions)).toBe(true)
    expect(done).toEqual(['go 0'])
  })

  test('with Ctrl only A is the table’s', () => {
    const { done, actions } = someHands()
    expect(handleTableKey(press('a', { ctrlKey: true }), actions)).toBe(true)
    expect(handleTableKey(press('b', { ctrlKey: true }), actions)).toBe(false)
    expect(done).toEqual(['all'])
  })

  test('no key leads out of the table', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('ArrowDown', 'ArrowUp', 'PageDown', 'PageUp', 'Home', 'End'),
        fc.integer({ min: -1, max: 60 }),
        fc.nat(50),
        fc.nat(30),
        (key, at, count, page) => {
          const row = rowAfterKey(key, at, count, page)
          expect(row === null ? count === 0 : row >= 0 && row < count).toBe(true)
        },
      ),
    )
  })
})

describe('what is chosen', () => {
  const keys = ['a', 'b', 'c', 'd']
  test('one, a range in either direction, all and none', () => {
    expect([...toggled(new Set(['a']), 'a')]).toEqual([])
    expect([...withRange(new Set(), keys, 2, 0)]).toEqual(['a', 'b', 'c'])
    expect(choiceOf(withAll(new Set(['a']), keys), keys)).toBe('all')
    expect(choiceOf(withAll(new Set(keys), keys), keys)).toBe('none')
    expect([...withAll(new Set([...keys, 'out of sight']), keys)]).toEqual(['out of sight'])
    expect(choiceOf(new Set(['a']), keys)).toBe('some')
  })

  test('a key acts on what is chosen, or else on the row in hand', () => {
    expect(itemsInHand([1, 2, 3, 4], keys, new Set(['b', 'd']), 0)).toEqual([2, 4])
    expect(itemsInHand([1, 2, 3, 4], keys, new Set(), 2)).toEqual([3])
    expect(runTableKey([{ key: 'b', does: 'books', run: () => undefined }], 'b', [])).toBe(false)
  })
})

describe('columns', () => {
  const columns: TableColumn<{ name: string; cents: number }>[] = [
    { id: 'name', header: 'Household', value: (row) => row.name, width: { share: 2, least: 160 } },
    { id: 'price', header: 'Price, USD', value: (row) => row.cents, csv: (row) => row.cents / 100, width: 88 },
  ]
  test('their widths and their exported values', () => {
    expect(columnTemplate(columns, true)).toBe('36px minmax(160px, 2fr) 88px')
    expect(leastWidth(columns, true)).toBe(284)
    expect(exportLines(columns, [{ name: 'Ashgrove', cents: 8640 }])).toEqual({
      headers: ['Household', 'Price, USD'],
      lines: [['Ashgrove', 86.4]],
    })
  })
})

describe('numbers as they are typed', () => {
  test.each([
    ['1,480', 'en-US', 0, 1480],
    ['1.480', 'de-DE', 0, 1480],
    ['58,5', 'de-DE', 1, 58.5],
    ['58,5', 'en-US', 1, 58.5],
    ['−6', 'en-US', 0, -6],
    ['1.5', 'en-US', 0, null],
    ['12 psi', 'en-US', 0, null],
    ['1,48', 'en-US', 2, 1.48],
  ])('"%s" in %s with %i digits', (typed, locale, digits, value) => {
    expect(readNumber(typed, locale, digits)).toBe(value)
  })

  test('what is written is read again, and bounds hold', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -999_999, max: 999_999 }),
        fc.constantFrom('en-US', 'en-GB', 'de-DE'),
        (tenths, locale) => {
          const value = tenths / 10
          expect(readNumber(writeNumber(value, locale, 1), locale, 1)).toBe(value === 0 ? 0 : value)
        },
      ),
    )
    expect(readNumber('201', 'en-US', 0, 0, 200)).toBeNull()
  })
})
