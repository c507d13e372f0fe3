/** Everything on paper is measured in points (1/72 inch), from the top left corner of the sheet, downwards. */
export type Points = number

/** Exact: an inch is 25.4 mm and 72 points. */
export const mm = (millimetres: number): Points => (millimetres / 25.4) * 72
export const inches = (count: number): Points => count * 72

export type PageSize = 'letter' | 'a4'

export interface Box {
  readonly x: Points
  readonly y: Points
  readonly width: Points
  readonly height: Points
}

export interface Margins {
  readonly top: Points
  readonly right: Points
  readonly bottom: Points
  readonly left: Points
}

/** US Letter is 8.5 x 11 in (ANSI/ASME Y14.1 size A); A4 is 210 x 297 mm (ISO 216). */
export const PAGE_SIZES: Readonly<Record<PageSize, { readonly width: Points; readonly height: Points }>> = {
  letter: { width: inches(8.5), height: inches(11) },
  a4: { width: mm(210), height: mm(297) },
}

/** A generous left margin leaves room for a thumb and for two punched holes. */
export const USUAL_MARGINS: Margins = { top: mm(18), right: mm(18), bottom: mm(20), left: mm(22) }

/** What is left of the sheet between the margins. */
export function textArea(size: PageSize, margins: Margins): Box {
  const { width, height } = PAGE_SIZES[size]
  return {
    x: margins.left,
    y: margins.top,
    width: width - margins.left - margins.right,
    height: height - margins.top - margins.bottom,
  }
}
