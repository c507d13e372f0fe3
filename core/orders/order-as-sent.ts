import type { CalendarDate } from '../units/calendar-date.ts'
import { longDate } from '../units/date-words.ts'
import { addCents, type Cents, cents, formatCents } from '../units/money.ts'
import { packsInWords } from './order-quantity.ts'

export interface SentLine {
  /** Our own number and name of the part, and the supplier's number; empty when it has none. */
  readonly number: string
  readonly name: string
  readonly supplierNumber: string
  readonly packSize: number
  readonly quantity: number
  readonly price: Cents
}

/** All that the paper of an order says, but for its number and its day. */
export interface OrderAsSent {
  readonly senderName: string
  /** Street and town, phone, mail. */
  readonly sender: readonly string[]
  readonly supplierAddress: readonly string[]
  /** The number under which the supplier knows the office; empty for none. */
  readonly account: string
  readonly deliverTo: readonly string[]
  readonly remark: string
  readonly expectedOn: CalendarDate | null
  readonly currency: string
  readonly locale: string
  readonly pageSize: 'letter' | 'a4'
  readonly windowEnvelope: 'us-10' | 'din-5008-b'
  readonly sentAt: string
  readonly by: string
  readonly lines: readonly SentLine[]
}

export function amountOf(line: Pick<SentLine, 'quantity' | 'price'>): Cents {
  return cents(line.quantity * line.price)
}

export function orderTotal(lines: readonly Pick<SentLine, 'quantity' | 'price'>[]): Cents {
  return addCents(...lines.map(amountOf))
}

/** "24 pieces (2 packs of 12)", "7 pieces". */
export function quantityWords({ quantity, packSize }: Pick<SentLine, 'quantity' | 'packSize'>): string {
  const pieces = packsInWords(quantity, 1)
  const packs = packsInWords(quantity, packSize)
  return packs === pieces ? pieces : `${pieces} (${packs})`
}

/** The order as plain text, to be copied into a mail: the same lines as the paper. */
export function orderAsText(order: OrderAsSent, number: string, on: CalendarDate): string {
  const { locale, currency } = order
  const money = (amount: Cents): string => formatCents(amount, currency, locale)
  const lines = order.lines.map((line, index) => {
    const theirs = line.supplierNumber === '' ? '' : `your number ${line.supplierNumber}, `
    return `${index + 1}. ${line.name} (${theirs}our number ${line.number}): ${quantityWords(line)} at ${money(line.price)}, ${money(amountOf(line))}`
  })
  const wanted = order.expectedOn === null ? [] : [`We expect it on ${longDate(order.expectedOn, locale)}.`]
  return [
    `Order ${number} of ${longDate(on, locale)}`,
    ...(order.account === '' ? [] : [`Our account with you: ${order.account}`]),
    '',
    ...lines,
    '',
    `Total: ${money(orderTotal(order.lines))}`,
    '',
    ...wanted,
    `Deliver to: ${order.deliverTo.join(', ')}`,
    ...(order.remark === '' ? [] : ['', order.remark]),
    '',
    order.senderName,
    ...order.sender,
  ].join('\n')
}
