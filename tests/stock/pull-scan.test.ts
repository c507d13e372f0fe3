import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  type KnownByScan,
  meaningOfScan,
  nextWords,
  type ScanAsked,
  type ScanLine,
} from '../../core/stock/pull-scan.ts'
import { labelOfBin, labelOfLot, labelOfPart, readScan } from '../../core/stock/scanned-code.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { pullLineIdSchema } from '../../core/units/ids.ts'
import { hearKey, patienceOf, QUIET, SEPARATOR } from '../../renderer/pull/scanner-ear.ts'
import { FITTED_ON, lotId, partId, placeId } from '../builders/a-pull.ts'

const TODAY = calendarDate('2026-12-01')
/** The example of the GS1 General Specifications. */
const GTIN = '6291041500213'

function aLine(n: number, own: Partial<ScanLine> = {}): ScanLine {
  return {
    lineId: pullLineIdSchema.parse(n),
    placeId: placeId(n),
    bin: `A-0${n}-1`,
    partId: partId(1),
    partNumber: 'P-1005',
    partName: 'Sediment filter',
    lotId: lotId(n),
    lot: `2608-11${n}`,
    expiresOn: calendarDate('2028-08-31'),
    recalled: false,
    quantity: 3,
    pulled: 0,
    totes: [
      { stop: 4, quantity: 1 },
      { stop: 1, quantity: 2 },
    ],
    ...own,
  }
}

const NOTHING_KNOWN: KnownByScan = { parts: [], lots: [], place: null }

function meant(typed: string, lines: readonly ScanLine[], own: Partial<ScanAsked> = {}) {
  const asked = {
    lines,
    known: NOTHING_KNOWN,
    hand: null,
    ticks: 'piece' as const,
    fittedOn: FITTED_ON,
    locale: 'en-US',
  }
  return meaningOfScan({ ...asked, code: readScan(typed, TODAY), ...own })
}

const ticked = (meaning: ReturnType<typeof meaningOfScan>) =>
  meaning.kind === 'tick' ? [meaning.line.lineId, meaning.pulled, meaning.stop] : meaning.kind
const refusal = (meaning: ReturnType<typeof meaningOfScan>) => (meaning.kind === 'no' ? meaning.code : meaning.kind)

describe('what a scan ticks', () => {
  const part = { partId: partId(1), number: 'P-1005', name: 'Sediment filter' }
  const lines = [aLine(1), aLine(2)]

  test('PICK-20 our label, the lot, the number of the part and the GTIN of its maker all tick a piece, with its tote', () => {
    expect(ticked(meant(labelOfLot('P-1005', '2608-112'), lines))).toEqual([2, 1, 1])
    expect(ticked(meant('2608-112', lines))).toEqual([2, 1, 1])
    expect(ticked(meant('p-1005 ', lines))).toEqual([1, 1, 1])
    expect(ticked(meant(labelOfPart('P-1005'), lines))).toEqual([1, 1, 1])
    expect(ticked(meant(GTIN, lines, { known: { ...NOTHING_KNOWN, parts: [part] } }))).toEqual([1, 1, 1])
    const withLot = `(01)0${GTIN}(17)280831(10)2608-112`
    expect(ticked(meant(withLot, lines, { known: { ...NOTHING_KNOWN, parts: [part] } }))).toEqual([2, 1, 1])
  })

  test('PICK-20 the pieces fill the totes in stop order, and a whole line is ticked where that was chosen', () => {
    expect(ticked(meant('P-1005', [aLine(1, { pulled: 2 })]))).toEqual([1, 3, 4])
    expect(ticked(meant('P-1005', [aLine(1, { pulled: 1 })], { ticks: 'line' }))).toEqual([1, 3, null])
  })

  test('PICK-20 a bin leads the hand there, and a part is then ticked in that bin', () => {
    expect(meant(labelOfBin('A-02-1'), lines)).toMatchObject({ kind: 'hand', placeId: 2, line: { lineId: 2 } })
    expect(meant('a-02-1', lines)).toMatchObject({ kind: 'hand', placeId: 2 })
    expect(ticked(meant('P-1005', lines, { hand: placeId(2) }))).toEqual([2, 1, 1])
    const full = [aLine(1, { pulled: 3 }), aLine(2, { pulled: 3 })]
    expect(meant('A-02-1', full)).toMatchObject({ kind: 'hand', line: null })
    expect(nextWords(full)).toBe('Everything on the list is in the totes.')
    expect(nextWords(lines)).toBe('Next is A-01-1: 3 of Sediment filter, lot 2608-111.')
  })

  test('PICK-20 whatever is scanned, no line is ever ticked beyond what it asks for, and a full list says no', () => {
    const anyLine = fc.record({ quantity: fc.integer({ min: 1, max: 5 }), done: fc.integer({ min: 0, max: 5 }) })
    const anyScan = fc.constantFrom('P-1005', '2608-111', '2608-112', 'A-01-1', '+A-02-1', 'P-1005+2608-111', 'nothing')
    const scans = fc.array(fc.tuple(anyScan, fc.constantFrom('piece' as const, 'line' as const)), { maxLength: 30 })
    fc.assert(
      fc.property(fc.array(anyLine, { minLength: 1, maxLength: 3 }), scans, (drawn, codes) => {
        let now = drawn.map(({ quantity, done }, at) => aLine(at + 1, { quantity, pulled: Math.min(done, quantity) }))
        for (const [typed, ticks] of codes) {
          const meaning = meant(typed, now, { ticks })
          if (meaning.kind !== 'tick') continue
          expect(meaning.pulled).toBeGreaterThan(meaning.line.pulled)
          now = now.map((line) => (line.lineId === meaning.line.lineId ? { ...line, pulled: meaning.pulled } : line))
          for (const line of now) expect(line.pulled).toBeLessThanOrEqual(line.quantity)
        }
      }),
    )
  })
})

describe('what a scan does not tick', () => {
  const lines = [aLine(1)]
  const aLot = (lot: string, own: Partial<KnownByScan['lots'][number]> = {}): KnownByScan => ({
    ...NOTHING_KNOWN,
    lots: [
      {
        lotId: lotId(9),
        lot,
        partId: partId(1),
        partName: 'Sediment filter',
        expiresOn: null,
        recalled: false,
        ...own,
      },
    ],
  })

  test('PICK-21 what nobody knows, what was read badly, an empty bin', () => {
    expect(refusal(meant('hello', lines))).toBe('PULL_SCAN_UNKNOWN')
    expect(refusal(meant('(01)06291041500214', lines))).toBe('PULL_SCAN_SPOILT')
    expect(refusal(meant('+Z-09-9', lines))).toBe('PULL_SCAN_UNKNOWN')
    const place = { placeId: placeId(7), name: 'Z-09-9' }
    expect(refusal(meant('+Z-09-9', lines, { known: { ...NOTHING_KNOWN, place } }))).toBe('PULL_SCAN_BIN_EMPTY')
  })

  test('PICK-21 another part, another lot, a lot in no book', () => {
    const tank = { partId: partId(5), number: 'P-3032', name: 'Tank' }
    expect(refusal(meant('P-3032', lines, { known: { ...NOTHING_KNOWN, parts: [tank] } }))).toBe('PULL_SCAN_OTHER_PART')
    expect(refusal(meant('T-1', lines, { known: aLot('T-1', { partId: partId(5) }) }))).toBe('PULL_SCAN_OTHER_PART')
    expect(meant('P-1005+late', lines, { known: aLot('late') })).toMatchObject({
      code: 'PULL_SCAN_OTHER_LOT',
      facts: { lot: 'late', wanted: '2608-111', bin: 'A-01-1' },
      lineId: 1,
      otherLotId: 9,
    })
    expect(refusal(meant('P-1005+gone', lines))).toBe('PULL_SCAN_LOT_UNKNOWN')
    expect(refusal(meant('++late', lines, { known: aLot('late') }))).toBe('PULL_SCAN_OTHER_LOT')
  })

  test('PICK-21 a lot that is recalled or past its date, on the list or not', () => {
    expect(refusal(meant('P-1005', [aLine(1, { recalled: true })]))).toBe('PULL_LOT_RECALLED')
    expect(refusal(meant('P-1005', [aLine(1, { expiresOn: TODAY })]))).toBe('PULL_LOT_EXPIRED')
    expect(refusal(meant('P-1005', [aLine(1, { expiresOn: FITTED_ON })]))).toBe('tick')
    expect(refusal(meant('old', lines, { known: aLot('old', { recalled: true }) }))).toBe('PULL_LOT_RECALLED')
    expect(refusal(meant('old', lines, { known: aLot('old', { expiresOn: TODAY }) }))).toBe('PULL_LOT_EXPIRED')
  })

  test('PICK-21 a piece too many', () => {
    expect(meant('P-1005', [aLine(1, { pulled: 3 })])).toMatchObject({
      code: 'PULL_SCAN_OVER',
      facts: { quantity: 3, next: 'Everything on the list is in the totes.' },
      lineId: 1,
    })
  })
})

describe('hearing a scanner among what hands type', () => {
  /** Types keys so many milliseconds apart; what came out, in order. */
  function heard(keys: readonly (readonly [string, number])[]): string[] {
    let ear = QUIET
    let at = 0
    const out: string[] = []
    for (const [key, pause] of keys) {
      at += pause
      // The patience runs out before a late key comes.
      if (ear.held !== '' && at - ear.at > patienceOf(ear)) {
        out.push(...ear.held)
        ear = QUIET
      }
      const one = hearKey(ear, key, at)
      ear = one.ear
      out.push(...one.letGo)
      if (one.does === 'pass') out.push(key)
      if (one.does === 'scan') out.push(`scan ${one.typed}`)
    }
    return [...out, ...ear.held]
  }
  const fast = (text: string): [string, number][] => [...text, 'Enter'].map((key) => [key, 4])

  test('PICK-29 signs that come fast and end with Enter are a scan, with capitals and blanks in them', () => {
    expect(heard(fast('P-1005+2608 114'))).toEqual(['scan P-1005+2608 114'])
    expect(heard([['Shift', 2], ...fast('AB1')])).toEqual(['Shift', 'scan AB1'])
    const gs1 = `0106291041500213102608-112${SEPARATOR}17280831`
    expect(heard(fast(gs1))).toEqual([`scan ${gs1}`])
    expect(readScan(gs1, TODAY)).toMatchObject({ kind: 'gtin', lot: '2608-112', expiresOn: '2028-08-31' })
    expect(heard([...fast('AAA'), ...fast('BBB')])).toEqual(['scan AAA', 'scan BBB'])
  })

  test('PICK-29 what a hand types reaches what it was meant for: a figure, a space, an arrow, Enter', () => {
    expect(
      heard([
        ['3', 900],
        ['Enter', 400],
      ]),
    ).toEqual(['3', 'Enter'])
    expect(
      heard([
        [' ', 900],
        ['ArrowDown', 120],
        [' ', 300],
      ]),
    ).toEqual([' ', 'ArrowDown', ' '])
    expect(
      heard([
        ['/', 900],
        ['a', 150],
      ]),
    ).toEqual(['/', 'a'])
    expect(
      heard([
        ['1', 500],
        ['ArrowDown', 20],
      ]),
    ).toEqual(['1', 'ArrowDown'])
    expect(
      heard([
        ['1', 500],
        ['Enter', 20],
      ]),
    ).toEqual(['1', 'Enter'])
  })

  test('PICK-29 no key is ever lost or said twice', () => {
    const key = fc.constantFrom('1', 'A', '-', ' ', 'Enter', 'ArrowDown', 'Shift')
    fc.assert(
      fc.property(fc.array(fc.tuple(key, fc.integer({ min: 1, max: 500 })), { maxLength: 40 }), (keys) => {
        const out = heard(keys).flatMap((word) => (word.startsWith('scan ') ? [...word.slice(5), 'Enter'] : [word]))
        const bare = (all: readonly string[]) => all.filter((each) => each !== 'Shift').join('|')
        expect(bare(out)).toBe(bare(keys.map(([each]) => each)))
      }),
    )
  })
})
