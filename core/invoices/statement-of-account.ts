import type { CalendarDate } from '../units/calendar-date.ts'
import { type Cents, cents, NO_MONEY } from '../units/money.ts'
import { type Age, ageing, type OpenAmount } from './ageing.ts'

/** Anything that moves a customer's account. `amount` is above zero: the kind says which way it goes. */
export interface AccountEntry {
  readonly on: CalendarDate
  readonly kind: 'invoice' | 'credit-note' | 'payment' | 'payment-undone'
  /** "Invoice 2026-00042", "Payment by bank transfer". */
  readonly words: string
  readonly amount: Cents
}

export interface StatementLine extends AccountEntry {
  /** What the customer owes after this entry; below zero is credit. */
  readonly balance: Cents
}

export interface StatementOfAccount {
  readonly from: CalendarDate
  readonly until: CalendarDate
  /** Owed when the period began. */
  readonly broughtForward: Cents
  readonly lines: readonly StatementLine[]
  readonly balance: Cents
  readonly ages: Readonly<Record<Age, Cents>>
  /** Paid above what was asked; part of the balance, below the ages. */
  readonly credit: Cents
}

const WAY: Readonly<Record<AccountEntry['kind'], 1 | -1>> = {
  invoice: 1,
  'credit-note': -1,
  payment: -1,
  'payment-undone': 1,
}
const ORDER: readonly AccountEntry['kind'][] = ['invoice', 'credit-note', 'payment', 'payment-undone']

/**
 * The account of one customer between two dates, both included. Entries before the period make up the amount brought forward; later ones are
 * left out. On one day: invoices, then credit notes, then payments. The ages are of what is open on the last day.
 */
export function statementOfAccount(
  entries: readonly AccountEntry[],
  open: readonly OpenAmount[],
  from: CalendarDate,
  until: CalendarDate,
): StatementOfAccount {
  const inOrder = [...entries].sort(
    (a, b) => compare(a.on, b.on) || ORDER.indexOf(a.kind) - ORDER.indexOf(b.kind) || compare(a.words, b.words),
  )
  let balance = 0
  let broughtForward = NO_MONEY
  const lines: StatementLine[] = []
  for (const entry of inOrder.filter((each) => each.on <= until)) {
    balance += WAY[entry.kind] * entry.amount
    if (entry.on < from) broughtForward = cents(balance)
    else lines.push({ ...entry, balance: cents(balance) })
  }
  const ages = ageing(open, until)
  const owed = Object.values(ages).reduce((sum, amount) => sum + amount, 0)
  return { from, until, broughtForward, lines, balance: cents(balance), ages, credit: cents(owed - balance) }
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}
