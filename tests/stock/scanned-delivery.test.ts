import { expect, test } from 'vitest'
import { labelOfBin, labelOfLot, labelOfLotAlone, labelOfPart } from '../../core/stock/scanned-code.ts'
import { deliveryOfScan } from '../../core/stock/scanned-delivery.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'

const part = { number: 'P-1005', gtin: '6291041500213' }
const read = (typed: string, of = part) => deliveryOfScan(typed, of, calendarDate('2026-12-01'))
const CODE = '(01)06291041500213(17)280831(10)2608-114'

test('STK-30 a scan into the lot of a delivery fills in what it says: lot and date, a label of ours, the bin', () => {
  expect(read(CODE)).toMatchObject({ lot: '2608-114', expiresOn: '2028-08-31', problem: null })
  expect(read(CODE, { number: 'P-1005', gtin: '' })).toMatchObject({ lot: '2608-114' })
  expect(read(labelOfLot('P-1005', '2608-114'))).toMatchObject({ lot: '2608-114', expiresOn: null })
  expect(read(labelOfLotAlone('2608-114'))).toMatchObject({ lot: '2608-114' })
  expect(read(labelOfBin('A-02-1'))).toMatchObject({ lot: null, bin: 'A-02-1', problem: null })
})

test('STK-30 what is typed by hand is a lot, also when it looks like a GTIN that the part does not have', () => {
  for (const typed of ['2608-114', '', '036000241457', 'A + B + C']) expect(read(typed)).toBeNull()
})

test('STK-30 a code of another part, one without a lot, and one that does not add up are said to be so', () => {
  expect(read(labelOfLot('P-2075', '1'))?.problem).toBe(
    'This label is of P-2075, not of P-1005. Look at the box again.',
  )
  expect(read('(01)00036000241457(10)1')?.problem).toContain('This code is of GTIN 00036000241457')
  expect(read(labelOfPart('P-1005'))?.problem).toBe('This label says the part and no lot.')
  expect(read('6291041500213')?.problem).toContain('the part and no lot')
  expect(read('(01)06291041500214(10)1')?.problem).toContain('does not add up')
})
