import type { Millilitres } from '../units/measures.ts'

/** Where a stage stands: ahead of the membrane it sees the reject water too. */
export interface WaterPosition {
  readonly aheadOfMembrane: boolean
  /** Product water in percent of feed water, above 0. */
  readonly recoveryPercent: number
}

/**
 * How much water passes a position for each part that is drunk. Behind the membrane, or without one: 1.
 * Ahead of it the reject water passes too: 100 / recovery, so 4 at a recovery of 25 %.
 */
export function passedPerDrunk(position: WaterPosition): number {
  return 100 / recoveryAt(position)
}

/**
 * Whole days until a rated volume has passed, rounded down so that the rating is never overrun; null when nothing is drunk.
 * 1,500 litres at 9 litres drunk a day, ahead of a membrane with 25 % recovery: 36 litres a day, 41 days.
 */
export function daysOfRatedVolume(
  rated: Millilitres,
  drunkPerDay: Millilitres,
  position: WaterPosition,
): number | null {
  if (drunkPerDay <= 0) return null
  return Math.floor((rated * recoveryAt(position)) / (drunkPerDay * 100))
}

function recoveryAt(position: WaterPosition): number {
  if (!position.aheadOfMembrane || position.recoveryPercent <= 0) return 100
  return Math.min(position.recoveryPercent, 100)
}
