import type { SeenText } from './read-pdf.ts'

export const INCH = 72
export const MM = 72 / 25.4

/** A window of an envelope as published, and how far the folded sheet can slip in it, to the right and down. */
export interface PublishedWindow {
  readonly name: string
  readonly left: number
  readonly right: number
  readonly top: number
  readonly foot: number
  readonly slipRight: number
  readonly slipDown: number
}

// US #10: 4 1/8 x 9 1/2 in; window 1 1/8 x 4 1/2 in, 7/8 in from the left, 1/2 in above the bottom (a university's mail sheet,
// second hand). A Letter sheet folded in three is 8 1/2 x 3 2/3 in.
export const US_10: PublishedWindow = {
  name: 'US #10',
  left: 0.875 * INCH,
  right: 5.375 * INCH,
  top: 2.5 * INCH,
  foot: 3.625 * INCH,
  slipRight: 1 * INCH,
  slipDown: (4.125 - 11 / 3) * INCH,
}
// DIN 680: window 90 x 45 mm, 20 mm from the left, 15 mm above the bottom; DL is 110 x 220 mm, C6/5 114 x 229 mm. An A4 sheet with
// folds at 105 and 210 mm (DIN 5008 form B) is 210 x 105 mm.
export const DIN = (name: string, width: number, height: number): PublishedWindow => ({
  name,
  left: 20 * MM,
  right: 110 * MM,
  top: (height - 60) * MM,
  foot: (height - 15) * MM,
  slipRight: (width - 210) * MM,
  slipDown: (height - 105) * MM,
})

/** What of a page's text the window shows, wholly or in part, when the sheet has slipped by so much. */
export function shown(texts: readonly SeenText[], window: PublishedWindow, right: number, down: number): SeenText[] {
  return texts.filter(
    (text) =>
      text.right + right > window.left &&
      text.left + right < window.right &&
      text.base + down > window.top &&
      text.top + down < window.foot,
  )
}

export function wholly(
  { left, right, top, base }: SeenText,
  window: PublishedWindow,
  slipRight: number,
  slipDown: number,
): boolean {
  return (
    left + slipRight >= window.left &&
    right + slipRight <= window.right &&
    top + slipDown >= window.top &&
    base + slipDown <= window.foot
  )
}
