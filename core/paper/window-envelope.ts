import { type Box, inches, type Margins, mm, PAGE_SIZES, type PageSize, type Points } from './page-geometry.ts'

export type WindowEnvelope = 'us-10' | 'din-5008-b'

/** An envelope with a window, and how the sheet is folded for it. */
interface Envelope {
  readonly width: Points
  readonly height: Points
  /** The window, from the envelope's top left corner as the reader of the address sees it. */
  readonly window: Box
}

/**
 * US #10 is 4 1/8 x 9 1/2 in; its window 1 1/8 x 4 1/2 in, 7/8 in from the left edge and 1/2 in above the bottom edge
 * (a university's mail sheet, second hand; no standard was seen).
 */
const US_10: Envelope = {
  width: inches(9.5),
  height: inches(4.125),
  window: { x: inches(0.875), y: inches(4.125 - 0.5 - 1.125), width: inches(4.5), height: inches(1.125) },
}

/** DIN 680: a window of 90 x 45 mm, 20 mm from the left and 15 mm above the bottom edge, in DL (110 x 220) and C6/5 (114 x 229 mm). */
const dinEnvelope = (width: number, height: number): Envelope => ({
  width: mm(width),
  height: mm(height),
  window: { x: mm(20), y: mm(height - 15 - 45), width: mm(90), height: mm(45) },
})

export const ENVELOPES: Readonly<Record<WindowEnvelope, readonly Envelope[]>> = {
  'us-10': [US_10],
  'din-5008-b': [dinEnvelope(220, 110), dinEnvelope(229, 114)],
}

/** Where things stand on a letter's first page so that the window shows the address, all of it, and nothing else. */
export interface WindowLayout {
  /** Inside this box the address can be read however the sheet has slipped in its envelope. */
  readonly address: Box
  /** What the window still shows below that box, outside of where the post's machines read: room for a fifth line. */
  readonly spareBelow: Points
  /** Whatever the window can show of the sheet: nothing but the address (and its return line) may stand in it. */
  readonly clear: Box
  /** A line with the sender's address, small, above the address; null where envelopes are printed with it. */
  readonly returnLine: { readonly x: Points; readonly y: Points; readonly width: Points } | null
  /** Date and reference, right of the window. */
  readonly information: { readonly x: Points; readonly y: Points; readonly width: Points }
  /** Heights of the folds, from the top. */
  readonly folds: readonly Points[]
  readonly punch: Points | null
  /** Where the letter itself may begin. */
  readonly bodyTop: Points
  readonly margins: Margins
}

/** USPS DMM, Quick Service Guide 201a: at least 1/8 in clear between the address and the left and right edge of the window. */
const US_SIDE_CLEARANCE = inches(0.125)
/** The same guide: 0.028 in clear above and below a barcode; kept for the address, too. */
const US_EDGE_CLEARANCE = inches(0.028)
/** USPS DMM 202.2.1: the read area ends 5/8 in above the bottom edge; the window goes 1/8 in further down. */
const US_READ_AREA_FOOT = inches(5 / 8)

/** The layout for a sheet of this size in this envelope. */
export function windowLayout(envelope: WindowEnvelope, size: PageSize): WindowLayout {
  const sheet = PAGE_SIZES[size]
  const folds = envelope === 'us-10' ? [sheet.height / 3, (sheet.height * 2) / 3] : [mm(105), mm(210)]
  const folded = folds[0] ?? sheet.height
  const shown = ENVELOPES[envelope].map((one) => shownOfSheet(one, sheet.width, folded))
  const always = shown.map((each) => each.always).reduce(overlap)
  const ever = shown.map((each) => each.ever).reduce(around)
  return envelope === 'us-10' ? usLayout(always, ever, folds, sheet.width) : dinLayout(always, ever, folds, sheet.width)
}

function usLayout(always: Box, ever: Box, folds: readonly Points[], sheetWidth: Points): WindowLayout {
  const left = always.x + US_SIDE_CLEARANCE
  const right = inches(0.9)
  // The read area's foot lies above the window's: the lowest line stays within it even when the sheet lies on the bottom edge.
  const belowReadArea = US_READ_AREA_FOOT - inches(0.5)
  const top = always.y + US_EDGE_CLEARANCE
  const height = always.height - US_EDGE_CLEARANCE - belowReadArea
  return {
    address: { x: left, y: top, width: always.width - 2 * US_SIDE_CLEARANCE, height },
    spareBelow: belowReadArea - US_EDGE_CLEARANCE,
    clear: ever,
    returnLine: null,
    information: { x: ever.x + ever.width + 12, y: always.y, width: sheetWidth - right - (ever.x + ever.width + 12) },
    folds,
    punch: null,
    bodyTop: ever.y + ever.height + 8,
    margins: { top: inches(0.65), right, bottom: inches(0.6), left },
  }
}

/** DIN 5008 form B: the field begins 45 mm from the top; of its 45 mm the upper 17.7 are for return line and remarks. */
function dinLayout(always: Box, ever: Box, folds: readonly Points[], sheetWidth: Points): WindowLayout {
  const left = mm(25)
  const top = mm(45 + 17.7)
  return {
    address: { x: left, y: top, width: always.x + always.width - left - mm(2), height: mm(45 + 45) - top },
    spareBelow: 0,
    clear: ever,
    returnLine: { x: left, y: top - mm(4.6), width: always.x + always.width - left - mm(2) },
    information: { x: mm(125), y: mm(50), width: sheetWidth - mm(125) - mm(10) },
    folds,
    punch: mm(148.5),
    bodyTop: Math.max(mm(98.46), ever.y + ever.height + 4),
    margins: { top: mm(16), right: mm(20), bottom: mm(15), left },
  }
}

/**
 * What a window shows of the sheet, in the sheet's own measure. The folded sheet is smaller than the envelope and slips: it lies
 * anywhere between top left and bottom right. `always` is seen at every place, `ever` at one at least.
 */
export function shownOfSheet(envelope: Envelope, sheetWidth: Points, foldedHeight: Points): { always: Box; ever: Box } {
  const slipX = Math.max(0, envelope.width - sheetWidth)
  const slipY = Math.max(0, envelope.height - foldedHeight)
  const { x, y, width, height } = envelope.window
  return {
    always: { x, y, width: width - slipX, height: height - slipY },
    ever: { x: x - slipX, y: y - slipY, width: width + slipX, height: height + slipY },
  }
}

function overlap(a: Box, b: Box): Box {
  const x = Math.max(a.x, b.x)
  const y = Math.max(a.y, b.y)
  return {
    x,
    y,
    width: Math.min(a.x + a.width, b.x + b.width) - x,
    height: Math.min(a.y + a.height, b.y + b.height) - y,
  }
}

function around(a: Box, b: Box): Box {
  const x = Math.min(a.x, b.x)
  const y = Math.min(a.y, b.y)
  return {
    x,
    y,
    width: Math.max(a.x + a.width, b.x + b.width) - x,
    height: Math.max(a.y + a.height, b.y + b.height) - y,
  }
}
