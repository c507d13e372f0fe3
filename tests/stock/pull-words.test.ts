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
import {
  foundLines,
  outcomeLines,
  progressOf,
  restSentences,
  tickedWords,
  troubleWords,
  whoGoesWithout,
} from '../../renderer/pull/pull-words.ts'
import { NO_TROUBLE } from '../../renderer/pull/trouble-draft.ts'

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

test('PICK-14 whom the pieces that are not in the totes would have gone to, the last stops first', () => {
  expect(whoGoesWithout(aLine('A-02-3', 6, TOTES), 6)).toBe('stop 2 goes without 1, stop 4 without 2')
  expect(whoGoesWithout(aLine('A-02-3', 9, TOTES), 9)).toBe('')
})

test('PICK-14 before the van is loaded the rest is named, with what becomes of it', () => {
  const sentences = restSentences(
    aVan([aLine('A-02-3', 6, TOTES), aLine('B-01-2', 0, [[4, 1]]), aLine('C-01', null, [[1, 1]])]),
  )
  expect(sentences).toEqual([
    'Carbon block, 10 in, bin A-02-3: 6 of 9 in the totes, stop 2 goes without 1, stop 4 without 2.',
    'Carbon block, 10 in, bin B-01-2: 0 of 1 in the totes, stop 4 goes without 1.',
    'When the rest is not in bins A-02-3 and B-01-2, go back and say so on the line: it is then promised from elsewhere.',
    '1 piece not ticked stays on the shelf.',
    'The rest is promised to nobody any more. It is planned again on the next pull of this day; what cannot be, is named as short with the stops that lack it.',
  ])
  expect(restSentences(aVan([aLine('A-02-3', 9, TOTES)]))).toEqual([])
})

test('PICK-11 pieces are counted as they lie in the totes, with who put them there and when', () => {
  const van = aVan([aLine('A-02-3', 6, TOTES), aLine('A-02-3', null, TOTES)])
  expect(progressOf(van)).toEqual({ asked: 18, pulled: 6 })
  const line = aLine('A-02-3', 6, TOTES)
  expect(tickedWords(line, 'en-US')).toBe('6 of 9 so far')
  expect(tickedWords({ ...line, pulledBy: 'Ines', pulledAt: '2026-12-01T12:05:00.000Z' }, 'en-US')).toMatch(
    /^6 of 9 so far, Ines, \d+:05 [AP]M$/,
  )
  expect(tickedWords(aLine('A-02-3', null, TOTES), 'en-US')).toBe('')
})

test('PICK-23 PICK-24 PICK-25 what will happen is said before anything is written down', () => {
  const line = aLine('A-02-3', 2, TOTES)
  const words = (kind: 'short' | 'damaged' | 'elsewhere', pieces: number | null) =>
    troubleWords(line, { ...NO_TROUBLE, kind, pieces })
  expect(words('short', 6)).toBe(
    'A-02-3 is counted as empty of lot 2607-031 then. 3 pieces will be promised from elsewhere, or somebody goes without and is named.',
  )
  expect(words('short', 9)).toBe('All of them are there: tick the line instead.')
  expect(words('damaged', 1)).toBe(
    '1 piece will go to quarantine, and others will be promised in their place where there are any.',
  )
  expect(words('elsewhere', 9)).toBe('9 pieces will be ticked from there. Nothing stays on this line.')
  expect(words('elsewhere', null)).toBe('How many did you take from there?')
})

test('PICK-24 what became of it is said line by line', () => {
  const { part } = aLine('A-02-3', null, TOTES)
  const done = {
    sentence: '',
    instead: [{ bin: 'B-01-2', part, lot: '2608-114', quantity: 2 }],
    without: [{ stop: 4, household: 'Galbraith', part, quantity: 1, why: 'No other lot is free.' }],
    putBack: 1,
  }
  expect(outcomeLines(done)).toEqual([
    'Pull 2 of Carbon block, 10 in from B-01-2, lot 2608-114.',
    'Stop 4, Galbraith, goes without 1 of Carbon block, 10 in. No other lot is free.',
    'Put 1 piece back from the totes on the shelf.',
  ])
  const found = {
    kind: 'damaged' as const,
    part,
    lot: '2607-031',
    place: 'A-02-3',
    quantity: 1,
    by: 'Ines',
    note: 'cracked',
  }
  expect(foundLines([{ ...found, at: '2026-12-01T12:05:00.000Z' }], 'en-US')[0]).toMatch(
    /^1 of Carbon block, 10 in damaged, from A-02-3, lot 2607-031, cracked \(Ines, \d+:05 [AP]M\)$/,
  )
})
