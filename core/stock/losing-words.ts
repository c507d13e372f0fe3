import type { CalendarDate } from '../units/calendar-date.ts'
import { counted, dayAndMonth } from '../units/date-words.ts'

/** A visit that has the pieces, as the words need it. */
export interface ServedInstead {
  readonly household: string
  readonly daysLate: number
  readonly promised: boolean
}

/** A part that keeps a visit from being served whole, as the words need it. */
export interface LackInWords {
  readonly part: string
  readonly missing: number
  readonly servedInstead: readonly ServedInstead[]
  /** Null when none is on order. */
  readonly nextDelivery: {
    readonly on: CalendarDate | null
    readonly quantity: number
    readonly orderNumber: string
  } | null
}

/** So many who were served instead are named; the others are counted. */
const NAMED = 3

/** Why a visit is not served: part by part what is short, who has the pieces, and when more comes. */
export function losingWords(lacks: readonly LackInWords[], locale: string): string {
  return lacks
    .map((lack) => `${lack.part} is ${lack.missing} short. ${whoHasThem(lack)} ${whenMoreComes(lack, locale)}`)
    .join(' ')
}

function whoHasThem({ servedInstead }: LackInWords): string {
  if (servedInstead.length === 0) return 'None that may be fitted that day is free.'
  const named = servedInstead.slice(0, NAMED).map((visit) => `${visit.household}${whyBefore(visit)}`)
  const more = servedInstead.length - named.length
  return `Served instead: ${named.join('; ')}${more > 0 ? `; and ${counted(more, 'more visit')}` : ''}.`
}

function whyBefore({ daysLate, promised }: ServedInstead): string {
  const late = daysLate > 0 ? `, ${counted(daysLate, 'day')} late` : ''
  return `${late}${promised ? ', has our word' : ''}`
}

function whenMoreComes({ nextDelivery }: LackInWords, locale: string): string {
  if (nextDelivery === null) return 'None is on order.'
  const { on, quantity, orderNumber } = nextDelivery
  return on === null
    ? `${quantity} are on order (${orderNumber}), without a date.`
    : `${quantity} arrive on ${dayAndMonth(on, locale)} (${orderNumber}).`
}
