import { z } from 'zod'
import { ok, type Result, refused } from '../result.ts'
import { partIdSchema, visitTaskIdSchema } from '../units/ids.ts'
import { type Cents, cents, centsSchema, formatCents, NO_MONEY, taxRate } from '../units/money.ts'
import type { DraftLine } from './draft-invoice.ts'
import { type DocumentAmount, lineNet, quantity, taxCategorySchema, unitPrice } from './invoice-lines.ts'
import { type InvoiceTotals, invoiceTotals } from './invoice-totals.ts'
import { spreadAllowance } from './spread-allowance.ts'

/** A line as the form hands it over: whole numbers, not yet judged. */
export const editedLineSchema = z.object({
  description: z.string().max(300),
  /** Thousandths. */
  quantity: z.int(),
  unit: z.string().max(20),
  /** Ten-thousandths of the currency unit. */
  unitPrice: z.int(),
  allowance: centsSchema,
  category: taxCategorySchema,
  /** Thousandths of a percent. */
  rate: z.int(),
  partId: partIdSchema.nullable(),
  visitTaskId: visitTaskIdSchema.nullable(),
})
export type EditedLine = z.infer<typeof editedLineSchema>

export const editedDraftSchema = z.object({
  lines: z.array(editedLineSchema).max(500),
  /** Taken off the whole invoice before tax, whole cents. */
  allowance: centsSchema,
  allowanceReason: z.string().max(200),
  note: z.string().max(2000),
  buyerReference: z.string().max(100),
})
export type EditedDraft = z.infer<typeof editedDraftSchema>

export interface JudgedDraft {
  readonly lines: readonly DraftLine[]
  readonly documentAmounts: readonly DocumentAmount[]
  readonly totals: InvoiceTotals
}

interface Money {
  readonly currency: string
  readonly locale: string
  readonly minorDigits: number
}

const MOST_PIECES = 1_000_000_000
const MOST_PRICE = 100_000_000_000

/**
 * Judges a draft that someone edited, and reckons it. Refuses, with the line, a quantity that is not above zero, a rate outside 0 to 100 %,
 * an allowance above its line or above the invoice, and a line without words. A draft without lines can be saved, but not issued.
 */
export function judgeDraft(draft: EditedDraft, money: Money): Result<JudgedDraft> {
  const lines: DraftLine[] = []
  for (const [index, edited] of draft.lines.entries()) {
    const judged = judgeLine(edited, index + 1, money)
    if (!judged.ok) return judged
    lines.push(judged.value)
  }
  const together = lines.reduce((sum, line) => sum + lineNet(line, money.minorDigits), 0)
  if (draft.allowance < 0 || draft.allowance > together) {
    return refused('INVOICE_ALLOWANCE_ABOVE_LINES', {
      allowance: formatCents(draft.allowance, money.currency, money.locale),
      together: formatCents(cents(together), money.currency, money.locale),
    })
  }
  const documentAmounts = spreadAllowance(draft.allowance, draft.allowanceReason.trim(), lines, money.minorDigits)
  return ok({
    lines,
    documentAmounts,
    totals: invoiceTotals({ lines, documentAmounts, minorDigits: money.minorDigits }),
  })
}

function judgeLine(edited: EditedLine, place: number, money: Money): Result<DraftLine> {
  if (edited.description.trim() === '') return refused('INVOICE_LINE_WITHOUT_WORDS', { line: place })
  if (edited.quantity <= 0)
    return refused('INVOICE_QUANTITY_NOT_ABOVE_ZERO', { line: place, quantity: edited.quantity / 1000 })
  if (edited.unitPrice < 0) return refused('INVOICE_PRICE_BELOW_ZERO', { line: place })
  if (edited.quantity > MOST_PIECES || edited.unitPrice > MOST_PRICE)
    return refused('INVOICE_LINE_TOO_LARGE', { line: place })
  if (edited.rate < 0 || edited.rate > 100_000) {
    return refused('INVOICE_TAX_RATE_OUTSIDE', { line: place, rate: edited.rate / 1000 })
  }
  const line: DraftLine = {
    description: edited.description.trim(),
    unit: edited.unit.trim(),
    quantity: quantity(edited.quantity),
    unitPrice: unitPrice(edited.unitPrice),
    allowance: edited.allowance,
    charge: NO_MONEY,
    category: edited.category,
    rate: taxRate(edited.category === 'standard' ? edited.rate : 0),
    partId: edited.partId,
    visitTaskId: edited.visitTaskId,
  }
  const before: Cents = lineNet({ ...line, allowance: NO_MONEY }, money.minorDigits)
  if (edited.allowance < 0 || edited.allowance > before) {
    return refused('INVOICE_LINE_ALLOWANCE_ABOVE_LINE', {
      line: place,
      allowance: formatCents(edited.allowance, money.currency, money.locale),
      before: formatCents(before, money.currency, money.locale),
    })
  }
  return ok(line)
}
