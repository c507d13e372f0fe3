import { describe, expect, test } from 'vitest'
import { foldText, phoneDigits } from '../../core/customers/fold-text.ts'
import { holdsEveryWord, searchTextOf, searchWordsOf } from '../../core/customers/search-words.ts'

const kept = searchTextOf({
  names: ['Abernathy-Vance, Corinne', 'Corinne Abernathy-Vance', 'Piet Łukasz-Størmer'],
  addressLines: ['18 Weirside Lane', 'Tollard Mill', 'XX 00142'],
  phones: ['(000) 555-0142', '555 0177'],
  emails: ['corinne@example.com'],
  reference: 'AV-0417',
})
const finds = (typed: string): boolean => holdsEveryWord(kept, searchWordsOf(typed))

describe('what is kept for the search', () => {
  test('CUST-1 letters lose their case and their marks', () => {
    expect(foldText('  Łódź   ÅNGSTRÖM Straße ')).toBe('lodz angstrom strasse')
    expect(foldText('O’Brien')).toBe("o'brien")
    expect(phoneDigits('(0) 555-0142 ext. 3')).toBe('055501423')
  })

  test('CUST-1 every piece stands once, on a line of its own', () => {
    const text = searchTextOf({
      names: ['Anna', 'Anna'],
      addressLines: ['', '4 Sluice Yard'],
      phones: ['555-0100'],
      emails: [],
      reference: 'A-1',
    })
    expect(text).toBe('anna\n4 sluice yard\n555-0100\na-1\n5550100')
  })
})

describe('finding a household by any part', () => {
  test.each([
    'abernathy',
    'VANCE cor',
    'vance, corinne',
    'nathy',
    '18 weirside',
    'tollard',
    'mill weir',
    '555-0142',
    '5550142',
    '0142',
    '(000) 555',
    '000 555 0142',
    '555 0177',
    'corinne@',
    'example.com',
    'av-0417',
    'lukasz',
    'Stormer',
    '00142',
    ' ',
  ])('CUST-2 "%s" finds her', (typed) => {
    expect(finds(typed)).toBe(true)
  })

  test.each(['abernethy', 'corinne idris', '555-0199', '19 weirside', 'example.org'])(
    'CUST-2 "%s" does not',
    (typed) => {
      expect(finds(typed)).toBe(false)
    },
  )

  test('CUST-2 a number with signs is looked for both ways, and words that make one number as one', () => {
    expect(searchWordsOf('555-0142')).toEqual([['555-0142', '5550142']])
    expect(searchWordsOf('000 555 0142')).toEqual([['0005550142']])
    expect(searchWordsOf('12 Mill')).toEqual([['12'], ['mill']])
    expect(searchWordsOf(' , ')).toEqual([])
  })
})
