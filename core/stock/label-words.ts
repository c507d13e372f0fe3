import type { CalendarDate } from '../units/calendar-date.ts'
import { shortDate } from '../units/date-words.ts'
import { gtin14, isGtin } from './gtin.ts'
import type { BarText } from './label-bars.ts'
import { labelOfBin, labelOfLot, labelOfLotAlone, labelOfPart } from './scanned-code.ts'

/** What a label is of. */
export type Labelled =
  | {
      readonly kind: 'lot'
      readonly number: string
      readonly name: string
      readonly gtin: string
      readonly lot: string
      readonly expiresOn: CalendarDate | null
      readonly recalled: boolean
    }
  | { readonly kind: 'part'; readonly number: string; readonly name: string; readonly gtin: string }
  | { readonly kind: 'bin'; readonly bin: string; readonly aisle: string }

/** What stands on a label. */
export interface LabelWords {
  readonly kind: Labelled['kind']
  /** The largest: the part number, or the bin. */
  readonly title: string
  /** Large, on the right of it: the lot. */
  readonly beside: string
  /** Below: the name. */
  readonly line: string
  /** On the right of that: how long it is good, or the GTIN. */
  readonly lineBeside: string
  /** What the bars may say, the best first: one text, or two below each other. */
  readonly bars: readonly (readonly BarText[])[]
}

/** In the bars of a part: our own part number, or the GTIN that everybody reads. */
export type PartBars = 'own' | 'gtin'

export function labelWords(of: Labelled, locale: string, partBars: PartBars): LabelWords {
  if (of.kind === 'bin')
    return {
      kind: 'bin',
      title: of.bin,
      beside: '',
      line: of.aisle === '' ? '' : `Aisle ${of.aisle}`,
      lineBeside: '',
      bars: [[ours(labelOfBin(of.bin))]],
    }
  const { kind, number: title, name: line } = of
  const gtin = isGtin(of.gtin) ? of.gtin : ''
  if (of.kind === 'part') {
    const bars = partBars === 'gtin' && gtin !== '' ? gtinBars(gtin) : ours(labelOfPart(title))
    return { kind, title, beside: '', line, lineBeside: gtin === '' ? '' : `GTIN ${gtin}`, bars: [[bars]] }
  }
  const good = of.expiresOn === null ? '' : `use by ${shortDate(of.expiresOn, locale)}`
  return {
    kind,
    title,
    beside: `lot ${of.lot}`,
    line,
    lineBeside: of.recalled ? 'RECALLED' : good,
    bars: [[ours(labelOfLot(title, of.lot))], [ours(labelOfPart(title)), ours(labelOfLotAlone(of.lot))]],
  }
}

const ours = (text: string): BarText => ({ text, read: text, gs1: false })

/** Application identifier 01, as GS1-128 (GS1 General Specifications, section 3). */
function gtinBars(gtin: string): BarText {
  const digits = gtin14(gtin)
  return { text: `01${digits}`, read: `(01)${digits}`, gs1: true }
}

/** What is not as one would expect of a label with so many rows of bars, in a sentence; null when nothing is. */
export function labelNote(of: Labelled, rows: number): string | null {
  if (rows === 0 && of.kind === 'lot')
    return `${of.number} with lot ${of.lot} is too long for bars that a scanner reads: its labels have words alone.`
  if (rows === 0)
    return `${of.kind === 'bin' ? of.bin : of.number} is too long for bars that a scanner reads: its labels have words alone.`
  if (rows > 1 && of.kind === 'lot')
    return `${of.number} with lot ${of.lot} takes two rows of bars: the upper says the part, the lower the lot.`
  if (of.kind === 'part' && of.gtin !== '' && !isGtin(of.gtin))
    return `The GTIN of ${of.number}, ${of.gtin}, does not add up: it is left out. Look at the part.`
  return null
}
