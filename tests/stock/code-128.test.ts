import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { checkSymbol, code128 } from '../../core/stock/code-128.ts'
import { readCode128, referenceWidths } from '../judges/read-code-128.ts'

const letters = (text: string): number[] => Array.from(text, (letter) => letter.charCodeAt(0) - 32)
const pairs = (digits: string): number[] => (digits.match(/../g) ?? []).map(Number)

describe('the check symbol of published examples', () => {
  test.each([
    ['PJJ123C in set A', [103, ...letters('PJJ123C')], 54],
    ['HI in set A, then 345678 in set C', [103, ...letters('HI'), 99, ...pairs('345678')], 67],
    ['345678 in set C', [105, ...pairs('345678')], 73],
    ['ABCDEF in set A', [103, ...letters('ABCDEF')], 42],
    ['GS1-128 (01)60000116030603', [105, 102, ...pairs('0160000116030603')], 71],
  ])('STK-32 %s', (_, words, check) => {
    expect(checkSymbol(words)).toBe(check)
  })

  test('STK-32 the encoder finds the same words where there is but one way', () => {
    expect(code128('345678').codeWords).toEqual([105, 34, 56, 78, 73, 106])
    expect(code128('0160000116030603', true).codeWords).toEqual([105, 102, 1, 60, 0, 1, 16, 3, 6, 3, 71, 106])
  })
})

const ascii = fc.string({ unit: 'binary-ascii', minLength: 1, maxLength: 40 })
/** Digits among letters, as in lot numbers: where the choice of sets counts. */
const mixed = fc.string({
  unit: fc.constantFrom(...'0123456789012345678901234567AbC-+\t\u001e'),
  minLength: 1,
  maxLength: 40,
})
const anyText = fc.oneof(ascii, mixed)

describe('held against a reference library', () => {
  const told = (words: readonly number[]): string => words.map((word) => `^${String(word).padStart(3, '0')}`).join('')

  test('STK-32 bars and spaces are those that the library draws for the same words, check symbol and stop included', () => {
    fc.assert(
      fc.property(anyText, fc.boolean(), (text, gs1) => {
        const code = code128(text, gs1)
        expect(code.widths).toEqual(referenceWidths(told(code.codeWords.slice(0, -2)), { raw: true }))
        expect(code.modules).toBe(11 * (code.codeWords.length - 1) + 13)
      }),
      { numRuns: 2000 },
    )
  })

  test('STK-32 no text takes more modules than in the library’s own choice of sets, and most take exactly its bars', () => {
    let same = 0
    let all = 0
    fc.assert(
      fc.property(anyText, (text) => {
        const theirs = referenceWidths(text)
        const ours = code128(text)
        all += 1
        if (ours.widths.join('') === theirs.join('')) same += 1
        expect(ours.modules).toBeLessThanOrEqual(theirs.reduce((sum, width) => sum + width, 0))
      }),
      { numRuns: 2000 },
    )
    expect(same / all).toBeGreaterThan(0.5)
  })
})

describe('read again by a decoder that knows nothing of the encoder', () => {
  test('STK-32 every text comes back, at any width of the bars', () => {
    fc.assert(
      fc.property(anyText, fc.double({ min: 0.5, max: 50, noNaN: true }), fc.boolean(), (text, module, gs1) => {
        const { widths } = code128(text, gs1)
        expect(readCode128(widths.map((width) => width * module))).toMatchObject({ text, isGs1: gs1 })
      }),
      { numRuns: 2000 },
    )
  })

  test('STK-32 a symbol that is read wrong is never taken for right', () => {
    fc.assert(
      fc.property(mixed, fc.nat(200), fc.integer({ min: 1, max: 102 }), (text, at, off) => {
        const { codeWords } = code128(text)
        const place = 1 + (at % (codeWords.length - 3))
        const wrong = codeWords.slice(0, -2).map((word, index) => (index === place ? (word + off) % 103 : word))
        if (place % 103 !== 0) expect(checkSymbol(wrong)).not.toBe(codeWords.at(-2))
      }),
    )
  })

  test('STK-32 what cannot be set in bars is a mistake of the caller', () => {
    for (const text of ['', 'é', '2608–114']) expect(() => code128(text)).toThrow(RangeError)
  })
})

/** Every way to set a text, tried one after the other: the fewest words there are. */
function fewestByTrying(text: string): number {
  const inSet = (set: string, letter: string): boolean =>
    letter >= ' ' && letter < '`' ? true : set === 'A' ? letter < ' ' : letter >= '`'
  const rest = (at: number, set: string, changed: boolean): number => {
    if (at >= text.length) return 0
    const letter = text[at] ?? ''
    const ways: number[] = []
    if (set === 'C') {
      if (/^\d\d/.test(text.slice(at))) ways.push(1 + rest(at + 2, 'C', false))
    } else {
      if (inSet(set, letter)) ways.push(1 + rest(at + 1, set, false))
      if (inSet(set === 'A' ? 'B' : 'A', letter)) ways.push(2 + rest(at + 1, set, false))
    }
    if (!changed) for (const other of 'ABC') if (other !== set) ways.push(1 + rest(at, other, true))
    return Math.min(...ways)
  }
  return Math.min(...Array.from('ABC', (set) => 1 + rest(0, set, true)))
}

test('STK-32 no way of choosing the sets takes fewer words', () => {
  const short = fc.string({ unit: fc.constantFrom(...'0123aA-\t'), minLength: 1, maxLength: 8 })
  fc.assert(
    fc.property(short, (text) => {
      expect(code128(text).codeWords.length).toBe(fewestByTrying(text) + 2)
    }),
    { numRuns: 500 },
  )
})
