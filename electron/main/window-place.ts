import { z } from 'zod'

/** A rectangle on the desktop, in the display's own units. */
export interface Rectangle {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

/** What is remembered of the window between two runs. */
export interface WindowPlace extends Rectangle {
  readonly maximised: boolean
}

const length = z.int().min(-100_000).max(100_000)
const windowPlaceSchema = z.object({ x: length, y: length, width: length, height: length, maximised: z.boolean() })

export const SMALLEST = { width: 1024, height: 700 } as const
const USUAL = { width: 1440, height: 900 } as const
/** So much of the window's upper edge must be on a display for a hand to catch it. */
const GRIP = { width: 120, height: 40 } as const

/** Reads what was remembered; null for anything that is not a place. */
export function readWindowPlace(text: string): WindowPlace | null {
  try {
    const read = windowPlaceSchema.safeParse(JSON.parse(text))
    return read.success ? read.data : null
  } catch {
    return null
  }
}

/**
 * Where the window opens: where it was, when enough of its upper edge still lies on a display to be caught; otherwise in the middle
 * of the first display. Never larger than the display it lies on, never smaller than its smallest size unless the display is.
 * `workAreas` are the displays without their bars, the first display first; there is at least one.
 */
export function placeWindow(remembered: WindowPlace | null, workAreas: readonly Rectangle[]): WindowPlace {
  const [first = { x: 0, y: 0, ...USUAL }] = workAreas
  const home = remembered && workAreas.find((area) => canBeCaught(remembered, area))
  if (!remembered || !home) return { ...centred(first), maximised: remembered?.maximised ?? false }
  const width = clamp(remembered.width, SMALLEST.width, home.width)
  const height = clamp(remembered.height, SMALLEST.height, home.height)
  return {
    x: clamp(remembered.x, home.x, home.x + home.width - width),
    y: clamp(remembered.y, home.y, home.y + home.height - height),
    width,
    height,
    maximised: remembered.maximised,
  }
}

function centred(area: Rectangle): Rectangle {
  const width = Math.min(USUAL.width, area.width)
  const height = Math.min(USUAL.height, area.height)
  return {
    x: area.x + Math.floor((area.width - width) / 2),
    y: area.y + Math.floor((area.height - height) / 2),
    width,
    height,
  }
}

function canBeCaught(place: Rectangle, area: Rectangle): boolean {
  const across = Math.min(place.x + place.width, area.x + area.width) - Math.max(place.x, area.x)
  return across >= GRIP.width && place.y >= area.y && place.y + GRIP.height <= area.y + area.height
}

/** `least` gives way to `most`: a display smaller than the smallest window wins. */
function clamp(value: number, least: number, most: number): number {
  return Math.min(Math.max(value, least), most)
}
