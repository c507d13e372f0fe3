import { expect, test } from 'vitest'
import { grainsToHardness, hardness } from '../../core/units/measures.ts'
import { hardnessClassOf } from '../../core/water/hardness-classes.ts'

// USGS, "Do you have information about water hardness": soft 0-60, moderately hard 61-120, hard 121-180, very hard over 180 mg/L as CaCO3.
test.each([
  [0, 'soft'],
  [60, 'soft'],
  [61, 'moderately hard'],
  [120, 'moderately hard'],
  [121, 'hard'],
  [180, 'hard'],
  [181, 'very hard'],
  [900, 'very hard'],
])('UNIT-14 %d mg/L is %s', (milligrams, expected) => {
  expect(hardnessClassOf(hardness(milligrams))).toBe(expected)
})

// The survey leaves what lies between its whole figures open: our own decision, the harder class.
test.each([
  [60.1, 'moderately hard'],
  [60.5, 'moderately hard'],
  [120.5, 'hard'],
  [180.5, 'very hard'],
])('UNIT-14 %d mg/L, between two classes, belongs to the harder one', (milligrams, expected) => {
  expect(hardnessClassOf(hardness(milligrams))).toBe(expected)
})

test('UNIT-14 seven grains a gallon are just short of hard, nine are hard, ten and a half very nearly too', () => {
  expect([7, 9, 10.5, 10.6].map((grains) => hardnessClassOf(grainsToHardness(grains)))).toEqual([
    'moderately hard',
    'hard',
    'hard',
    'very hard',
  ])
})
