import fc from 'fast-check'
import { expect, test } from 'vitest'
import { addDays } from '../../core/units/calendar-date.ts'
import { type FlowFinding, flowFinding } from '../../core/water/flow-finding.ts'
import { FITTED, LIMITS } from '../builders/a-flow-story.ts'
import { type HomeByPhysics, lifeOf, readAt, SOUND_HOME } from '../judges/a-home-by-physics.ts'

/*
 * Homes made forwards by physics, each with one thing wrong, of any strength that a technician would be called for; the finding sees the meters
 * only. The physics is another code than the one that reckons back, with another convention for the warmth.
 */

const share = (least: number, most: number) =>
  fc.integer({ min: least, max: most }).map((hundredths) => hundredths / 100)
const sound = fc.record({
  feedTds: fc.integer({ min: 150, max: 700 }),
  psi: fc.integer({ min: 50, max: 80 }),
  degrees: fc.integer({ min: 10, max: 20 }),
})
const homes = sound.map((own): HomeByPhysics => ({ ...SOUND_HOME, ...own }))
const causes = (finding: FlowFinding) => ('causes' in finding ? finding.causes.map(({ kind }) => kind) : [])
const findingOf = (home: HomeByPhysics, later: Partial<HomeByPhysics>, openedOn = [FITTED]) =>
  flowFinding(lifeOf(FITTED, [{ after: 400, home: later }], home), LIMITS, { openedOn })

test('WAT-14 the judge’s new membrane is a usual one', () => {
  const reading = readAt(SOUND_HOME, FITTED)
  expect(reading.rejectionPercent).toBeGreaterThan(90)
  expect(reading.rejectionPercent).toBeLessThan(97)
  expect(reading.flow).toBeGreaterThan(100)
  expect(reading.flow).toBeLessThan(300)
})

test('WAT-14 a home where nothing is wrong is never flagged, and no cause is named', () => {
  fc.assert(
    fc.property(homes, (home) => {
      const finding = findingOf(home, {})
      expect(finding.kind).toBe('held')
      expect(causes(finding)).toEqual([])
    }),
  )
})

test('WAT-15 a weak supply is found, and neither membrane nor filters are blamed', () => {
  fc.assert(
    fc.property(homes, share(45, 75), (home, left) => {
      const finding = findingOf(home, { psi: home.psi * left })
      expect(finding.kind).toBe('explained')
      expect(causes(finding)).toEqual(['low-pressure'])
    }),
  )
})

test('WAT-15 cold water is found, and neither membrane nor filters are blamed', () => {
  fc.assert(
    fc.property(homes, fc.integer({ min: 6, max: 9 }), (home, colder) => {
      const finding = findingOf(home, { degrees: home.degrees - colder })
      expect(['held', 'explained']).toContain(finding.kind)
      expect(causes(finding)).toEqual(['cold-water'])
    }),
  )
})

test('WAT-16 WAT-19 clogged filters are found although so little water lets rejection sink too', () => {
  fc.assert(
    fc.property(homes, share(25, 60), (home, clogged) => {
      const finding = findingOf(home, { clogged })
      expect(finding.kind).toBe('fallen')
      expect(causes(finding)).toEqual(['clogged-pre-filter'])
    }),
  )
})

test('WAT-17 a membrane that lets more salt through is found, whatever else it does to the water', () => {
  fc.assert(
    fc.property(homes, share(400, 700), share(60, 115), (home, saltOpen, waterOpen) => {
      // Four times the salt leaves a very good membrane still healthy; then nothing is to be found.
      const finding = findingOf(home, { saltOpen, waterOpen })
      const latest = 'comparison' in finding ? (finding.comparison.latest.rejectionPercent ?? 0) : 0
      if (latest < LIMITS.healthyPercent) expect(causes(finding)[0]).toBe('failing-membrane')
      else expect(causes(finding)).not.toContain('failing-membrane')
    }),
  )
})

test('WAT-17 a seal that leaks since the unit stood open is found, and the same drop without it is a membrane’s', () => {
  fc.assert(
    fc.property(homes, share(10, 60), (home, leak) => {
      const readings = lifeOf(
        FITTED,
        [
          { after: 360, home: {} },
          { after: 366, home: { leak } },
          { after: 420, home: { leak } },
        ],
        home,
      )
      const opened = addDays(FITTED, 365)
      expect(causes(flowFinding(readings, LIMITS, { openedOn: [FITTED, opened] }))[0]).toBe('leaking-seal')
      const worn = flowFinding(readings, { ...LIMITS, healthyPercent: 100 }, { openedOn: [FITTED] })
      expect(causes(worn)[0]).toBe('failing-membrane')
    }),
  )
})

test('WAT-18 a tank without air is found where the tap runs weak', () => {
  fc.assert(
    fc.property(homes, fc.integer({ min: 0, max: 4 }), share(25, 60), (home, prechargePsi, weakTap) => {
      const finding = findingOf(home, { prechargePsi, weakTap })
      expect(finding.kind).toBe('fallen')
      expect(causes(finding)[0]).toBe('low-tank-charge')
    }),
  )
})

test('WAT-15 two things at once: a cold winter with clogged filters names both', () => {
  fc.assert(
    fc.property(homes, share(30, 60), fc.integer({ min: 6, max: 9 }), (home, clogged, colder) => {
      const finding = findingOf(home, { clogged, degrees: home.degrees - colder })
      expect(finding.kind).toBe('fallen')
      expect([...causes(finding)].sort()).toEqual(['clogged-pre-filter', 'cold-water'])
    }),
  )
})
