/** Points (1/72 inch) from the sheet's top left corner, as everywhere on paper. */
interface Box {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

const INCH = 72
const MM = 72 / 25.4

/** A sheet of labels: how many, where they begin, how far from one to the next. */
export interface LabelSheet {
  readonly name: 'letter-30' | 'a4-21'
  readonly page: 'letter' | 'a4'
  readonly across: number
  readonly down: number
  readonly left: number
  readonly top: number
  readonly stepAcross: number
  readonly stepDown: number
  readonly width: number
  readonly height: number
  /** How far a label of this name may lie beside where we print, to either side. */
  readonly strays: number
}

/**
 * 30 to a US Letter page: 2.625 x 1 in, half an inch from the top. Two geometries are in circulation, with the first label 0.1875 in
 * from the left and 2.75 in to the next, or 0.15625 in and 2.78125 in; we print halfway, 1/64 in from either.
 * 21 to an A4 page: 63.5 x 38.1 mm, 15.15 mm from the top, 7.2 mm from the left, 2.5 mm between.
 * (Both from label-template collections; reference values of the trade, 8.4.)
 */
const SHEETS: Readonly<Record<'letter' | 'a4', LabelSheet>> = {
  letter: {
    name: 'letter-30',
    page: 'letter',
    across: 3,
    down: 10,
    left: ((0.1875 + 0.15625) / 2) * INCH,
    top: 0.5 * INCH,
    stepAcross: ((2.75 + 2.78125) / 2) * INCH,
    stepDown: INCH,
    width: 2.625 * INCH,
    height: INCH,
    strays: INCH / 64,
  },
  a4: {
    name: 'a4-21',
    page: 'a4',
    across: 3,
    down: 7,
    left: 7.2 * MM,
    top: 15.15 * MM,
    stepAcross: (63.5 + 2.5) * MM,
    stepDown: 38.1 * MM,
    width: 63.5 * MM,
    height: 38.1 * MM,
    strays: 0,
  },
}

/** The office's label sheet, by the size of its paper. */
export const labelSheet = (page: 'letter' | 'a4'): LabelSheet => SHEETS[page]

export const labelsOnSheet = (sheet: LabelSheet): number => sheet.across * sheet.down

/** Where a label lies: the page from 0, and the label's own edges. */
export interface LabelPlace {
  readonly page: number
  readonly box: Box
}

/** The place of the label that is so many from the first sheet's first, row by row, from 0. */
export function labelPlace(sheet: LabelSheet, index: number): LabelPlace {
  const onPage = index % labelsOnSheet(sheet)
  const x = sheet.left + (onPage % sheet.across) * sheet.stepAcross
  const y = sheet.top + Math.floor(onPage / sheet.across) * sheet.stepDown
  return { page: Math.floor(index / labelsOnSheet(sheet)), box: { x, y, width: sheet.width, height: sheet.height } }
}

/** A sixteenth of an inch inside the label's edge nothing is cut off, wherever the label strays to. */
const INSIDE = INCH / 16

/** The part of a label that words may stand in. */
export function wordsBox(sheet: LabelSheet, { x, y, width, height }: Box): Box {
  const aside = INSIDE + sheet.strays
  return { x: x + aside, y: y + INSIDE, width: width - 2 * aside, height: height - 2 * INSIDE }
}

/** Room across for bars with their quiet zones, which may reach to the label's edge. */
export const barsRoom = (sheet: LabelSheet): number => sheet.width - 2 * sheet.strays
