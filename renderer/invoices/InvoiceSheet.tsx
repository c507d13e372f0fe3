import { useMutation, useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import type { InvoiceSheet as Sheet } from '../../core/invoices/invoices-contract.ts'
import { type InvoiceId, invoiceIdSchema } from '../../core/units/ids.ts'
import { Button } from '../design/Button.tsx'
import { DataTable } from '../design/DataTable.tsx'
import { Decision } from '../design/Dialog.tsx'
import { EmptyPlace } from '../design/EmptyPlace.tsx'
import { Facts } from '../design/Facts.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SecondSheet, SheetPart } from '../design/Sheet.tsx'
import { printPaper, savePaper } from '../design/save-file.ts'
import { useSay } from '../design/undo.ts'
import { DateText, DistanceText, MoneyText } from '../design/Words.tsx'
import { ask, problemOf } from '../shell/office-door.ts'
import { useGoTo } from '../shell/open-record.ts'
import { CreditForm } from './CreditForm.tsx'
import { DraftForm } from './DraftForm.tsx'
import { InvoiceFoot } from './InvoiceFoot.tsx'
import { LINE_COLUMNS } from './invoice-columns.tsx'
import { PaymentForm } from './PaymentForm.tsx'
import { PaymentList } from './PaymentList.tsx'

interface InvoiceSheetProps {
  readonly invoiceId: number
  readonly onClose: () => void
  readonly onOpen: (key: string | null) => void
}

/** A draft, an invoice or a credit note beside the list. */
export function InvoiceSheet({ invoiceId, onClose, onOpen }: InvoiceSheetProps) {
  const key = invoiceIdSchema.safeParse(invoiceId)
  const found = useQuery(
    ask.invoices.open.queryOptions({ input: { invoiceId: key.data ?? (1 as InvoiceId) }, enabled: key.success }),
  )
  const invoice = found.data
  const failure = found.error ? problemOf(found.error) : null
  return (
    <SecondSheet
      title={invoice ? titleOf(invoice) : 'Invoice'}
      below={invoice && <BelowTitle invoice={invoice} onOpen={onOpen} />}
      onClose={onClose}
      backTo="the invoices"
    >
      {failure && <ProblemNote problem={failure} id={failure.id} onTryAgain={() => void found.refetch()} />}
      {!key.success && <EmptyPlace why="There is no such invoice." todo="Choose one from the list." />}
      {invoice?.state === 'draft' && invoice.kind === 'invoice' && (
        <DraftForm key={invoice.version} invoice={invoice} onDropped={onClose} />
      )}
      {invoice?.state === 'draft' && invoice.kind === 'credit-note' && (
        <DraftCreditNote invoice={invoice} onDropped={onClose} />
      )}
      {invoice?.state === 'issued' && <Issued invoice={invoice} onOpen={onOpen} />}
    </SecondSheet>
  )
}

function titleOf(invoice: Sheet): string {
  const name = invoice.kind === 'invoice' ? 'Invoice' : 'Credit note'
  return invoice.state === 'draft' ? `${name}, draft` : `${name} ${invoice.number}`
}

function BelowTitle({ invoice, onOpen }: { readonly invoice: Sheet; readonly onOpen: (key: string) => void }) {
  const goTo = useGoTo()
  return (
    <div className="invoice-below">
      <span>{invoice.customer}</span>
      <span>{invoice.reference}</span>
      {invoice.siteId !== null && (
        <Button kind="quiet" onPress={() => goTo('/households', String(invoice.siteId))}>
          Open the household
        </Button>
      )}
      <Button kind="quiet" onPress={() => onOpen(`account-${invoice.customerId}`)}>
        Open the account
      </Button>
    </div>
  )
}

function Issued({ invoice, onOpen }: { readonly invoice: Sheet; readonly onOpen: (key: string) => void }) {
  const [doing, setDoing] = useState<'payment' | 'credit' | null>(null)
  const isInvoice = invoice.kind === 'invoice'
  const canCredit = isInvoice && invoice.creditable.some((line) => line.left > 0)
  const address = `/papers/invoices/${invoice.number}.pdf`
  return (
    <>
      <Facts
        facts={[
          { label: 'Issued', value: invoice.issuedOn && <DateText date={invoice.issuedOn} /> },
          {
            label: 'To pay by',
            value: invoice.payBy && isInvoice && (
              <>
                <DateText date={invoice.payBy} /> {invoice.open > 0 && <DistanceText date={invoice.payBy} />}
              </>
            ),
          },
          {
            label: 'Open',
            value: isInvoice ? (
              invoice.open > 0 ? (
                <b>
                  <MoneyText cents={invoice.open} />
                </b>
              ) : (
                'nothing, it is settled'
              )
            ) : null,
          },
          {
            label: 'Corrects',
            value: invoice.corrects && (
              <Button kind="quiet" onPress={() => onOpen(String(invoice.corrects?.invoiceId))}>
                {invoice.corrects.number}
              </Button>
            ),
          },
          { label: 'Written to', value: <span className="address-lines">{invoice.buyerAddress}</span> },
          { label: 'Their reference', value: invoice.buyerReference },
        ]}
      />
      <div className="form-foot">
        {isInvoice && invoice.open > 0 && (
          <Button kind="primary" onPress={() => setDoing('payment')}>
            Record a payment
          </Button>
        )}
        <Button onPress={() => printPaper(address)}>Print</Button>
        <Button onPress={() => savePaper(`${address}?save=1`, `invoice-${invoice.number}.pdf`)}>Save as PDF</Button>
        {canCredit && <Button onPress={() => setDoing('credit')}>Write a credit note</Button>}
      </div>
      {doing === 'payment' && <PaymentForm invoice={invoice} onOver={() => setDoing(null)} />}
      {doing === 'credit' && (
        <CreditForm invoice={invoice} onOver={() => setDoing(null)} onDrafted={(key) => onOpen(String(key))} />
      )}
      <Lines invoice={invoice} />
      {invoice.note !== '' && (
        <SheetPart title={invoice.kind === 'credit-note' ? 'Why' : invoice.visitId === null ? 'Note' : 'What was done'}>
          <p className="address-lines">{invoice.note}</p>
        </SheetPart>
      )}
      {isInvoice && <PaymentList payments={invoice.payments} />}
      {invoice.creditNotes.length > 0 && (
        <SheetPart title="Credit notes">
          <ul>
            {invoice.creditNotes.map((note) => (
              <li key={note.invoiceId}>
                <Button kind="quiet" onPress={() => onOpen(String(note.invoiceId))}>
                  {note.state === 'draft' ? 'Draft' : note.number}
                </Button>{' '}
                <MoneyText cents={note.total} />
              </li>
            ))}
          </ul>
        </SheetPart>
      )}
    </>
  )
}

function Lines({ invoice }: { readonly invoice: Sheet }) {
  return (
    <SheetPart title="Lines" aside={invoice.currency}>
      <DataTable
        name="invoice-lines"
        label="Lines of the invoice"
        columns={LINE_COLUMNS}
        rows={invoice.lines}
        rowKey={(line) => String(line.position)}
        rowName={(line) => line.description}
        density="two-line"
        rowsInSight={Math.min(8, Math.max(1, invoice.lines.length))}
        bare
        empty={{ why: 'There are no lines.' }}
      />
      <InvoiceFoot invoice={invoice} />
    </SheetPart>
  )
}

function DraftCreditNote({ invoice, onDropped }: { readonly invoice: Sheet; readonly onDropped: () => void }) {
  const say = useSay()
  const [asks, setAsks] = useState(false)
  const issue = useMutation(ask.invoices.issue.mutationOptions())
  const drop = useMutation(ask.invoices.dropDraft.mutationOptions())
  const failure = issue.error ?? drop.error
  return (
    <>
      <p>
        Gives back <MoneyText cents={invoice.totals.due} /> of invoice {invoice.corrects?.number}.
      </p>
      {invoice.note !== '' && <p className="second">{invoice.note}</p>}
      {failure && (
        <ProblemNote problem={problemOf(failure)} id={problemOf(failure).id} kept="The draft is as it was." />
      )}
      <div className="form-foot">
        <Button kind="primary" isDisabled={issue.isPending} onPress={() => setAsks(true)}>
          Issue the credit note
        </Button>
        <Button onPress={() => printPaper(`/papers/invoices/draft-${invoice.invoiceId}.pdf`)}>Look at the page</Button>
        <Button
          kind="quiet"
          isDisabled={drop.isPending}
          onPress={() =>
            drop.mutate(
              { invoiceId: invoice.invoiceId, version: invoice.version },
              {
                onSuccess: () => {
                  say({ said: 'The draft of the credit note is dropped.' })
                  onDropped()
                },
              },
            )
          }
        >
          Drop the draft
        </Button>
      </div>
      <Decision
        isOpen={asks}
        title="Issue the credit note?"
        doIt="Issue 1 credit note"
        leaveIt="Keep the draft"
        onLeaveIt={() => setAsks(false)}
        onDoIt={() =>
          issue.mutate(
            { invoiceIds: [invoice.invoiceId] },
            {
              onSettled: () => setAsks(false),
              onSuccess: ({ issued }) => say({ said: `Issued credit note ${issued[0]?.number}.` }),
            },
          )
        }
      >
        <p>It takes the next number of the year and can no longer be changed.</p>
      </Decision>
      <Lines invoice={invoice} />
    </>
  )
}
