import { medianOf } from './median.ts'

export interface Point {
  readonly x: number
  readonly y: number
}

/** A straight line: y = intercept + slope x. */
export interface Line {
  readonly slope: number
  readonly intercept: number
}

export interface FittedLine extends Line {
  /** The lines with the lowest and the highest slope that the band allows, each laid through the middle of the points. */
  readonly lowest: Line
  readonly highest: Line
  /** How often such a band holds the true slope, 0 to 1: exact while no two y are equal, else as asked for. */
  readonly confidence: number
}

/** Nine times in ten, on both sides together: the band that is asked for. Three points cannot give it; `confidence` says what they do give. */
export const BAND_CONFIDENCE = 0.9
/** Standard normal quantile of 0.95, which leaves a twentieth on each side. */
const BAND_Z = 1.6448536269514722

/** Fewer than this show no trend. */
export const FEWEST_POINTS = 3

/**
 * Theil-Sen: the slope is the median of the slopes between every two points, the intercept the median of y - slope x. Up to 29 % of
 * the points may be anything without carrying it away. The band is Sen's (Journal of the American Statistical Association 63, 1968):
 * the slopes whose ranks lie z standard deviations of Kendall's S from the middle, the variance lessened for ties.
 * Points that share an x give no slope between them. Null with fewer than three points or fewer than two different x.
 */
export function theilSen(points: readonly Point[], z: number = BAND_Z): FittedLine | null {
  if (points.length < FEWEST_POINTS) return null
  const slopes = slopesBetween(points)
  const slope = medianOf(slopes)
  if (slope === null) return null
  const { low, high } = rankedLimits(slopes.length, z * Math.sqrt(kendallVariance(points)))
  return {
    ...lineThrough(points, slope),
    lowest: lineThrough(points, slopes[low] ?? slope),
    highest: lineThrough(points, slopes[high] ?? slope),
    confidence: confidenceOf(points, low),
  }
}

/** The line of a given slope that leaves half of the points above it and half below. */
function lineThrough(points: readonly Point[], slope: number): Line {
  return { slope, intercept: medianOf(points.map(({ x, y }) => y - slope * x)) ?? 0 }
}

function slopesBetween(points: readonly Point[]): number[] {
  const slopes: number[] = []
  const ordered = [...points].sort((a, b) => a.x - b.x)
  for (const [index, a] of ordered.entries())
    for (const b of ordered.slice(index + 1)) if (a.x !== b.x) slopes.push((b.y - a.y) / (b.x - a.x))
  return slopes.sort((a, b) => a - b)
}

/** Places of the two limits among the sorted slopes, counted from 0; the outermost where the band would reach beyond them. */
function rankedLimits(count: number, spread: number): { readonly low: number; readonly high: number } {
  return {
    low: Math.max(Math.round((count - spread) / 2) - 1, 0),
    high: Math.min(Math.round((count + spread) / 2), count - 1),
  }
}

/** Variance of Kendall's S: n (n - 1) (2n + 5) / 18, less the same for every group of equal x and of equal y. */
export function kendallVariance(points: readonly Point[]): number {
  const whole = spreadOf(points.length)
  const tied = [points.map(({ x }) => x), points.map(({ y }) => y)].flatMap(groupSizes).map(spreadOf)
  return Math.max(0, whole - tied.reduce((sum, part) => sum + part, 0))
}

const spreadOf = (n: number): number => (n * (n - 1) * (2 * n + 5)) / 18

function groupSizes(values: readonly number[]): number[] {
  const sizes = new Map<number, number>()
  for (const value of values) sizes.set(value, (sizes.get(value) ?? 0) + 1)
  return [...sizes.values()]
}

/**
 * The band from the (low + 1)-th lowest slope to the (low + 1)-th highest misses the true slope only when, with the trend taken out, at
 * most `low` of all pairs stand the other way round; among n! equally likely orders that is a count of inversions.
 */
function confidenceOf(points: readonly Point[], low: number): number {
  const hasTies = [points.map(({ x }) => x), points.map(({ y }) => y)].some(
    (values) => new Set(values).size < values.length,
  )
  return hasTies ? BAND_CONFIDENCE : 1 - 2 * shareWithFewInversions(points.length, low)
}

/** The share of the orders of n things that have at most `most` inversions, by laying the things in one after the other. */
export function shareWithFewInversions(n: number, most: number): number {
  let shares = [1]
  for (let size = 2; size <= n; size++) {
    const next: number[] = []
    for (let inversions = 0; inversions <= most; inversions++) {
      let share = 0
      for (let added = 0; added < size && added <= inversions; added++)
        share += (shares[inversions - added] ?? 0) / size
      next.push(share)
    }
    shares = next
  }
  return shares.reduce((sum, share) => sum + share, 0)
}
