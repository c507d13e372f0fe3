import { counted } from '../units/date-words.ts'
import type { VisitId } from '../units/ids.ts'
import type { Lack, Shortage } from './pull-shapes.ts'

/** Why a visit goes without a part that was promised to it, in a sentence: nothing is left, or others have it. */
export function whyWithout(short: Shortage, lacks: readonly Lack[], household: (visitId: VisitId) => string): string {
  const lack = lacks.find((each) => each.partId === short.partId)
  const others = (lack?.servedInstead ?? []).map((each) => household(each.visitId)).filter((name) => name !== '')
  if (others.length > 0) return `What there is goes to ${others.join(', ')}, worth more that day.`
  const there = short.quantity - short.missing
  if (there > 0)
    return `${counted(there, 'piece')} would be there, and not enough to serve the visit whole; ${there === 1 ? 'it stays' : 'they stay'} on the shelf.`
  return 'No other lot that may be fitted that day is free.'
}
