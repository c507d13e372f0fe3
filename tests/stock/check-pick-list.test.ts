import { expect, test } from 'vitest'
import { checkPickList } from '../../core/stock/check-pick-list.ts'
import { planPickList } from '../../core/stock/pick-list.ts'
import type { PickList, PickListInput, VanPull } from '../../core/stock/pull-shapes.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import {
  aPickListInput,
  aPullPart,
  aPullVisit,
  aStock,
  lotId,
  partId,
  placeId,
  vanId,
  visitId,
} from '../builders/a-pull.ts'

const INPUT: PickListInput = aPickListInput({
  visits: [
    aPullVisit({ needs: [{ partId: partId(1), quantity: 2 }] }),
    aPullVisit({
      visitId: visitId(2),
      stop: 2,
      needs: [
        { partId: partId(1), quantity: 1 },
        { partId: partId(2), quantity: 1 },
      ],
    }),
  ],
  parts: [aPullPart(1), aPullPart(2)],
  stock: [
    aStock({ onHand: 2, expiresOn: calendarDate('2027-01-31') }),
    aStock({
      placeId: placeId(2),
      binCode: 'A-02-1',
      walkOrder: 2,
      lotId: lotId(2),
      onHand: 5,
      expiresOn: calendarDate('2028-01-31'),
    }),
    aStock({
      placeId: placeId(3),
      binCode: 'A-03-1',
      walkOrder: 3,
      lotId: lotId(3),
      partId: partId(2),
      onHand: 4,
      promised: 3,
    }),
  ],
})

function spoiled(change: (van: VanPull) => VanPull): PickList {
  const list = planPickList(INPUT)
  return { ...list, vans: list.vans.map(change) }
}

test('the judge accepts the list as it was planned', () => {
  expect(checkPickList(INPUT, planPickList(INPUT))).toEqual([])
})

test('PICK-1 the judge sees a piece that vanished', () => {
  const complaints = checkPickList(
    INPUT,
    spoiled((van) => ({ ...van, lines: van.lines.slice(1) })),
  )
  expect(complaints.join()).toContain('demand is not supply + shortage')
})

test('PICK-7 the judge sees a walk that turns back', () => {
  const complaints = checkPickList(
    INPUT,
    spoiled((van) => ({ ...van, lines: [...van.lines].reverse() })),
  )
  expect(complaints.join()).toContain('comes after')
})

test('PICK-9 the judge sees a lot that was promised before', () => {
  const stock = INPUT.stock.map((each) => (each.lotId === 3 ? { ...each, promised: 4 } : each))
  expect(checkPickList({ ...INPUT, stock }, planPickList(INPUT)).join()).toContain('1 promised that are not there')
})

test('PICK-4 PICK-5 the judge sees a lot that may not be fitted', () => {
  const change = (own: object) => ({
    ...INPUT,
    stock: INPUT.stock.map((each) => (each.lotId === 2 ? { ...each, ...own } : each)),
  })
  const list = planPickList(INPUT)
  expect(checkPickList(change({ recalled: true }), list).join()).toContain('recalled')
  expect(checkPickList(change({ expiresOn: calendarDate('2026-12-01') }), list).join()).toContain('expires before')
})

test('PICK-2 the judge sees a lot that lies on another van', () => {
  const stock = INPUT.stock.map((each) => (each.lotId === 2 ? { ...each, vanId: vanId(2) } : each))
  expect(checkPickList({ ...INPUT, stock }, planPickList(INPUT)).join()).toContain('another van')
})

test('PICK-6 the judge sees a part that may not stand in for another', () => {
  const list = spoiled((van) => ({
    ...van,
    lines: van.lines.map((line) => (line.lotId === 3 ? { ...line, insteadOf: partId(1) } : line)),
  }))
  expect(checkPickList(INPUT, list).join()).toContain('may not stand in')
})

test('PICK-3 the judge sees a later lot used before an earlier one', () => {
  const list = spoiled((van) => ({ ...van, lines: van.lines.filter((line) => line.lotId !== 1) }))
  expect(checkPickList(INPUT, list).join()).toContain('while an earlier one lies unused')
})

test('PICK-7 the judge sees a tote at the wrong stop, and a line that is not the sum of its totes', () => {
  const wrongStop = spoiled((van) => ({
    ...van,
    lines: van.lines.map((line) => ({ ...line, totes: line.totes.map((tote) => ({ ...tote, stop: tote.stop + 1 })) })),
  }))
  expect(checkPickList(INPUT, wrongStop).join()).toContain('is not stop')
  const wrongSum = spoiled((van) => ({
    ...van,
    lines: van.lines.map((line) => ({ ...line, quantity: line.quantity + 1 })),
  }))
  expect(checkPickList(INPUT, wrongSum).join()).toContain('not the sum of its totes')
})
