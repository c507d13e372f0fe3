import { addDays, type CalendarDate, daysBetween } from '../units/calendar-date.ts'
import { counted, shortDate, spanInWords } from '../units/date-words.ts'
import type { LotId, PartId, PlaceId } from '../units/ids.ts'
import type { Cents } from '../units/money.ts'

/** A lot at a place, with what is known of its counting. How many pieces lie there plays no part: whoever counts is not to guess it. */
export interface HeapToCount {
  readonly placeId: PlaceId
  readonly lotId: LotId
  readonly partId: PartId
  readonly walkOrder: number
  /** The day it was last counted; null when it never was. */
  readonly lastCountedOn: CalendarDate | null
  /** The day its lot came in: from then on it waits for its first count. */
  readonly since: CalendarDate
  /** What the last count differed by, either way; 0 when it agreed or there was none. */
  readonly lastDifference: number
  /** Movements into it and out of it in the last thirteen weeks. */
  readonly touched: number
  /** The day a pull found fewer here than the books said, or damaged ones, if that was after the last count. */
  readonly missedOn: CalendarDate | null
}

/** What was fitted of a part in a year, at its cost. */
export interface PartUse {
  readonly partId: PartId
  readonly usedValue: Cents
}

export interface CountRules {
  /** Weeks between two counts of the parts that make up most of what is used, of those that follow, and of all others. */
  readonly weeksMuch: number
  readonly weeksSome: number
  readonly weeksLittle: number
  /** From so many movements in thirteen weeks on, a heap is counted as often as one that is used more. */
  readonly busyFrom: number
  /** Heaps that can be counted in a week. */
  readonly heapsAWeek: number
}

export interface CountWeek {
  readonly today: CalendarDate
  readonly heaps: readonly HeapToCount[]
  readonly uses: readonly PartUse[]
  readonly rules: CountRules
  /** Heaps counted or begun to be counted since Monday: they take up the week's room. */
  readonly alreadyThisWeek: number
}

export interface ChosenHeap {
  readonly placeId: PlaceId
  readonly lotId: LotId
  readonly why: string
}

export interface WhatToCount {
  /** In the order of the walk. */
  readonly chosen: readonly ChosenHeap[]
  /** Due as well, but beyond the week's room. */
  readonly waiting: number
}

export type UseClass = 'much' | 'some' | 'little'

/** Four fifths of the value used, then up to nineteen twentieths (the usual split by Pareto's rule; common practice, no source). */
const SHARES = { much: 80, some: 95 } as const

/**
 * Parts by the value used in a year, largest first: the fewest that make up four fifths of it are used much, the next ones up to
 * 95 in 100 some, all others little; what is not used at all is used little.
 */
export function classesByUse(uses: readonly PartUse[]): Map<PartId, UseClass> {
  const whole = uses.reduce((sum, use) => sum + use.usedValue, 0)
  const sorted = [...uses].sort((a, b) => b.usedValue - a.usedValue || a.partId - b.partId)
  const classes = new Map<PartId, UseClass>()
  let before = 0
  for (const { partId, usedValue } of sorted) {
    const shareBefore = before * 100
    const isMuch = usedValue > 0 && shareBefore < SHARES.much * whole
    const isSome = usedValue > 0 && shareBefore < SHARES.some * whole
    classes.set(partId, isMuch ? 'much' : isSome ? 'some' : 'little')
    before += usedValue
  }
  return classes
}

/** How often a heap is counted, in days, and what makes it so. */
export interface CountInterval {
  readonly days: number
  readonly use: UseClass
  readonly busy: boolean
  readonly halved: boolean
}

export function countInterval(heap: HeapToCount, use: UseClass, rules: CountRules): CountInterval {
  const busy = use !== 'much' && heap.touched >= rules.busyFrom
  const weeks = { much: rules.weeksMuch, some: rules.weeksSome, little: rules.weeksLittle }
  const counts = busy ? weeks[use === 'little' ? 'some' : 'much'] : weeks[use]
  const halved = heap.lastDifference !== 0
  return { days: halved ? Math.ceil((counts * 7) / 2) : counts * 7, use, busy, halved }
}

interface Waiting {
  readonly heap: HeapToCount
  readonly interval: CountInterval
  /** Days since it was counted, or came in. */
  readonly days: number
  readonly usedValue: number
}

/**
 * What to count this week: whatever a pull missed, without limit; then what is due within seven days, those first that wait for the
 * most of their intervals, as long as there is room. Nothing waits for ever: whatever is left over waits for more of its interval next week.
 */
export function whatToCount(week: CountWeek, locale: string): WhatToCount {
  const classes = classesByUse(week.uses)
  const values = new Map(week.uses.map((use) => [use.partId, use.usedValue]))
  const waiting = week.heaps.map((heap) => ({
    heap,
    interval: countInterval(heap, classes.get(heap.partId) ?? 'little', week.rules),
    days: daysBetween(heap.lastCountedOn ?? heap.since, week.today),
    usedValue: values.get(heap.partId) ?? 0,
  }))
  const missed = waiting.filter(({ heap }) => heap.missedOn !== null)
  const due = waiting
    .filter(({ heap, days, interval }) => heap.missedOn === null && days + 6 >= interval.days)
    .sort(moreUrgentFirst)
  const room = Math.max(0, week.rules.heapsAWeek - week.alreadyThisWeek - missed.length)
  const chosen = [...missed, ...due.slice(0, room)]
    .sort(
      (a, b) => a.heap.walkOrder - b.heap.walkOrder || a.heap.placeId - b.heap.placeId || a.heap.lotId - b.heap.lotId,
    )
    .map((each) => ({ placeId: each.heap.placeId, lotId: each.heap.lotId, why: whyCounted(each, week.today, locale) }))
  return { chosen, waiting: Math.max(0, due.length - room) }
}

/** By how many times its interval it waits; then by what is used of its part; then as they lie. */
function moreUrgentFirst(a: Waiting, b: Waiting): number {
  return (
    b.days * a.interval.days - a.days * b.interval.days ||
    b.usedValue - a.usedValue ||
    a.heap.placeId - b.heap.placeId ||
    a.heap.lotId - b.heap.lotId
  )
}

const USE_WORDS: Readonly<Record<UseClass, string>> = {
  much: 'one of the parts that make up four fifths of what you use',
  some: 'one of the parts that are used now and then',
  little: 'a part that is little used',
}

/** Why a heap is counted, in whole sentences. */
function whyCounted({ heap, interval, days }: Waiting, today: CalendarDate, locale: string): string {
  if (heap.missedOn !== null)
    return `A pull found fewer here than the books say, on ${shortDate(heap.missedOn, locale)}.`
  const last =
    heap.lastCountedOn === null ? `Never counted; its lot came in ${ago(days)}.` : `Last counted ${ago(days)}.`
  const because = [USE_WORDS[interval.use]]
  if (interval.busy) because.push(`moved ${counted(heap.touched, 'time')} in 13 weeks`)
  if (interval.halved) because.push(`off by ${heap.lastDifference} the last time`)
  const dueOn = addDays(heap.lastCountedOn ?? heap.since, interval.days)
  const every = interval.days % 7 === 0 ? counted(interval.days / 7, 'week') : counted(interval.days, 'day')
  const when = dueOn < today ? `due since ${shortDate(dueOn, locale)}` : `due on ${shortDate(dueOn, locale)}`
  return `${last} It is ${because.join(', ')}: every ${every}, ${when}.`
}

const ago = (days: number): string => (days === 0 ? 'today' : `${spanInWords(days)} ago`)
