import { expect, test } from 'vitest'
import type { PullLineRow, VanPullRow } from '../../core/stock/pull-contract.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import {
  lotIdSchema,
  partIdSchema,
  placeIdSchema,
  pullLineIdSchema,
  vanIdSchema,
  visitIdSchema,
} from '../../core/units/ids.ts'
import { foundWords, lineMeant, progressOf, restSentences } from '../../renderer/pull/pull-words.ts'

function aLine(bin: string, pulled: number | null, totes: readonly [number, number][]): PullLineRow {
  return {
    lineId: pullLineIdSchema.parse(1),
    forPar: false,
    placeId: placeIdSchema.parse(1),
    bin,
    part: { partId: partIdSchema.parse(1), number: 'P-1010', name: 'Carbon block, 10 in' },
    insteadOf: null,
    lotId: lotIdSchema.parse(1),
    lot: '2607-031',
    expiresOn: calendarDate('2028-07-31'),
    quantity: totes.reduce((sum, [, quantity]) => sum + quantity, 0),
    pulled,
    pulledBy: '',
    pulledAt: null,
    totes: totes.map(([stop, quantity]) => ({ visitId: visitIdSchema.parse(stop), stop, quantity, household: '' })),
  }
}

function aVan(lines: PullLineRow[]): VanPullRow {
  return {
    vanId: vanIdSchema.parse(1),
    van: 'van 1',
    technician: 'Ilse R.',
    stops: 4,
    state: 'open',
    pullId: null,
    begunAt: null,
    confirmedAt: null,
    by: null,
    lines,
    aboard: [],
    shortages: [],
    losers: [],
    room: null,
    parLeftOut: [],
    more: 0,
  }
}

const TOTES: readonly [number, number][] = [
  [1, 4],
  [2, 3],
  [4, 2],
]

test('PICK-14 a line of which fewer were found says how many, and whom it hits', () => {
  expect(foundWords(aLine('A-02-3', 6, TOTES))).toBe('6 of 9 found; stop 2 goes without 1, stop 4 without 2')
  expect(foundWords(aLine('A-02-3', 0, [[2, 1]]))).toBe('none found; stop 2 goes without 1')
  expect(foundWords(aLine('A-02-3', 9, TOTES))).toBe('')
  expect(foundWords(aLine('A-02-3', null, TOTES))).toBe('')
})

test('PICK-14 before the van is closed the rest is named, with what becomes of it', () => {
  const sentences = restSentences(
    aVan([aLine('A-02-3', 6, TOTES), aLine('B-01-2', 0, [[4, 1]]), aLine('C-01', null, [[1, 1]])]),
  )
  expect(sentences).toEqual([
    'Carbon block, 10 in, bin A-02-3: 6 of 9 found, stop 2 goes without 1, stop 4 without 2.',
    'Carbon block, 10 in, bin B-01-2: 0 of 1 found, stop 4 goes without 1.',
    'The books still have what was not found. Count bins A-02-3 and B-01-2 when it is not there.',
    '1 piece not ticked stays on the shelf.',
    'The rest is promised to nobody any more. It is planned again on the next pull of this day; what cannot be, is named as short with the stops that lack it.',
  ])
  expect(restSentences(aVan([aLine('A-02-3', 9, TOTES)]))).toEqual([])
})

test('PICK-11 pieces are counted as they were found, and a scanner ticks the next line that nobody looked at', () => {
  const van = aVan([aLine('A-02-3', 6, TOTES), aLine('A-02-3', null, TOTES)])
  expect(progressOf(van)).toEqual({ asked: 18, pulled: 6 })
  expect(lineMeant(van, ' p-1010 ')).toBe(1)
  expect(lineMeant(van, 'X')).toBe(-1)
})
