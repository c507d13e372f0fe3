import { counted } from '../units/date-words.ts'
import { type LackInWords, losingWords } from './losing-words.ts'
import type { Shortage } from './pull-shapes.ts'

/**
 * Why a visit goes without a part that was promised to it, in sentences. `lack` is what keeps it from being served whole; null when
 * it is pulled for all the same, and this part is simply not there.
 */
export function whyWithout(short: Shortage, lack: LackInWords | null, locale: string): string {
  const there = short.quantity - short.missing
  if (there > 0)
    return `${counted(there, 'piece')} would be there, and not enough to serve the visit whole; ${there === 1 ? 'it stays' : 'they stay'} on the shelf.`
  return lack === null ? 'No other lot that may be fitted that day is free.' : losingWords([lack], locale)
}
