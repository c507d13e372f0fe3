import fc from 'fast-check'
import { expect, test } from 'vitest'
import { type ChoiceQuestion, chooseVisits, chooseVisitsStepwise } from '../../core/stock/choose-visits.ts'
import { inOneGo } from '../../core/stock/stepwise.ts'
import { canBeServed, mostWorthOfAllSets } from '../judges/every-set-of-visits.ts'
import { mostWorthSolver } from '../judges/visits-served-programme.ts'

const solver = await mostWorthSolver()

const anyChoice = (visits: number, heaps: number, wants: number): fc.Arbitrary<ChoiceQuestion> =>
  fc.record({
    pieces: fc.array(fc.integer({ min: 0, max: 4 }), { minLength: heaps, maxLength: heaps }),
    visits: fc.array(
      fc.record({
        worth: fc.constantFrom(1, 2, 3, 100, 100, 150, 400),
        wants: fc.array(
          fc.record({
            heaps: fc.uniqueArray(fc.nat(heaps - 1), { minLength: 1, maxLength: 3 }),
            quantity: fc.integer({ min: 1, max: 3 }),
          }),
          { maxLength: wants },
        ),
      }),
      { maxLength: visits },
    ),
  })

const worthOf = (question: ChoiceQuestion, served: readonly boolean[]): number =>
  question.visits.reduce((sum, visit, index) => sum + (served[index] ? visit.worth : 0), 0)

const bitsOf = (served: readonly boolean[]): number =>
  served.reduce((sum, each, index) => sum + (each ? 2 ** index : 0), 0)

test('PICK-8 the visits served are worth what the best of all sets is worth, and can be served (every set tried)', () => {
  fc.assert(
    fc.property(anyChoice(7, 5, 3), (question) => {
      const { served, proved } = chooseVisits(question)
      expect(proved).toBe(true)
      expect(canBeServed(question, bitsOf(served))).toBe(true)
      expect(worthOf(question, served)).toBe(mostWorthOfAllSets(question))
    }),
    { numRuns: 600 },
  )
})

test('PICK-8 the visits served are worth what the HiGHS solver (npm highs) proves to be the most', () => {
  fc.assert(
    fc.property(anyChoice(25, 10, 4), (question) => {
      const { served, proved } = chooseVisits(question)
      expect(proved).toBe(true)
      expect(worthOf(question, served)).toBe(solver(question))
    }),
    { numRuns: 150 },
  )
})

test('PICK-8 of sets that are worth the same the one with more visits is served, then the one with those earlier in the day', () => {
  const one = (worth: number, quantity: number) => ({ worth, wants: [{ heaps: [0], quantity }] })
  expect(chooseVisits({ pieces: [1], visits: [one(100, 1), one(100, 1), one(100, 1)] }).served).toEqual([
    true,
    false,
    false,
  ])
  expect(chooseVisits({ pieces: [2], visits: [one(200, 2), one(100, 1), one(100, 1)] }).served).toEqual([
    false,
    true,
    true,
  ])
})

test('PICK-19 with no effort left the set served is the best that was found, can be served, and says that it is not proved', () => {
  fc.assert(
    fc.property(anyChoice(9, 4, 3), (question) => {
      const hasty = chooseVisits(question, -1)
      const { served } = hasty
      expect(canBeServed(question, bitsOf(served))).toBe(true)
      expect(worthOf(question, served)).toBeLessThanOrEqual(worthOf(question, chooseVisits(question).served))
      for (const [visit, isServed] of served.entries())
        if (!isServed)
          expect(canBeServed(question, bitsOf(served.map((each, index) => each || index === visit)))).toBe(false)
      if (served.includes(false) && chooseVisits(question).served.join() !== served.join())
        expect(hasty.proved).toBe(false)
    }),
    { numRuns: 200 },
  )
})

test('PICK-8 a day with much to weigh is weighed a breath at a time, and comes to the same', () => {
  const question: ChoiceQuestion = {
    pieces: Array.from({ length: 60 }, (_, heap) => 2 + (heap % 3)),
    visits: Array.from({ length: 140 }, (_, visit) => ({
      worth: 100 + ((visit * 37) % 91) * 10,
      wants: [7, 11, 17].map((step) => ({
        heaps: [(visit * step) % 60, (visit * step + 13) % 60],
        quantity: 1 + (visit % 2),
      })),
    })),
  }
  const steps = chooseVisitsStepwise(question)
  let breaths = 0
  let step = steps.next()
  for (; !step.done; step = steps.next()) breaths += 1
  expect(breaths).toBeGreaterThan(10)
  expect(step.value).toEqual(inOneGo(chooseVisitsStepwise(question)))
  expect(step.value).toEqual(chooseVisits(question))
})
