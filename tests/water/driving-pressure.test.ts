import fc from 'fast-check'
import { expect, test } from 'vitest'
import { celsius, kilopascals, kilopascalsToPsi, psiToKilopascals, tds } from '../../core/units/measures.ts'
import { logMeanConcentration } from '../../core/water/concentration.ts'
import { drivingPressure } from '../../core/water/driving-pressure.ts'
import { osmoticPressure, osmoticPressureOfIons } from '../../core/water/osmotic-pressure.ts'

test('WAT-12 the osmotic pressure of a known salt follows van ’t Hoff', () => {
  // Geankoplis, Transport Processes and Separation Process Principles, Example 13.9-1: 0.10 mol NaCl in 1000 g of water of 997 kg/m3 at 25 C,
  // two ions each: 4.878 atm with R = 0.082057.
  const litres = 1 / 0.997
  expect(osmoticPressureOfIons((2 * 0.1) / litres, celsius(25)) / 101.325).toBeCloseTo(4.878, 2)
  // 1000 mg/L NaCl (58.44 g/mol), ideal, at 25 C: 0.848 bar, 12.3 psi.
  const gram = osmoticPressureOfIons((2 * 1) / 58.44, celsius(25))
  expect(gram / 100).toBeCloseTo(0.848, 3)
  expect(kilopascalsToPsi(kilopascals(gram))).toBeCloseTo(12.3, 1)
})

test('WAT-12 house water goes by the rule for mixed salts: some 10 psi, 70 kPa, for each 1000 mg/L', () => {
  // AWWA/ASCE, Water Treatment Plant Design, ch. 13. The two are never mixed: sodium chloride alone would be a fifth more.
  expect(osmoticPressure(tds(1000))).toBe(70)
  expect(kilopascalsToPsi(kilopascals(osmoticPressure(tds(1000))))).toBeCloseTo(10.15, 2)
})

// ln[1 / (1 - Y)] / Y, ASTM D4516 as given by the UNSW desalination pages; recomputed.
test.each([
  [20, 1.11572],
  [25, 1.15073],
  [30, 1.18892],
  [50, 1.38629],
  [75, 1.84839],
])('WAT-12 at %d %% recovery the feed side is on average %d times as salty', (recovery, expected) => {
  expect(logMeanConcentration(recovery)).toBeCloseTo(expected, 5)
})

test('WAT-12 with nothing drawn the feed side is the feed, and it only grows saltier', () => {
  expect(logMeanConcentration(0)).toBe(1)
  expect(logMeanConcentration(1e-5)).toBeCloseTo(1, 6)
  expect(logMeanConcentration(100)).toBe(logMeanConcentration(99))
  const recovery = fc.double({ min: 0, max: 99, noNaN: true })
  fc.assert(
    fc.property(recovery, recovery, (a, b) => {
      expect(logMeanConcentration(Math.min(a, b))).toBeLessThanOrEqual(logMeanConcentration(Math.max(a, b)) + 1e-9)
      // Between the feed itself and what goes down the drain, 1 / (1 - Y).
      expect(logMeanConcentration(a)).toBeGreaterThanOrEqual(1)
      expect(logMeanConcentration(a)).toBeLessThanOrEqual(1 / (1 - a / 100) + 1e-9)
    }),
  )
})

test('WAT-12 a tank that fills takes its pressure from the drive', () => {
  // Derived from the definition: 60 psi of feed and 1000 mg/L leave 50 - p against a tank at p; 7 psi leave 0.86 of the flow, 30 leave 0.40.
  const drive = (tank: number) =>
    drivingPressure({
      feedPressure: psiToKilopascals(60),
      backPressure: psiToKilopascals(tank),
      tdsIn: tds(1000),
      tdsOut: tds(0),
      recoveryPercent: 0,
    })
  expect(drive(0) / 6.894757293168).toBeCloseTo(50, 0)
  expect(drive(7) / drive(0)).toBeCloseTo(0.86, 2)
  expect(drive(30) / drive(0)).toBeCloseTo(0.4, 2)
})

test('WAT-12 more feed pressure drives more, saltier feed and a fuller tank less', () => {
  const kpa = fc.integer({ min: 0, max: 900 })
  fc.assert(
    fc.property(
      kpa,
      kpa,
      fc.integer({ min: 0, max: 3000 }),
      fc.integer({ min: 0, max: 90 }),
      (feed, back, solids, y) => {
        const at = (more: { feed?: number; back?: number; solids?: number }) =>
          drivingPressure({
            feedPressure: kilopascals(feed + (more.feed ?? 0)),
            backPressure: kilopascals(back + (more.back ?? 0)),
            tdsIn: tds(solids + (more.solids ?? 0)),
            tdsOut: tds(solids / 10),
            recoveryPercent: y,
          })
        expect(at({ feed: 10 })).toBeCloseTo(at({}) + 10, 6)
        expect(at({ back: 10 })).toBeCloseTo(at({}) - 10, 6)
        expect(at({ solids: 100 })).toBeLessThan(at({}))
      },
    ),
  )
})
