import { parse } from 'csv-parse/sync'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { type CsvCell, withoutTextMark, writeCsv } from '../../core/imports/write-csv.ts'

// The reader of the outside world: the csv-parse library, told to expect a byte order mark (RFC 4180 otherwise).
const readBack = (csv: string): string[][] => parse(csv, { bom: true, relax_column_count: true })

describe('a list saved as CSV', () => {
  test('IMP-1 is written as RFC 4180 says: commas, doubled quotes, CRLF, and a byte order mark in front', () => {
    // RFC 4180, section 2, rules 1, 5, 6 and 7.
    expect(writeCsv(['Household', 'Note'], [['Larkmoor, Ida', 'said "ring\r\ntwice"']])).toBe(
      '\uFEFFHousehold,Note\r\n"Larkmoor, Ida","said ""ring\r\ntwice"""\r\n',
    )
  })

  // OWASP, "CSV Injection": = + - @, tab, carriage return, line feed, and the full-width signs (from memory).
  test.each([
    '=1+1',
    '+1',
    '-1+2',
    '@SUM(A1)',
    '\t=1',
    '\r=1',
    '\n=1',
    '\uFF1D1',
    '\uFF0B1',
    '\uFF0D1',
    '\uFF201',
    ' =1',
    "'=1",
  ])('IMP-2 no cell can become a live formula: %j', (cell) => {
    const [, row] = readBack(writeCsv(['Note'], [[cell]]))
    expect(row).toEqual([`'${cell}`])
  })

  test('IMP-2 a telephone number with a plus keeps its digits and is shown as text', () => {
    expect(readBack(writeCsv(['Phone'], [['+1 555-0142']]))).toEqual([['Phone'], ["'+1 555-0142"]])
  })

  test('numbers stay numbers, also below zero; a blank cell stays blank', () => {
    expect(writeCsv(['a', 'b', 'c'], [[-12.5, 0, null]])).toBe('\uFEFFa,b,c\r\n-12.5,0,\r\n')
    expect(writeCsv(['a'], [[Number.NaN], [null]])).toBe('\uFEFFa\r\n""\r\n""\r\n')
  })

  test('a name with an apostrophe in front keeps it', () => {
    expect(withoutTextMark("'t Veen")).toBe("'t Veen")
    expect(withoutTextMark("'02134")).toBe('02134')
  })

  test('IMP-1 a CSV library reads back what was written', () => {
    const text = fc.oneof(
      fc.string({ unit: 'grapheme' }),
      fc.string({
        unit: fc.constantFrom('=', '+', '-', '@', '"', ',', ';', '\t', '\r', '\n', "'", ' ', 'a', '7', '\uFEFF'),
      }),
    )
    const cell: fc.Arbitrary<CsvCell> = fc.oneof(
      text,
      fc.integer(),
      fc.double({ noNaN: true, noDefaultInfinity: true }),
      fc.constant(null),
    )
    const list = fc
      .integer({ min: 1, max: 5 })
      .chain((width) =>
        fc.tuple(
          fc.array(text, { minLength: width, maxLength: width }),
          fc.array(fc.array(cell, { minLength: width, maxLength: width }), { maxLength: 6 }),
        ),
      )
    fc.assert(
      fc.property(list, ([columns, rows]) => {
        const read = readBack(writeCsv(columns, rows))
        const meant = [columns, ...rows].map((row) => row.map((value) => (value === null ? '' : String(value))))
        const given = [columns, ...rows].flat()
        expect(read.flat().map((value, i) => (typeof given[i] === 'number' ? value : withoutTextMark(value)))).toEqual(
          meant.flat(),
        )
      }),
    )
  })

  test('IMP-2 whatever is written, no text cell begins as a formula does', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme' }), fc.constantFrom('=', '+', '-', '@', '\t', '\r'), (rest, sign) => {
        const [, row] = readBack(writeCsv(['x'], [[sign + rest]]))
        expect(row?.[0]?.startsWith("'")).toBe(true)
      }),
    )
  })
})
