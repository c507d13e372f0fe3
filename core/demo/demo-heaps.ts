import type { DayNumber } from '../units/calendar-date.ts'
import type { DemoMovement, DemoPlace } from './demo-records.ts'

/** Pieces of each lot that lie in one kind of place at the end of a day, by all movements until then; lots without any are left out. */
export function heapsOn(
  movements: readonly DemoMovement[],
  place: DemoPlace,
  on: DayNumber = Number.MAX_SAFE_INTEGER,
): Map<number, number> {
  const heaps = new Map<number, number>()
  const change = (lot: number, by: number) => {
    const left = (heaps.get(lot) ?? 0) + by
    if (left === 0) heaps.delete(lot)
    else heaps.set(lot, left)
  }
  for (const { on: day, lot, quantity, from, to } of movements) {
    if (day > on) continue
    if (to === place) change(lot, quantity)
    if (from === place) change(lot, -quantity)
  }
  return heaps
}

/** The fewest pieces of each lot that lay in its bin at any time from the end of a day on: so many can leave it that day unnoticed. */
export function sparePieces(movements: readonly DemoMovement[], on: DayNumber): Map<number, number> {
  const heaps = heapsOn(movements, 'bin', on)
  const spare = new Map(heaps)
  for (const { on: day, lot, quantity, from, to } of movements) {
    if (day <= on) continue
    const left = (heaps.get(lot) ?? 0) + (to === 'bin' ? quantity : 0) - (from === 'bin' ? quantity : 0)
    heaps.set(lot, left)
    spare.set(lot, Math.min(spare.get(lot) ?? 0, left))
  }
  return spare
}
