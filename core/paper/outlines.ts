import type { Box, Points } from './page-geometry.ts'
import type { Step } from './page-picture.ts'

/** How far the handles of a quarter circle's curve stand off, for the closest fit: 4/3 (sqrt 2 - 1). */
const QUARTER = (4 / 3) * (Math.SQRT2 - 1)

export function lineFrom(x1: Points, y1: Points, x2: Points, y2: Points): Step[] {
  return [
    ['M', x1, y1],
    ['L', x2, y2],
  ]
}

/** A box; its corners rounded by `radius`, which is cut to half the shorter side (then it is a capsule or a circle). */
export function boxOutline({ x, y, width, height }: Box, radius: Points = 0): Step[] {
  const r = Math.min(radius, width / 2, height / 2)
  const right = x + width
  const foot = y + height
  if (r <= 0) return [['M', x, y], ['L', right, y], ['L', right, foot], ['L', x, foot], ['Z']]
  const k = r * (1 - QUARTER)
  return [
    ['M', x + r, y],
    ['L', right - r, y],
    ['C', right - k, y, right, y + k, right, y + r],
    ['L', right, foot - r],
    ['C', right, foot - k, right - k, foot, right - r, foot],
    ['L', x + r, foot],
    ['C', x + k, foot, x, foot - k, x, foot - r],
    ['L', x, y + r],
    ['C', x, y + k, x + k, y, x + r, y],
    ['Z'],
  ]
}
