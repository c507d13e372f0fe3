import { expect, test } from 'vitest'
import { millilitres, tds } from '../../core/units/measures.ts'
import { rejectionPercent } from '../../core/water/rejection.ts'
import { daysOfRatedVolume, passedPerDrunk } from '../../core/water/water-passed.ts'

const ahead = (recoveryPercent: number) => ({ aheadOfMembrane: true, recoveryPercent })

test('DUE-5 recovery is product over feed: 25 % passes four times what is drunk', () => {
  // Recovery Y = 100 Qp / Qf: AWWA/ASCE, Water Treatment Plant Design, ch. 13.
  expect(passedPerDrunk(ahead(25))).toBe(4)
  expect(passedPerDrunk(ahead(75))).toBeCloseTo(40 / 30, 12) // 30 of 40 gpm is a recovery of 75 %
  expect(passedPerDrunk({ aheadOfMembrane: false, recoveryPercent: 25 })).toBe(1)
  expect(passedPerDrunk(ahead(0))).toBe(1)
  expect(passedPerDrunk(ahead(140))).toBe(1)
})

test('DUE-5 a rated volume is never overrun: days are rounded down', () => {
  expect(daysOfRatedVolume(millilitres(1_500_000), millilitres(9_000), ahead(25))).toBe(41)
  expect(daysOfRatedVolume(millilitres(360_000), millilitres(9_000), ahead(25))).toBe(10)
  expect(daysOfRatedVolume(millilitres(0), millilitres(9_000), ahead(25))).toBe(0)
  expect(daysOfRatedVolume(millilitres(360_000), millilitres(0), ahead(25))).toBeNull()
})

test('DUE-12 rejection is one less the share that comes through', () => {
  // R = 100 (1 - Cp / Cf), AWWA/ASCE, Water Treatment Plant Design, ch. 13; 380 in and 5 out is 98.684 %.
  expect(rejectionPercent(tds(500), tds(75))).toBeCloseTo(85, 10)
  expect(rejectionPercent(tds(380), tds(5))).toBeCloseTo(98.684, 3)
  expect(rejectionPercent(tds(0), tds(0))).toBeNull()
})
