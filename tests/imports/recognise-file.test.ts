import { describe, expect, test } from 'vitest'
import { decodeList } from '../../core/imports/held-lists-store.ts'
import { isUtf8, recogniseFile } from '../../core/imports/recognise-file.ts'

const bytes = (...values: number[]): Uint8Array => Uint8Array.from(values)
const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text)
const decoded = (list: Uint8Array): string => {
  const file = recogniseFile(list)
  return file.kind === 'text' ? decodeList(list, file.encoding, file.markLength) : file.kind
}

describe('the bytes of a list', () => {
  test('IMP-3 UTF-8 with and without its mark', () => {
    expect(decoded(utf8('Łódź,Søndergate'))).toBe('Łódź,Søndergate')
    expect(decoded(bytes(0xef, 0xbb, 0xbf, ...utf8('Name,Ort')))).toBe('Name,Ort')
  })

  test('IMP-3 UTF-16 with its mark, and Western UTF-16 without', () => {
    const little = [...'Name;Müller'].flatMap((letter) => [letter.charCodeAt(0) & 255, letter.charCodeAt(0) >> 8])
    expect(decoded(bytes(0xff, 0xfe, ...little))).toBe('Name;Müller')
    expect(decoded(bytes(...little))).toBe('Name;Müller')
    const big = [...'Name;Ort'].flatMap((letter) => [0, letter.charCodeAt(0)])
    expect(decoded(bytes(0xfe, 0xff, ...big))).toBe('Name;Ort')
  })

  // WHATWG Encoding Standard, index windows-1252: 0x80 is U+20AC, 0x92 is U+2019, 0xE9 is U+00E9.
  test('IMP-3 what is no UTF-8 is Windows-1252, with its own signs between 80 and 9F', () => {
    expect(decoded(bytes(0x63, 0x61, 0x66, 0xe9, 0x92, 0x73, 0x20, 0x80))).toBe('café’s €')
  })

  // RFC 3629, sections 3 and 10: overlong forms, surrogates and values above 10FFFF are not UTF-8.
  test.each([
    [[0xc0, 0x80], false],
    [[0xed, 0xa0, 0x80], false],
    [[0xf4, 0x90, 0x80, 0x80], false],
    [[0xe2, 0x82], false],
    [[0xf0, 0x9f, 0x92, 0xa7], true],
  ])('RFC 3629: %j is UTF-8: %s', (values, expected) => {
    expect(isUtf8(Uint8Array.from(values))).toBe(expected)
  })

  test.each([
    [utf8('%PDF-1.7'), 'a PDF'],
    [bytes(0x50, 0x4b, 3, 4), 'a spreadsheet workbook or a packed folder'],
    [utf8('<html><table>'), 'a web page'],
    [bytes(1, 2, 0, 3, 4, 5, 6, 7), 'not a text'],
  ])('IMP-13 a file that is no list is told by its bytes', (file, what) => {
    expect(recogniseFile(file)).toEqual({ kind: 'other', what })
  })

  test('IMP-13 an empty file is empty, also with a mark or only blank lines', () => {
    for (const file of [bytes(), bytes(0xef, 0xbb, 0xbf), utf8(' \r\n\r\n')])
      expect(recogniseFile(file).kind).toBe('empty')
  })
})
