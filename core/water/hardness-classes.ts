import type { Hardness } from '../units/measures.ts'

/** The four classes of the United States Geological Survey, softest first. */
export const HARDNESS_CLASSES = ['soft', 'moderately hard', 'hard', 'very hard'] as const
export type HardnessClass = (typeof HARDNESS_CLASSES)[number]

/** Upper limit of each class but the last, mg/L as CaCO3, itself included. USGS: 0-60, 61-120, 121-180, over 180. */
export const SOFT_UP_TO = 60
export const MODERATELY_HARD_UP_TO = 120
export const HARD_UP_TO = 180

/**
 * The class of a feed water, from mg/L as CaCO3. The survey prints whole figures and leaves 60 to 61 open;
 * here a class reaches up to and including its limit and anything above it belongs to the harder class, so 60.5 is moderately hard.
 */
export function hardnessClassOf(value: Hardness): HardnessClass {
  if (value <= SOFT_UP_TO) return 'soft'
  if (value <= MODERATELY_HARD_UP_TO) return 'moderately hard'
  return value <= HARD_UP_TO ? 'hard' : 'very hard'
}
