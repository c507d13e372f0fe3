import { parse } from 'csv-parse/sync'
import { stringify } from 'csv-stringify/sync'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { declaredSeparator, readCsv, recogniseSeparator, SEPARATORS } from '../../core/imports/csv-records.ts'

const cellsOf = (text: string, separator: (typeof SEPARATORS)[number] = ','): (readonly string[])[] =>
  readCsv(text, separator).records.map((record) => record.cells)

describe('reading CSV', () => {
  // RFC 4180, section 2: its own examples of line ends, quotes and doubled quotes.
  test('IMP-4 the examples of RFC 4180', () => {
    expect(cellsOf('aaa,bbb,ccc\r\nzzz,yyy,xxx')).toEqual([
      ['aaa', 'bbb', 'ccc'],
      ['zzz', 'yyy', 'xxx'],
    ])
    expect(cellsOf('"aaa","b \r\nbb","ccc"\r\nzzz,yyy,xxx')).toEqual([
      ['aaa', 'b \r\nbb', 'ccc'],
      ['zzz', 'yyy', 'xxx'],
    ])
    expect(cellsOf('"aaa","b""bb","ccc"')).toEqual([['aaa', 'b"bb', 'ccc']])
  })

  test('IMP-4 lines keep their true number behind quoted line breaks, blank lines and any line end', () => {
    const text = 'a,b\r\n"one\ntwo\r\nthree",x\r\n\r\ny,z\rq,r\n'
    expect(readCsv(text, ',').records.map((record) => record.line)).toEqual([1, 2, 6, 7])
  })

  test('an inch mark and a quotation mark that never closes stand for themselves', () => {
    expect(cellsOf('10" long,x\n"5" filter, spare",y')).toEqual([
      ['10" long', 'x'],
      ['5" filter, spare', 'y'],
    ])
    const read = readCsv('"5 micron,x\nnext,y', ',')
    expect(read.records.map((record) => record.cells)).toEqual([
      ['"5 micron', 'x'],
      ['next', 'y'],
    ])
    expect(read.openQuoteLines).toEqual([1])
  })

  test('a loose quote at the start of a cell does not swallow the rows after it', () => {
    expect(cellsOf('"5" filter,x\r\n"abc",y')).toEqual([
      ['"5" filter', 'x'],
      ['abc', 'y'],
    ])
  })

  // Reference: the csv-stringify and csv-parse libraries.
  test('IMP-4 reads what a CSV library writes, with every separator', () => {
    const cell = fc.oneof(fc.string(), fc.string({ unit: fc.constantFrom('"', ',', ';', '\t', '\n', '\r', ' ', 'a') }))
    const rows = fc.array(fc.array(cell, { minLength: 3, maxLength: 3 }), { minLength: 1, maxLength: 5 })
    fc.assert(
      fc.property(rows, fc.constantFrom(...SEPARATORS), (written, separator) => {
        const text = stringify(written, { delimiter: separator, quoted: true, record_delimiter: 'windows' })
        const meant = written.filter((row) => row.some((one) => one !== ''))
        expect(cellsOf(text, separator)).toEqual(meant)
        const library: string[][] = parse(text, { delimiter: separator })
        expect(library.filter((row) => row.some((one) => one !== ''))).toEqual(meant)
      }),
    )
  })

  test.each([
    ['a,b,c\n1,2,3', ','],
    ['a;b;c\n1,5;2,5;3', ';'],
    ['a\tb\n"x, y"\tz', '\t'],
    ['a|b\n1|2', '|'],
    ['"Vance, Corinne";"Mill, 4"\n"Holt, Bo";"Quay, 5"', ';'],
    ['sep=;\na,b;c', ';'],
    ['alone', ','],
  ])('IMP-3 the separator of %j is %j', (text, separator) => {
    expect(recogniseSeparator(text)).toBe(separator)
  })

  test('a first line that declares the separator is known', () => {
    expect(declaredSeparator('sep=\t\na')).toBe('\t')
    expect(declaredSeparator('september')).toBeNull()
  })
})
