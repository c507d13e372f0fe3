import type { EditedDraft } from '../../core/invoices/draft-edit.ts'
import { quantity, type TaxCategory, unitPrice } from '../../core/invoices/invoice-lines.ts'
import { type InvoiceTotals, invoiceTotals } from '../../core/invoices/invoice-totals.ts'
import type { InvoiceSheet } from '../../core/invoices/invoices-contract.ts'
import { spreadAllowance } from '../../core/invoices/spread-allowance.ts'
import type { PartId, VisitTaskId } from '../../core/units/ids.ts'
import { addCents, type Cents, NO_MONEY, type TaxRate, taxRate } from '../../core/units/money.ts'

/** A line while someone types: figures as people write them, null where nothing is understood. */
export interface TypedLine {
  readonly key: string
  readonly description: string
  readonly unit: string
  readonly pieces: number | null
  readonly price: number | null
  readonly allowance: Cents | null
  readonly category: TaxCategory
  /** Percent. */
  readonly percent: number | null
  readonly partId: PartId | null
  readonly visitTaskId: VisitTaskId | null
}

export interface TypedDraft {
  readonly lines: readonly TypedLine[]
  readonly allowance: Cents | null
  readonly allowanceReason: string
  readonly note: string
  readonly buyerReference: string
}

export function typedOf(invoice: InvoiceSheet): TypedDraft {
  return {
    lines: invoice.lines.map((line) => ({
      key: `line-${line.position}`,
      description: line.description,
      unit: line.unit,
      pieces: line.quantity / 1000,
      price: line.unitPrice / 10_000,
      allowance: line.allowance,
      category: line.category,
      percent: line.rate / 1000,
      partId: line.partId,
      visitTaskId: line.visitTaskId,
    })),
    allowance: invoice.totals.allowances,
    allowanceReason: invoice.documentAmounts[0]?.reason ?? '',
    note: invoice.note,
    buyerReference: invoice.buyerReference,
  }
}

export function emptyLine(draft: TypedDraft, rate: TaxRate, taxExempt: boolean): TypedLine {
  const last = draft.lines.reduce((most, line) => Math.max(most, Number(/\d+$/.exec(line.key)?.[0] ?? 0)), 0)
  return {
    key: `line-${last + 1}`,
    description: '',
    unit: 'each',
    pieces: 1,
    price: null,
    allowance: NO_MONEY,
    category: taxExempt ? 'exempt' : 'standard',
    percent: taxExempt ? 0 : rate / 1000,
    partId: null,
    visitTaskId: null,
  }
}

/** The draft as it is handed to the office; null while a figure is missing. What it means is judged there. */
export function readTyped(draft: TypedDraft): EditedDraft | null {
  const lines: EditedDraft['lines'] = []
  for (const { key: _, pieces, price, percent, allowance, ...line } of draft.lines) {
    if (pieces === null || price === null || percent === null) return null
    lines.push({
      ...line,
      quantity: Math.round(pieces * 1000),
      unitPrice: Math.round(price * 10_000),
      rate: Math.round(percent * 1000),
      allowance: allowance ?? NO_MONEY,
    })
  }
  const { allowance, allowanceReason, note, buyerReference } = draft
  return { lines, allowance: allowance ?? NO_MONEY, allowanceReason, note, buyerReference }
}

/** The foot while one types; null while a figure is missing or cannot be. */
export function reckonTyped(draft: TypedDraft, digits: number): InvoiceTotals | null {
  const edited = readTyped(draft)
  if (
    !edited ||
    edited.lines.some(
      (line) =>
        line.rate < 0 ||
        line.rate > 100_000 ||
        Math.abs(line.quantity) > 1_000_000_000 ||
        Math.abs(line.unitPrice) > 100_000_000_000,
    )
  )
    return null
  const lines = edited.lines.map((line) => ({
    ...line,
    quantity: quantity(line.quantity),
    unitPrice: unitPrice(line.unitPrice),
    charge: NO_MONEY,
    rate: taxRate(line.category === 'standard' ? line.rate : 0),
  }))
  const documentAmounts = spreadAllowance(addCents(edited.allowance), edited.allowanceReason, lines, digits)
  return invoiceTotals({ lines, documentAmounts, minorDigits: digits })
}
