import { type CalendarDate, daysBetween } from '../units/calendar-date.ts'
import { agoInWords, counted, distanceInWords, spanInWords, weekdayAndDate } from '../units/date-words.ts'
import type { NextAction } from './desk-contract.ts'
import type { Tray } from './trays.ts'

/** What lies in the trays, counted. */
export interface TrayFacts {
  readonly today: CalendarDate
  readonly locale: string
  /** How far ahead the Due tray looks, days. */
  readonly dueDays: number
  readonly due: { readonly count: number; readonly oldest: CalendarDate | null }
  /** Letters owed today, by kind. */
  readonly letters: { readonly first: number; readonly second: number; readonly final: number }
  readonly bookings: { readonly count: number; readonly oldest: CalendarDate | null }
  /** The next day with visits, the vans still to be pulled for it, and the visits up to then that nobody has yet. */
  readonly pull: { readonly vans: number; readonly day: CalendarDate | null; readonly nobody: number }
  readonly visits: { readonly thisWeek: number; readonly today: number; readonly unrecorded: number }
  readonly invoices: { readonly drafts: number; readonly oldest: CalendarDate | null }
  /** `late`: sent orders that are past their day; `oldest`: the day that is past for longest. */
  readonly orders: { readonly short: number; readonly late: number; readonly oldest: CalendarDate | null }
}

/** The tray line: a count each, and what it is or its oldest piece, short. */
export function trayLine(facts: TrayFacts): Tray[] {
  const { today, due, letters, bookings, pull, visits, invoices, orders } = facts
  return [
    { tray: 'due', count: due.count, words: dueWords(due.oldest, today) },
    { tray: 'letters', count: lettersOwed(letters), words: letterWords(letters) },
    { tray: 'bookings', count: bookings.count, words: bookings.count === 0 ? 'nobody waits' : 'wait for a call back' },
    { tray: 'pull', count: pull.vans, words: pullWords(pull, today) },
    {
      tray: 'visits',
      count: visits.thisWeek,
      words: visits.unrecorded > 0 ? `${visits.unrecorded} to record` : `this week, ${visits.today} today`,
    },
    { tray: 'invoices', count: invoices.drafts, words: invoices.drafts === 0 ? 'no drafts' : 'drafts to look at' },
    { tray: 'orders', count: orders.short, words: orderWords(orders, today) },
  ]
}

function orderWords({ short, late, oldest }: TrayFacts['orders'], today: CalendarDate): string {
  if (oldest === null || late === 0) return short === 0 ? 'nothing short' : 'parts run short'
  if (short > 0) return `short, ${counted(late, 'order')} late`
  return late === 1 ? lateWords(late, oldest, today) : `${counted(late, 'order')} late`
}

/** "1 order 8 days late", "3 orders up to 2 weeks late". */
function lateWords(late: number, oldest: CalendarDate, today: CalendarDate): string {
  return `${counted(late, 'order')} ${late > 1 ? 'up to ' : ''}${distanceInWords(oldest, today)}`
}

function dueWords(oldest: CalendarDate | null, today: CalendarDate): string {
  if (oldest === null) return 'nothing due'
  return oldest < today ? `${distanceInWords(oldest, today)} at most` : `next ${distanceInWords(oldest, today)}`
}

/** "tomorrow", or the day itself: "Monday, Dec 7". */
function dayWords(day: CalendarDate, today: CalendarDate, locale: string): string {
  const away = daysBetween(today, day)
  return away === 0 ? 'today' : away === 1 ? 'tomorrow' : weekdayAndDate(day, locale)
}

function pullWords({ vans, day, nobody }: TrayFacts['pull'], today: CalendarDate): string {
  if (day === null) return 'nothing booked'
  if (vans === 0) return nobody === 0 ? 'all vans pulled' : `${counted(nobody, 'visit')} without a van`
  const away = daysBetween(today, day)
  return `${vans === 1 ? 'van' : 'vans'} for ${away === 0 ? 'today' : away === 1 ? 'tomorrow' : `${distanceInWords(day, today).replace(/^in /, '')} ahead`}`
}

/** Per tray the next sensible action, as a sentence with a verb, and what more there is to know. */
export function nextActions(facts: TrayFacts): NextAction[] {
  return [
    dueAction(facts),
    letterAction(facts),
    bookingAction(facts),
    pullAction(facts),
    visitAction(facts),
    invoiceAction(facts),
    orderAction(facts),
  ]
}

function dueAction({ due, dueDays, today }: TrayFacts): NextAction {
  const span = spanInWords(dueDays)
  if (due.count === 0)
    return {
      tray: 'due',
      sentence: `Nothing is due within ${span}`,
      detail: 'Look further ahead, or bring in a list of households.',
      isWaiting: false,
    }
  const detail =
    due.oldest !== null && due.oldest < today
      ? `The longest waiting is ${distanceInWords(due.oldest, today)}.`
      : 'None of them is late.'
  return {
    tray: 'due',
    sentence: `Look through ${counted(due.count, 'household')} due within ${span}`,
    detail,
    isWaiting: true,
  }
}

function lettersOwed({ first, second, final }: TrayFacts['letters']): number {
  return first + second + final
}

function letterWords(letters: TrayFacts['letters']): string {
  const owed = lettersOwed(letters)
  if (owed === 0) return 'none owed'
  return owed === letters.first ? 'first letters owed' : `owed, ${letters.first} are first`
}

function letterAction({ letters }: TrayFacts): NextAction {
  const { first, second, final } = letters
  const kinds: readonly (readonly [number, string])[] = [
    [first, 'first letter'],
    [second, 'second letter'],
    [final, 'final letter'],
  ]
  const owed = kinds.filter(([count]) => count > 0).map(([count, name]) => counted(count, name))
  if (owed.length === 0)
    return {
      tray: 'letters',
      sentence: 'No letter is owed',
      detail: 'A first one falls due a month before the work, the next after silence.',
      isWaiting: false,
    }
  const rest = owed.slice(1)
  return {
    tray: 'letters',
    sentence: `Write ${owed[0]}`,
    detail: rest.length > 0 ? `And ${rest.join(', ')}.` : 'Due soon, nothing booked, and not written to yet.',
    isWaiting: true,
  }
}

function bookingAction({ bookings, today }: TrayFacts): NextAction {
  if (bookings.count === 0)
    return {
      tray: 'bookings',
      sentence: 'Nobody waits for a booking',
      detail: 'Whoever was written to is booked.',
      isWaiting: false,
    }
  const detail =
    bookings.oldest !== null && bookings.oldest < today
      ? `The longest waiting is ${distanceInWords(bookings.oldest, today)}.`
      : 'All of them were written to.'
  return {
    tray: 'bookings',
    sentence: `Call ${counted(bookings.count, 'household')} for a day`,
    detail,
    isWaiting: true,
  }
}

function pullAction({ pull, today, locale }: TrayFacts): NextAction {
  if (pull.day === null)
    return {
      tray: 'pull',
      sentence: 'No van has to be pulled',
      detail: 'No visit is booked from today on.',
      isWaiting: false,
    }
  const day = dayWords(pull.day, today, locale)
  const nobody = `${counted(pull.nobody, 'visit')} ${pull.nobody === 1 ? 'has' : 'have'} nobody yet: nothing is pulled for ${pull.nobody === 1 ? 'it' : 'them'}.`
  if (pull.vans === 0 && pull.nobody > 0)
    return {
      tray: 'pull',
      sentence: `Give ${counted(pull.nobody, 'visit')} to somebody`,
      detail: `Every van is pulled for ${day}, but ${nobody}`,
      isWaiting: true,
    }
  if (pull.vans === 0) return { tray: 'pull', sentence: `Every van is pulled for ${day}`, detail: '', isWaiting: false }
  return {
    tray: 'pull',
    sentence: `Pull ${counted(pull.vans, 'van')} for ${day}`,
    detail: pull.nobody > 0 ? nobody : 'In the order of the bins, first expiry first.',
    isWaiting: true,
  }
}

function visitAction({ visits }: TrayFacts): NextAction {
  if (visits.unrecorded > 0)
    return {
      tray: 'visits',
      sentence: `Record ${counted(visits.unrecorded, 'finished visit')}`,
      detail: 'Until then the clocks of their stages stand still and no invoice is drafted.',
      isWaiting: true,
    }
  if (visits.thisWeek === 0)
    return {
      tray: 'visits',
      sentence: 'No visit is booked this week',
      detail: 'Book from the Bookings tray.',
      isWaiting: false,
    }
  const today = visits.today === 0 ? 'none of them today' : `${visits.today} of them today`
  return {
    tray: 'visits',
    sentence: `See ${counted(visits.thisWeek, 'visit')} of this week`,
    detail: `${today[0]?.toUpperCase() ?? ''}${today.slice(1)}.`,
    isWaiting: true,
  }
}

function invoiceAction({ invoices, today }: TrayFacts): NextAction {
  if (invoices.drafts === 0)
    return {
      tray: 'invoices',
      sentence: 'No draft waits',
      detail: 'Every recorded visit has its invoice.',
      isWaiting: false,
    }
  const detail = invoices.oldest === null ? '' : `The oldest was drafted ${agoInWords(invoices.oldest, today)}.`
  return { tray: 'invoices', sentence: `Issue ${counted(invoices.drafts, 'invoice')}`, detail, isWaiting: true }
}

function orderAction({ orders, today }: TrayFacts): NextAction {
  const { late, oldest } = orders
  const isLate = oldest === null || late === 0 ? '' : lateWords(late, oldest, today)
  if (orders.short === 0 && isLate !== '')
    return {
      tray: 'orders',
      sentence: `Ask after ${counted(late, 'late order')}`,
      detail: `Awaited: ${isLate}.`,
      isWaiting: true,
    }
  if (orders.short === 0)
    return {
      tray: 'orders',
      sentence: 'No part runs short',
      detail: 'What falls due is covered by what is there and on its way.',
      isWaiting: false,
    }
  return {
    tray: 'orders',
    sentence: `Order ${counted(orders.short, 'part')}`,
    detail: isLate === '' ? 'More stages fall due than pieces are there or on their way.' : `Awaited: ${isLate}.`,
    isWaiting: true,
  }
}
