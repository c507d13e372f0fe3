import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { checkDigitOf } from '../../core/stock/gtin.ts'
import { labelOfBin, labelOfLot, labelOfLotAlone, labelOfPart, readScan } from '../../core/stock/scanned-code.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'

const today = calendarDate('2026-12-01')
const read = (typed: string) => readScan(typed, today)
const name = fc.string({ unit: 'grapheme', minLength: 1, maxLength: 40 }).filter((text) => text.trim() !== '')

describe('labels of our own', () => {
  test('STK-30 whatever a part, a lot or a bin is called, its label stands in printable ASCII and reads back', () => {
    fc.assert(
      fc.property(name, name, (part, lot) => {
        const [ofLot, ofPart, ofBin] = [labelOfLot(part, lot), labelOfPart(part), labelOfBin(part)]
        const alone = labelOfLotAlone(lot)
        for (const text of [ofLot, ofPart, ofBin, alone]) expect(text).toMatch(/^[ -~]+$/)
        expect(read(ofLot)).toEqual({ kind: 'label', text: ofLot, partNumber: part.trim(), lot: lot.trim() })
        expect(read(ofPart)).toEqual({ kind: 'label', text: ofPart, partNumber: part.trim(), lot: null })
        expect(read(alone)).toEqual({ kind: 'lot', text: alone, lot: lot.trim() })
        expect(read(ofBin)).toEqual({ kind: 'bin', text: ofBin, bin: part.trim() })
      }),
    )
  })

  test('STK-30 plain names stand plainly: P-1005+2608-114, P-1005+, +A-02-1', () => {
    expect(labelOfLot('P-1005', '2608-114')).toBe('P-1005+2608-114')
    expect(labelOfPart('P-1005')).toBe('P-1005+')
    expect(labelOfBin('A-02-1')).toBe('+A-02-1')
    expect(read(labelOfLot('A+ü', '50 %'))).toMatchObject({ partNumber: 'A+ü', lot: '50 %' })
    // The number of a part that is a GTIN, too, is the number of a part on our label.
    expect(read('6291041500213+')).toMatchObject({ kind: 'label', partNumber: '6291041500213' })
  })
})

describe('labels of makers', () => {
  test('STK-30 a GTIN is one only with its check digit, and the same in every length', () => {
    expect(read(' 036000241457 ')).toMatchObject({ kind: 'gtin', gtin: '00036000241457', lot: null, expiresOn: null })
    expect(read('0036000241457')).toMatchObject({ kind: 'gtin', gtin: '00036000241457' })
    expect(read(']E06291041500213')).toMatchObject({ kind: 'gtin', gtin: '06291041500213' })
    expect(read('036000241458')).toEqual({ kind: 'text', text: '036000241458' })
  })

  // Identifiers 01, 10 and 17, FNC1 sent as the group separator, day 00 as the month's last: GS1 General Specifications, section 3 (from memory).
  test('STK-30 GS1 element strings carry GTIN, lot and date: bracketed, marked or bare', () => {
    const wanted = { kind: 'gtin', gtin: '06291041500213', lot: '2608-114', expiresOn: '2028-08-31' }
    for (const typed of [
      '(01)06291041500213(17)280831(10)2608-114',
      '(01)06291041500213(10)2608-114(17)280800',
      ']C101062910415002131728083110' + '2608-114',
      ']C1010629104150021310' + '2608-114\u001d17280831',
      '01062910415002131728080010' + '2608-114\u001d3712',
      ']d20106291041500213' + '11260901' + '17280831' + '21X7\u001d10' + '2608-114',
    ])
      expect(read(typed)).toMatchObject(wanted)
  })

  test('STK-30 a code that says it is GS1’s and does not add up is to be scanned again', () => {
    expect(read('(01)06291041500214(10)A')).toMatchObject({ kind: 'spoilt', what: 'gtin' })
    expect(read(']C10106291041500213171713' + '01')).toMatchObject({ kind: 'spoilt', what: 'date' })
    expect(read(']C1HELLO')).toMatchObject({ kind: 'spoilt', what: 'form' })
    expect(read('(01)06291041500213(17)2808')).toMatchObject({ kind: 'spoilt', what: 'form' })
    expect(read('(10)2608-114')).toMatchObject({ kind: 'spoilt', what: 'form' })
  })

  // A year 51 or more ahead belongs to the century before, one 50 or more behind to the next: GS1 General Specifications, 7.12 (from memory).
  test.each([
    ['76', '2076'],
    ['77', '1977'],
    ['99', '1999'],
    ['00', '2000'],
  ])('STK-30 the year %s on a label read in 2026 is %s', (two, year) => {
    expect(read(`(01)06291041500213(17)${two}0101`)).toMatchObject({ expiresOn: `${year}-01-01` })
  })
  test('STK-30 in 2080 the year 30 is 2130', () => {
    expect(readScan('(01)06291041500213(17)300101', calendarDate('2080-01-01'))).toMatchObject({
      expiresOn: '2130-01-01',
    })
  })
})

describe('anything else', () => {
  test('STK-30 a scan that is nothing we know is a text, as it came', () => {
    for (const typed of [
      '2608-114',
      'P-1005',
      'A-02-1',
      '',
      '+',
      '++',
      'a+b+c',
      '%zz+1',
      '(abc)',
      '0106291041500213' + '9',
    ])
      expect(read(typed)).toEqual({ kind: 'text', text: typed })
  })

  test('STK-30 nothing that a scanner types breaks the reading', () => {
    const typed = fc.oneof(
      fc.string({ unit: 'binary' }),
      fc.string({ unit: fc.constantFrom(...'0123456789()+%]C1\u001d ') }),
      fc
        .tuple(fc.stringMatching(/^\d{13}$/), fc.string({ unit: fc.constantFrom(...'0123456789()\u001dAB') }))
        .map(([digits, rest]) => `01${digits}${checkDigitOf(digits)}${rest}`),
    )
    fc.assert(
      fc.property(typed, (text) => {
        const scan = read(text)
        expect(text).toContain(scan.text)
        if (scan.kind === 'gtin') expect(scan.gtin).toMatch(/^\d{14}$/)
        if (scan.kind === 'gtin' && scan.expiresOn !== null)
          expect(() => calendarDate(scan.expiresOn ?? '')).not.toThrow()
      }),
      { numRuns: 500 },
    )
  })
})
