import { type CalendarDate, daysBetween } from '../units/calendar-date.ts'
import { counted, dayAndMonth, spanInWords } from '../units/date-words.ts'

/** What became of the pieces of an order line. Damaged pieces are not among the received ones. */
export interface LineCounts {
  /** Ordered. */
  readonly quantity: number
  readonly received: number
  /** Nobody waits for these any more. */
  readonly givenUp: number
}

/** Pieces that are still awaited; never below zero, however many came. */
export function openPieces({ quantity, received, givenUp }: LineCounts): number {
  return Math.max(0, quantity - received - givenUp)
}

/** Pieces beyond what was ordered. */
export function piecesOver({ quantity, received }: LineCounts): number {
  return Math.max(0, received - quantity)
}

export interface OrderToJudge {
  readonly state: 'draft' | 'sent' | 'received' | 'cancelled'
  readonly expectedOn: CalendarDate | null
  readonly lines: readonly LineCounts[]
}

/**
 * How an order stands. `part`: some have come, the rest is awaited and not late; `late`: pieces are awaited and their day is past,
 * whether some have come or not; `closed`: nothing is awaited any more.
 */
export type Standing = 'draft' | 'awaited' | 'part' | 'late' | 'closed' | 'cancelled'

export interface OrderStanding {
  readonly standing: Standing
  readonly ordered: number
  readonly received: number
  readonly givenUp: number
  readonly over: number
  /** Pieces still awaited; 0 unless the order was sent. */
  readonly open: number
  /** 0 unless it is late. */
  readonly daysLate: number
}

export function standingOf(order: OrderToJudge, today: CalendarDate): OrderStanding {
  const sum = (of: (line: LineCounts) => number): number => order.lines.reduce((all, line) => all + of(line), 0)
  const open = order.state === 'sent' ? sum(openPieces) : 0
  const received = sum((line) => line.received)
  const late = open > 0 && order.expectedOn !== null ? Math.max(0, daysBetween(order.expectedOn, today)) : 0
  return {
    standing: standingWord(order.state, { open, received, late }),
    ordered: sum((line) => line.quantity),
    received,
    givenUp: sum((line) => line.givenUp),
    over: sum(piecesOver),
    open,
    daysLate: late,
  }
}

function standingWord(
  state: OrderToJudge['state'],
  { open, received, late }: { readonly open: number; readonly received: number; readonly late: number },
): Standing {
  if (state === 'draft' || state === 'cancelled') return state
  if (state === 'received' || open === 0) return 'closed'
  if (late > 0) return 'late'
  return received > 0 ? 'part' : 'awaited'
}

/** How it stands, in words, shortest first: "8 days late", and below: "expected Nov 20, 7 of 12 pieces have come". */
export function standingWords(
  order: OrderStanding & { readonly expectedOn: CalendarDate | null },
  locale: string,
): { readonly first: string; readonly second: string } {
  const expected = order.expectedOn === null ? 'no day is known' : `expected ${dayAndMonth(order.expectedOn, locale)}`
  const came = `${order.received} of ${counted(order.ordered, 'piece')} came`
  switch (order.standing) {
    case 'draft':
      return { first: 'not sent yet', second: counted(order.ordered, 'piece') }
    case 'awaited':
      return { first: 'awaited', second: expected }
    case 'part':
      return { first: 'partly received', second: `${came}, the rest ${expected}` }
    case 'late':
      return {
        first: `${spanInWords(order.daysLate)} late`,
        second: order.received > 0 ? `${expected}, ${came}` : expected,
      }
    case 'cancelled':
      return { first: 'cancelled', second: order.received > 0 ? `${came} before that` : 'nothing had come' }
    case 'closed':
      return { first: order.received === 0 ? 'given up' : 'received', second: closedWords(order) }
  }
}

function closedWords({ received, givenUp, over }: OrderStanding): string {
  const said = [counted(received, 'piece')]
  if (over > 0) said.push(`${over} more than ordered`)
  if (givenUp > 0) said.push(`${givenUp} not waited for`)
  return said.join(', ')
}

/** What became of a line: "12 ordered, 7 received, 2 came damaged, 5 awaited". */
export function lineWords(line: LineCounts & { readonly damaged: number }, isAwaited: boolean): string {
  const said = [`${line.quantity} ordered`, `${line.received} received`]
  if (line.damaged > 0) said.push(`${line.damaged} came damaged`)
  const over = piecesOver(line)
  if (over > 0) said.push(`${over} more than ordered`)
  if (line.givenUp > 0) said.push(`${line.givenUp} not waited for`)
  const open = openPieces(line)
  if (isAwaited && open > 0) said.push(`${open} awaited`)
  return said.join(', ')
}
