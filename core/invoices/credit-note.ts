import { type Cents, cents, divideHalfAwayFromZero, NO_MONEY } from '../units/money.ts'
import type { DraftLine } from './draft-invoice.ts'
import { type DocumentAmount, lineNet, quantity } from './invoice-lines.ts'
import { invoiceTotals } from './invoice-totals.ts'

/** A line that was invoiced, and how much of it earlier credit notes have given back already. */
export interface CreditableLine extends DraftLine {
  /** Its place on the invoice; the credit note's line keeps it, so that one can be held against the other. */
  readonly position: number
  /** In thousandths, as the quantity. */
  readonly creditedQuantity: number
  readonly creditedAllowance: Cents
  readonly creditedCharge: Cents
}

export interface CreditableInvoice {
  readonly lines: readonly CreditableLine[]
  readonly documentAmounts: readonly (PlacedAmount & { readonly credited: Cents })[]
  /** With tax and rounding, before anything was credited. */
  readonly owed: Cents
  /** What earlier credit notes came to, with tax and rounding. */
  readonly creditedTogether: Cents
  readonly minorDigits: number
}

export type PlacedLine = DraftLine & { readonly position: number }
export type PlacedAmount = DocumentAmount & { readonly position: number }

/** What a credit note holds. Amounts are positive: a credit note of 20.00 gives 20.00 back. */
export interface CreditNoteContent {
  readonly lines: readonly PlacedLine[]
  readonly documentAmounts: readonly PlacedAmount[]
  readonly rounding: Cents
}

/** Quantity to give back (thousandths), by the position of the line. */
export type CreditChoice = ReadonlyMap<number, number>

/** Everything that is not given back yet. */
export function creditWhole(invoice: CreditableInvoice): CreditNoteContent {
  return creditLines(
    invoice,
    new Map(invoice.lines.map((line) => [line.position, line.quantity - line.creditedQuantity])),
  )
}

/**
 * The credit note for the chosen quantities. A line's allowance, and the allowances and charges of the document at its rate, go back
 * in proportion; what is left over by rounding goes back with the last of it. When the choice ends the invoice, the difference in tax that
 * earlier part credits left behind is put in `rounding` (BT-114), so that invoice and credit notes cancel out to the cent.
 */
export function creditLines(invoice: CreditableInvoice, choice: CreditChoice): CreditNoteContent {
  const lines: PlacedLine[] = []
  invoice.lines.forEach((line) => {
    const given = choice.get(line.position) ?? 0
    if (given !== 0) lines.push(shareOfLine(line, given))
  })
  const endsIt = invoice.lines.every(
    (line) => (choice.get(line.position) ?? 0) === line.quantity - line.creditedQuantity,
  )
  const documentAmounts = invoice.documentAmounts
    .map(({ credited, ...each }) => {
      const rest = each.amount - credited
      const share = endsIt ? rest : Math.min(rest, shareOfAmount(each, invoice, lines))
      return { ...each, amount: cents(share) }
    })
    .filter((each) => each.amount > 0)
  const { withTax } = invoiceTotals({ lines, documentAmounts, minorDigits: invoice.minorDigits })
  const rest = invoice.owed - invoice.creditedTogether
  return { lines, documentAmounts, rounding: endsIt ? cents(rest - withTax) : NO_MONEY }
}

function shareOfLine(line: CreditableLine, given: number): PlacedLine {
  const { creditedQuantity, creditedAllowance, creditedCharge, ...plain } = line
  const endsLine = given === line.quantity - creditedQuantity
  const part = (amount: Cents, credited: Cents): Cents => {
    const rest = amount - credited
    if (endsLine) return cents(rest)
    return cents(Math.min(rest, divideHalfAwayFromZero(BigInt(amount) * BigInt(given), BigInt(line.quantity))))
  }
  return {
    ...plain,
    quantity: quantity(given),
    allowance: part(line.allowance, creditedAllowance),
    charge: part(line.charge, creditedCharge),
  }
}

function shareOfAmount(amount: DocumentAmount, invoice: CreditableInvoice, given: readonly DraftLine[]): number {
  const netAtRate = (lines: readonly DraftLine[]): number =>
    lines
      .filter((line) => line.rate === amount.rate && line.category === amount.category)
      .reduce((sum, line) => sum + lineNet(line, invoice.minorDigits), 0)
  const all = netAtRate(invoice.lines)
  const part = netAtRate(given)
  return all <= 0 || part <= 0 ? 0 : divideHalfAwayFromZero(BigInt(amount.amount) * BigInt(part), BigInt(all))
}
