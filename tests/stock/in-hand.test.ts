import fc from 'fast-check'
import { expect, test } from 'vitest'
import { agoWords } from '../../core/stock/ago-words.ts'
import { checkPickList } from '../../core/stock/check-pick-list.ts'
import { checkPromises } from '../../core/stock/check-promises.ts'
import { linesFromHand, type PiecesInHand, withPiecesInHand } from '../../core/stock/in-hand.ts'
import { planPickList } from '../../core/stock/pick-list.ts'
import { stopOfPiece } from '../../core/stock/share-pieces.ts'
import { whyWithout } from '../../core/stock/without-words.ts'
import { aPullPart, aPullVisit, aStock, FITTED_ON, lotId, partId, placeId, vanId, visitId } from '../builders/a-pull.ts'

const VAN_PLACE = placeId(90)

function inHand(pieces: number, ticked: number): PiecesInHand {
  const lot = { lotId: lotId(1), lotNumber: '2608-114', partId: partId(1), expiresOn: null, recalled: false }
  const from = { ...lot, placeId: placeId(1), binCode: 'A-01-1', walkOrder: 1 }
  return { vanId: vanId(1), vanPlaceId: VAN_PLACE, ...from, pieces, ticked }
}

/** Two vans of a visit each; so many needed, so many in the bin, so many of them in the hand of van 1. */
function aDayWith(needs: readonly [number, number], there: number) {
  return {
    fittedOn: FITTED_ON,
    visits: needs.map((quantity, at) =>
      aPullVisit({
        visitId: visitId(at + 1),
        vanId: vanId(at + 1),
        daysLate: at * 100,
        worth: 1 + at * 1000,
        needs: quantity === 0 ? [] : [{ partId: partId(1), quantity }],
      }),
    ),
    parts: [aPullPart(1)],
    stock: there === 0 ? [] : [aStock({ onHand: there })],
    vans: [],
    evenIfShort: [],
  }
}

test('PICK-23 what is in the hand stays with its van, whoever else would be worth more', () => {
  const day = withPiecesInHand(aDayWith([2, 2], 2), [inHand(2, 2)])
  const [one, two] = planPickList(day).vans
  const anew = linesFromHand([...(one?.lines ?? []), ...(one?.aboard ?? [])], [inHand(2, 2)])
  expect(anew.map(({ line, ticked }) => [line.binCode, line.placeId, line.quantity, ticked])).toEqual([
    ['A-01-1', 1, 2, 2],
  ])
  expect([...(two?.lines ?? []), ...(two?.aboard ?? [])]).toEqual([])
})

test('PICK-23 planning with pieces in the hand is lawful, gives nobody a piece twice, and ticks no more than was ticked', () => {
  const pieces = fc.integer({ min: 0, max: 6 })
  fc.assert(
    fc.property(pieces, pieces, fc.integer({ min: 0, max: 12 }), pieces, pieces, (own, other, there, held, ticks) => {
      const hand = inHand(Math.min(held, there), Math.min(ticks, held, there))
      const day = withPiecesInHand(aDayWith([own, other], there), [hand])
      const list = planPickList(day)
      expect(checkPickList(day, list)).toEqual([])
      const van = list.vans.find((each) => each.vanId === 1)
      const anew = linesFromHand([...(van?.lines ?? []), ...(van?.aboard ?? [])], [hand])
      const planned = [...(van?.lines ?? []), ...(van?.aboard ?? [])]
      const sum = (numbers: number[]) => numbers.reduce((all, each) => all + each, 0)
      expect(sum(anew.map((each) => each.line.quantity))).toBe(sum(planned.map((line) => line.quantity)))
      expect(sum(anew.map((each) => each.ticked))).toBeLessThanOrEqual(hand.ticked)
      for (const { line, ticked } of anew) {
        expect(sum(line.totes.map((tote) => tote.quantity))).toBe(line.quantity)
        expect(ticked).toBeLessThanOrEqual(line.quantity)
        expect(line.placeId).not.toBe(VAN_PLACE)
      }
      const all = sum(list.vans.flatMap((each) => [...each.lines, ...each.aboard]).map((line) => line.quantity))
      expect(all).toBeLessThanOrEqual(there)
    }),
  )
})

test('PICK-25 a lot in the hand is kept though the day would not have read it, because others expire first', () => {
  const bare = aDayWith([2, 0], 0)
  const first = aStock({ lotId: lotId(2), placeId: placeId(2), onHand: 9 })
  const day = withPiecesInHand({ ...bare, stock: [first] }, [inHand(1, 1)])
  const van = planPickList(day).vans.find((each) => each.vanId === 1)
  const anew = linesFromHand([...(van?.lines ?? []), ...(van?.aboard ?? [])], [inHand(1, 1)])
  expect(anew.map(({ line, ticked }) => [line.lotId, line.placeId, line.quantity, ticked]).sort()).toEqual([
    [1, 1, 1, 1],
    [2, 2, 1, 0],
  ])
})

test('PICK-9 the judge of promises complains of every heap of which more is promised than lies there', () => {
  const heap = { lotId: lotId(1), placeId: placeId(2), onHand: 3, promised: 3 }
  expect(checkPromises([heap])).toEqual([])
  expect(checkPromises([heap, { ...heap, promised: 4 }])).toEqual(['lot 1 at 2: 4 promised of 3'])
})

test('PICK-20 a piece goes into the tote of the first stop that is not served', () => {
  const stops = [
    { stop: 3, quantity: 1 },
    { stop: 1, quantity: 2 },
  ]
  expect([1, 2, 3, 4].map((nth) => stopOfPiece(stops, nth))).toEqual([1, 1, 3, null])
})

test('PICK-28 how long ago something was done is said without a clock of our own', () => {
  const now = '2026-12-01T12:00:30.000Z'
  const said = [
    '2026-12-01T12:00:01.000Z',
    '2026-12-01T11:48:00.000Z',
    '2026-12-01T09:59:00.000Z',
    '2026-11-29T12:00:00.000Z',
  ]
  expect(said.map((then) => agoWords(then, now))).toEqual(['just now', '12 minutes ago', '2 hours ago', '2 days ago'])
  expect(agoWords('2026-12-01T12:05:00.000Z', now)).toBe('just now')
  // Two seconds over the turn of a minute, an hour and a day are two seconds; a minute is sixty.
  expect(agoWords('2026-12-01T11:59:59.000Z', '2026-12-01T12:00:01.000Z')).toBe('just now')
  expect(agoWords('2026-12-01T23:59:58.900Z', '2026-12-02T00:00:57.000Z')).toBe('just now')
  expect(agoWords('2026-12-01T23:59:59.900Z', '2026-12-02T00:00:59.000Z')).toBe('1 minute ago')
  expect(agoWords('2026-12-01T12:00:00.000Z', '2026-12-01T12:59:59.000Z')).toBe('59 minutes ago')
  expect(agoWords('2026-12-01T12:00:00.000Z', '2026-12-01T13:00:00.000Z')).toBe('1 hour ago')
  expect(agoWords('2026-11-30T12:00:01.000Z', '2026-12-01T12:00:00.000Z')).toBe('23 hours ago')
})

test('PICK-24 why a visit goes without is said in a sentence', () => {
  const short = { visitId: visitId(1), stop: 1, partId: partId(1), quantity: 2, missing: 2 }
  expect(whyWithout(short, null, 'en-US')).toBe('No other lot that may be fitted that day is free.')
  const lack = { part: 'Filter P-1001', missing: 2, servedInstead: [], nextDelivery: null }
  expect(whyWithout(short, lack, 'en-US')).toBe(
    'Filter P-1001 is 2 short. None that may be fitted that day is free. None is on order.',
  )
  expect(whyWithout({ ...short, missing: 1 }, lack, 'en-US')).toBe(
    '1 piece would be there, and not enough to serve the visit whole; it stays on the shelf.',
  )
})
