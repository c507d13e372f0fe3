import { useQuery } from '@tanstack/react-query'
import type { InvoiceOfVisit } from '../../core/invoices/invoices-contract.ts'
import type { VisitId } from '../../core/units/ids.ts'
import { Button } from '../design/Button.tsx'
import { SheetPart } from '../design/Sheet.tsx'
import { ask } from '../shell/office-door.ts'
import { useGoTo } from '../shell/open-record.ts'

/** What was billed for a visit. After a correction of something that had gone out: what is laid ready, and that nothing goes out by itself. */
export function VisitInvoices({ visitId }: { readonly visitId: VisitId }) {
  const found = useQuery(ask.invoices.ofVisit.queryOptions({ input: { visitId } }))
  const goTo = useGoTo()
  const invoices = found.data ?? []
  if (invoices.length === 0) return null
  const words = laidReady(invoices)
  return (
    <SheetPart title="What was billed">
      {words !== null && <p role="status">{words}</p>}
      <ul className="visit-invoices">
        {invoices.map((invoice) => (
          <li key={invoice.invoiceId}>
            <Button kind="quiet" onPress={() => goTo('/invoices', String(invoice.invoiceId))}>
              {nameOf(invoice, invoices)}
            </Button>
            <span className="second">{invoice.state === 'draft' ? 'a draft, to look at and issue' : 'issued'}</span>
          </li>
        ))}
      </ul>
    </SheetPart>
  )
}

const numberOf = (invoices: readonly InvoiceOfVisit[], invoiceId: number | null): string =>
  invoices.find((each) => each.invoiceId === invoiceId)?.number ?? ''

function nameOf(invoice: InvoiceOfVisit, all: readonly InvoiceOfVisit[]): string {
  if (invoice.kind === 'invoice') return invoice.number === '' ? 'Invoice' : `Invoice ${invoice.number}`
  return invoice.number === ''
    ? `Credit note for ${numberOf(all, invoice.correctsId)}`
    : `Credit note ${invoice.number} for ${numberOf(all, invoice.correctsId)}`
}

/** "Invoice 2026-00001 had gone out before the visit was corrected: a credit note for it and a new invoice are laid ready as drafts." */
function laidReady(invoices: readonly InvoiceOfVisit[]): string | null {
  const note = invoices.find((each) => each.kind === 'credit-note' && each.state === 'draft')
  if (!note) return null
  const isReplaced = invoices.some((each) => each.kind === 'invoice' && each.state === 'draft')
  const what = isReplaced ? 'a credit note for it and a new invoice are' : 'a credit note for it is'
  return `Invoice ${numberOf(invoices, note.correctsId)} had gone out before the visit was corrected: ${what} laid ready as ${isReplaced ? 'drafts' : 'a draft'}. Nothing goes out by itself.`
}
