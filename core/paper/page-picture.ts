import type { Points } from './page-geometry.ts'

export type Weight = 'regular' | 'semibold'
/** Black-and-white by intent: a black-and-white printer loses nothing. */
export type Ink = 'ink' | 'second' | 'rule' | 'white' | 'black'

/** Red, green and blue of each ink, 0 to 255. */
export const INKS: Readonly<Record<Ink, readonly [number, number, number]>> = {
  ink: [0x1b, 0x22, 0x25],
  second: [0x59, 0x62, 0x5f],
  rule: [0xb9, 0xb0, 0x9e],
  white: [0xff, 0xff, 0xff],
  /** For bars that a scanner reads: nothing that a printer would have to screen. */
  black: [0, 0, 0],
}

/** One step of an outline: move, line, cubic curve or close. */
export type Step =
  | readonly ['M' | 'L', Points, Points]
  | readonly ['C', Points, Points, Points, Points, Points, Points]
  | readonly ['Z']

/** What stands on a page, in the order it is drawn. The screen draws its preview from the same marks as the PDF. */
export type Mark =
  | {
      readonly kind: 'text'
      readonly x: Points
      /** The base line. */
      readonly y: Points
      readonly size: Points
      readonly weight: Weight
      readonly ink: Ink
      readonly text: string
    }
  | {
      readonly kind: 'outline'
      /** Path data as SVG writes it; a PDF's operators say the same. */
      readonly path: string
      readonly line: Ink | null
      readonly fill: Ink | null
      readonly lineWidth: Points
      /** Lengths of dash and gap; null for a whole line. */
      readonly dash: readonly [Points, Points] | null
    }

export interface PagePicture {
  readonly width: Points
  readonly height: Points
  readonly marks: readonly Mark[]
}

/** Two decimals are a fiftieth of a hair; more only makes files longer. */
export const short = (value: number): string => String(Math.round(value * 100) / 100)

/** `M 1 2 L 3 4 Z`. */
export function pathData(steps: readonly Step[]): string {
  return steps.map(([letter, ...numbers]) => [letter, ...numbers.map((n) => short(n))].join(' ')).join(' ')
}
