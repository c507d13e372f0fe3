import { z } from 'zod'
import { procedure } from '../door.ts'
import { calendarDateSchema } from '../units/calendar-date.ts'
import {
  customerIdSchema,
  invoiceIdSchema,
  partIdSchema,
  paymentIdSchema,
  siteIdSchema,
  visitIdSchema,
  visitTaskIdSchema,
} from '../units/ids.ts'
import { centsSchema, taxRateSchema } from '../units/money.ts'
import { AGES } from './ageing.ts'
import { editedDraftSchema } from './draft-edit.ts'
import { documentAmountSchema, quantitySchema, taxCategorySchema, unitPriceSchema } from './invoice-lines.ts'

export const invoiceKindSchema = z.enum(['invoice', 'credit-note'])
export const PAYMENT_METHODS = ['bank transfer', 'cheque', 'card', 'cash', 'other'] as const
export const paymentMethodSchema = z.enum(PAYMENT_METHODS)

/** One row of the invoices screen. */
export const invoiceRowSchema = z.object({
  invoiceId: invoiceIdSchema,
  kind: invoiceKindSchema,
  state: z.enum(['draft', 'issued']),
  /** Empty while it is a draft. */
  number: z.string(),
  customerId: customerIdSchema,
  customer: z.string(),
  reference: z.string(),
  town: z.string(),
  draftedOn: calendarDateSchema,
  issuedOn: calendarDateSchema.nullable(),
  payBy: calendarDateSchema.nullable(),
  suppliedOn: calendarDateSchema.nullable(),
  lines: z.int(),
  /** With tax. */
  total: centsSchema,
  /** Still owed on it; below zero never. Nothing for drafts and credit notes. */
  open: centsSchema,
  currency: z.string(),
  /** The number of the invoice that a credit note corrects. */
  corrects: z.string(),
})
export type InvoiceRow = z.infer<typeof invoiceRowSchema>

const agesSchema = z.record(z.enum(AGES), centsSchema)

export const INVOICE_PILES = ['drafts', 'unpaid', 'paid', 'all'] as const
export const invoicePileSchema = z.enum(INVOICE_PILES)
export type InvoicePile = z.infer<typeof invoicePileSchema>

/** What a pile can be sorted by. */
export const INVOICE_SORTS = ['written', 'payBy', 'open', 'total', 'customer'] as const
export type InvoiceSort = (typeof INVOICE_SORTS)[number]
/** Only what a pile of any size is sorted by at once; the rest grows without end and stands in the order of its numbers. */
export const SORTS_OF_PILE: Readonly<Record<InvoicePile, readonly InvoiceSort[]>> = {
  drafts: ['written', 'customer', 'total'],
  unpaid: ['written', 'payBy', 'open', 'customer'],
  paid: ['written'],
  all: ['written'],
}

const afterSchema = z.object({ key: z.union([z.string(), z.number()]), id: invoiceIdSchema })
const listAskedSchema = z.object({
  pile: invoicePileSchema,
  search: z.string().max(100).default(''),
  sort: z.enum(INVOICE_SORTS).default('written'),
  descending: z.boolean().default(false),
  /** Where the page before ended. */
  after: afterSchema.nullable().default(null),
  limit: z.int().min(1).max(500).default(100),
})
export type InvoiceListAsked = z.infer<typeof listAskedSchema>

export const invoiceOfVisitSchema = z.object({
  invoiceId: invoiceIdSchema,
  kind: invoiceKindSchema,
  state: z.enum(['draft', 'issued']),
  /** Empty while it is a draft. */
  number: z.string(),
  /** The invoice that a credit note corrects. */
  correctsId: invoiceIdSchema.nullable(),
})
export type InvoiceOfVisit = z.infer<typeof invoiceOfVisitSchema>

const invoicePageSchema = z.object({ rows: z.array(invoiceRowSchema), next: afterSchema.nullable() })
export type InvoicePage = z.infer<typeof invoicePageSchema>

export const invoiceSumsSchema = z.object({
  drafts: z.int(),
  /** What the drafts of invoices ask for together, and the last of them: what lies below it is what was looked at. */
  draftsTotal: centsSchema,
  lastDraft: invoiceIdSchema.nullable(),
  unpaid: z.int(),
  /** What is owed to the office, by age. */
  ages: agesSchema,
})
export type InvoiceSums = z.infer<typeof invoiceSumsSchema>

export const invoiceLineSchema = z.object({
  position: z.int(),
  description: z.string(),
  unit: z.string(),
  quantity: quantitySchema,
  unitPrice: unitPriceSchema,
  allowance: centsSchema,
  charge: centsSchema,
  net: centsSchema,
  category: taxCategorySchema,
  rate: taxRateSchema,
  partId: partIdSchema.nullable(),
  visitTaskId: visitTaskIdSchema.nullable(),
})
export type InvoiceLine = z.infer<typeof invoiceLineSchema>

const totalsSchema = z.object({
  linesTogether: centsSchema,
  allowances: centsSchema,
  charges: centsSchema,
  withoutTax: centsSchema,
  taxByRate: z.array(
    z.object({ category: taxCategorySchema, rate: taxRateSchema, taxable: centsSchema, tax: centsSchema }),
  ),
  tax: centsSchema,
  withTax: centsSchema,
  prepaid: centsSchema,
  rounding: centsSchema,
  due: centsSchema,
})

const paymentOnInvoiceSchema = z.object({
  paymentId: paymentIdSchema,
  receivedOn: calendarDateSchema,
  amount: centsSchema,
  method: z.string(),
  note: z.string(),
  undone: z.boolean(),
})

/** An invoice, a draft or a credit note opened beside the list. */
export const invoiceSheetSchema = z.object({
  invoiceId: invoiceIdSchema,
  kind: invoiceKindSchema,
  state: z.enum(['draft', 'issued']),
  number: z.string(),
  version: z.int(),
  customerId: customerIdSchema,
  customer: z.string(),
  reference: z.string(),
  siteId: siteIdSchema.nullable(),
  visitId: visitIdSchema.nullable(),
  buyerAddress: z.string(),
  buyerReference: z.string(),
  note: z.string(),
  taxExempt: z.boolean(),
  currency: z.string(),
  draftedOn: calendarDateSchema,
  suppliedOn: calendarDateSchema.nullable(),
  issuedOn: calendarDateSchema.nullable(),
  payBy: calendarDateSchema.nullable(),
  lines: z.array(invoiceLineSchema),
  documentAmounts: z.array(documentAmountSchema),
  totals: totalsSchema,
  /** The invoice that this credit note corrects. */
  corrects: z.object({ invoiceId: invoiceIdSchema, number: z.string() }).nullable(),
  /** Credit notes written for this invoice, drafts among them. */
  creditNotes: z.array(
    z.object({
      invoiceId: invoiceIdSchema,
      number: z.string(),
      state: z.enum(['draft', 'issued']),
      total: centsSchema,
    }),
  ),
  payments: z.array(paymentOnInvoiceSchema),
  open: centsSchema,
  /** For each line: what can still be given back, in thousandths. */
  creditable: z.array(z.object({ position: z.int(), left: z.int() })),
})
export type InvoiceSheet = z.infer<typeof invoiceSheetSchema>

export const accountSchema = z.object({
  customerId: customerIdSchema,
  customer: z.string(),
  reference: z.string(),
  currency: z.string(),
  broughtForward: centsSchema,
  from: calendarDateSchema,
  until: calendarDateSchema,
  lines: z.array(
    z.object({
      on: calendarDateSchema,
      words: z.string(),
      kind: z.enum(['invoice', 'credit-note', 'payment', 'payment-undone']),
      amount: centsSchema,
      balance: centsSchema,
    }),
  ),
  balance: centsSchema,
  credit: centsSchema,
  ages: agesSchema,
  open: z.array(
    z.object({ invoiceId: invoiceIdSchema, number: z.string(), dueOn: calendarDateSchema, open: centsSchema }),
  ),
  payments: z.array(paymentOnInvoiceSchema),
})
export type Account = z.infer<typeof accountSchema>

/** As many drafts as are issued in one transaction: it holds the books for a few hundredths of a second. */
export const MOST_AT_ONCE = 25

/** What the work "issue-invoices" is asked: these drafts, or every draft up to the last one that was looked at. */
export const issueWorkSchema = z.union([
  z.object({ invoiceIds: z.array(invoiceIdSchema).min(1).max(5000) }),
  z.object({ upTo: invoiceIdSchema }),
])
export type IssueWorkInput = z.infer<typeof issueWorkSchema>

/** How a pile was issued: whatever has a number keeps it, the rest are drafts as before. */
export const issuedPileSchema = z.object({
  issued: z.int(),
  first: z.string(),
  last: z.string(),
  /** Drafts that could not be issued, with the reason in a sentence. */
  left: z.array(z.object({ invoiceId: invoiceIdSchema, why: z.string() })),
  /** Drafts that were not come to, because somebody pressed Stop. */
  notComeTo: z.int(),
})
export type IssuedPile = z.infer<typeof issuedPileSchema>

const one = z.object({ invoiceId: invoiceIdSchema })
const oneAsSeen = one.extend({ version: z.int() })
const issued = z.object({ invoiceId: invoiceIdSchema, number: z.string() })

/** Drafts, issued invoices, credit notes, payments, and who owes what. */
export const invoicesContract = {
  /** A page of one pile, by key. */
  list: procedure.input(listAskedSchema).output(invoicePageSchema),
  /** What all piles come to. */
  sums: procedure.output(invoiceSumsSchema),
  /** What was drafted and issued for a visit, oldest first. */
  ofVisit: procedure.input(z.object({ visitId: visitIdSchema })).output(z.array(invoiceOfVisitSchema)),
  open: procedure.input(one).output(invoiceSheetSchema),
  /** A draft written by hand, for a household; without lines yet. */
  startDraft: procedure.input(z.object({ siteId: siteIdSchema })).output(one),
  saveDraft: procedure.input(oneAsSeen.extend({ draft: editedDraftSchema })).output(z.object({ version: z.int() })),
  dropDraft: procedure.input(oneAsSeen).output(z.object({})),
  /** Issues the drafts that lie open, in the order given, all or none. Piles are issued by the work "issue-invoices". */
  issue: procedure
    .input(z.object({ invoiceIds: z.array(invoiceIdSchema).min(1).max(MOST_AT_ONCE) }))
    .output(z.object({ issued: z.array(issued) })),
  /** Drafts a credit note: for the whole of what is left, or by line (quantities in thousandths). */
  draftCreditNote: procedure
    .input(
      one.extend({
        reason: z.string().max(500),
        lines: z.array(z.object({ position: z.int(), quantity: z.int() })).nullable(),
      }),
    )
    .output(one),
  recordPayment: procedure
    .input(
      z.object({
        customerId: customerIdSchema,
        /** Paid first; null lays the payment on the oldest. */
        invoiceId: invoiceIdSchema.nullable(),
        amount: centsSchema,
        receivedOn: calendarDateSchema,
        method: paymentMethodSchema,
        note: z.string().max(300),
        /** What no invoice asks for is kept for the next one. */
        keepRest: z.boolean(),
      }),
    )
    .output(
      z.object({
        paymentId: paymentIdSchema,
        paid: z.array(z.object({ number: z.string(), amount: centsSchema, left: centsSchema })),
        credit: centsSchema,
      }),
    ),
  undoPayment: procedure
    .input(z.object({ paymentId: paymentIdSchema, reason: z.string().max(300) }))
    .output(z.object({})),
  account: procedure
    .input(z.object({ customerId: customerIdSchema, from: calendarDateSchema.nullable().default(null) }))
    .output(accountSchema),
}
