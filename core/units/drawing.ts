/** A place on a drawing; y grows downward. px on screen, and on paper whatever they are scaled to. */
export interface Spot {
  readonly x: number
  readonly y: number
}

/**
 * How a line is drawn: `hair` a rule, `firm` a line that means something, `thin` hatching, `dashed` and `dotted` in ink, `water` for what was
 * measured and what is left of a life, `water-dashed` for what is expected. No meaning rests on colour: each has its own weight or dash.
 */
export type LineLook = 'hair' | 'firm' | 'thin' | 'dashed' | 'dotted' | 'water' | 'water-dashed'

/** What a drawing consists of, for the screen and for paper alike. */
export type Mark =
  | { readonly kind: 'line'; readonly look: LineLook; readonly lines: readonly (readonly Spot[])[] }
  /** A tint under hatching; paper leaves it out. */
  | { readonly kind: 'tint'; readonly outline: readonly Spot[] }
  /** `dot` filled, `ring` open, `square` small and open, `cross` struck out. */
  | { readonly kind: 'point'; readonly shape: 'dot' | 'ring' | 'square' | 'cross'; readonly at: Spot }
  | {
      readonly kind: 'words'
      readonly text: string
      readonly at: Spot
      readonly align: 'start' | 'middle' | 'end'
      readonly look: 'plain' | 'second' | 'bold'
    }

export interface Drawing {
  readonly width: number
  readonly height: number
  readonly marks: readonly Mark[]
}

/** Half the width of a point. */
export const POINT_SIZE = 3.5

/** Strokes at 45 degrees, rising to the right, wherever `isInside` holds within a box. */
export function hatchWithin(
  box: { readonly x: number; readonly y: number; readonly width: number; readonly height: number },
  spacing: number,
  isInside: (spot: Spot) => boolean,
): Spot[][] {
  const strokes: Spot[][] = []
  for (let offset = spacing / 2; offset < box.width + box.height; offset += spacing) {
    let begun: Spot | null = null
    let last: Spot | null = null
    for (let step = Math.max(0, offset - box.height); step <= Math.min(box.width, offset); step += 1) {
      const spot = { x: box.x + step, y: box.y + offset - step }
      if (isInside(spot)) {
        begun ??= spot
        last = spot
        continue
      }
      if (begun && last && last !== begun) strokes.push([begun, last])
      begun = null
    }
    if (begun && last && last !== begun) strokes.push([begun, last])
  }
  return strokes
}

/** Moves labels down just enough that none lies closer than `least` to the one above; order is kept. */
export function spreadDown<Label extends { readonly y: number }>(labels: readonly Label[], least: number): Label[] {
  let above = Number.NEGATIVE_INFINITY
  return labels
    .toSorted((a, b) => a.y - b.y)
    .map((label) => {
      above = Math.max(label.y, above + least)
      return { ...label, y: above }
    })
}
