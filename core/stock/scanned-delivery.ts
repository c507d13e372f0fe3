import type { CalendarDate } from '../units/calendar-date.ts'
import { gtin14, isGtin } from './gtin.ts'
import { readScan } from './scanned-code.ts'

/** What a scan at a delivery says. What it does not say is null. */
export interface DeliveryScan {
  readonly lot: string | null
  readonly expiresOn: CalendarDate | null
  /** The name of the bin whose label it is. */
  readonly bin: string | null
  /** Why it does not go with this delivery, with what to do. */
  readonly problem: string | null
}

const NOTHING: DeliveryScan = { lot: null, expiresOn: null, bin: null, problem: null }

/**
 * Reads what was scanned into the field of the lot while a part is received: a maker's code with lot and date, a label of ours, or
 * the label of the bin it goes to. Null for a plain text, which is a lot as somebody types it.
 */
export function deliveryOfScan(
  typed: string,
  part: { readonly number: string; readonly gtin: string },
  today: CalendarDate,
): DeliveryScan | null {
  const scan = readScan(typed, today)
  const not = (problem: string): DeliveryScan => ({ ...NOTHING, problem })
  switch (scan.kind) {
    case 'text':
      return null
    case 'spoilt':
      return not('This code does not add up. Scan it once more, or write the lot from the box.')
    case 'bin':
      return { ...NOTHING, bin: scan.bin }
    case 'lot':
      return { ...NOTHING, lot: scan.lot }
    case 'label':
      if (scan.partNumber !== part.number)
        return not(`This label is of ${scan.partNumber}, not of ${part.number}. Look at the box again.`)
      return scan.lot === null ? not('This label says the part and no lot.') : { ...NOTHING, lot: scan.lot }
    case 'gtin': {
      // A lot may be a number that happens to be a GTIN: without more in the code it is one only where the part has it.
      const own = isGtin(part.gtin) ? gtin14(part.gtin) : null
      if (scan.lot === null && scan.expiresOn === null && own !== scan.gtin) return null
      if (own !== null && own !== scan.gtin)
        return not(`This code is of GTIN ${scan.gtin}, not of ${part.number}. Look at the box again.`)
      if (scan.lot === null) return not('This code says the part and no lot. Scan the one with the lot, or write it.')
      return { ...NOTHING, lot: scan.lot, expiresOn: scan.expiresOn }
    }
  }
}
