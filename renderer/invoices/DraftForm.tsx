import { useMutation } from '@tanstack/react-query'
import { useState } from 'react'
import type { InvoiceSheet } from '../../core/invoices/invoices-contract.ts'
import { cents, formatCents, minorDigits } from '../../core/units/money.ts'
import { Button } from '../design/Button.tsx'
import { Decision } from '../design/Dialog.tsx'
import { EmptyPlace } from '../design/EmptyPlace.tsx'
import { TextField } from '../design/Field.tsx'
import { MoneyField } from '../design/MoneyField.tsx'
import { useOffice } from '../design/office-manner.ts'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SheetPart } from '../design/Sheet.tsx'
import { printPaper } from '../design/save-file.ts'
import { useSay } from '../design/undo.ts'
import { useDraft } from '../design/use-draft.ts'
import { ask, problemOf } from '../shell/office-door.ts'
import { useOfficeState } from '../shell/office-state.ts'
import { DraftLineFields } from './DraftLineFields.tsx'
import { emptyLine, readTyped, reckonTyped, type TypedDraft, typedOf } from './draft-form.ts'
import { InvoiceFoot } from './InvoiceFoot.tsx'

/** A draft as a form: its lines, what is taken off, the note. Reckoned as one types; saved, then issued. */
export function DraftForm({ invoice, onDropped }: { readonly invoice: InvoiceSheet; readonly onDropped: () => void }) {
  const { settings } = useOfficeState()
  const { draft, setDraft, discard, isChanged } = useDraft<TypedDraft>(
    `invoice-${invoice.invoiceId}-${invoice.version}`,
    typedOf(invoice),
  )
  const change = (part: Partial<TypedDraft>): void => setDraft((was) => ({ ...was, ...part }))
  const totals = reckonTyped(draft, minorDigits(invoice.currency))
  return (
    <>
      <Actions
        invoice={invoice}
        draft={draft}
        isChanged={isChanged}
        onSaved={discard}
        onDropped={onDropped}
        due={totals?.due ?? null}
      />
      <SheetPart title="Lines" aside={invoice.currency}>
        {draft.lines.length === 0 && <EmptyPlace why="This draft asks for nothing yet." todo="Add a line." />}
        {draft.lines.map((line, index) => (
          <DraftLineFields
            key={line.key}
            place={index + 1}
            line={line}
            onChange={(next) => change({ lines: draft.lines.map((each) => (each.key === line.key ? next : each)) })}
            onTakeOut={() => change({ lines: draft.lines.filter((each) => each.key !== line.key) })}
          />
        ))}
        <Button
          onPress={() => change({ lines: [...draft.lines, emptyLine(draft, settings.taxRate, invoice.taxExempt)] })}
        >
          Add a line
        </Button>
        {totals && (
          <InvoiceFoot invoice={{ kind: 'invoice', totals: { ...totals, taxByRate: [...totals.taxByRate] } }} />
        )}
      </SheetPart>
      <SheetPart title="The whole invoice">
        <div className="fields">
          <MoneyField
            label="Less, before tax"
            value={draft.allowance}
            onChange={(allowance) => change({ allowance })}
          />
          <TextField
            label="What for"
            value={draft.allowanceReason}
            onChange={(allowanceReason) => change({ allowanceReason })}
            placeholder="goodwill"
          />
          <TextField
            label="Their reference"
            value={draft.buyerReference}
            onChange={(buyerReference) => change({ buyerReference })}
            note="An order number, where they gave one."
          />
        </div>
        <TextField
          label={invoice.visitId === null ? 'Note' : 'What was done'}
          lines={4}
          value={draft.note}
          onChange={(note) => change({ note })}
          note="Stands below the sum."
        />
      </SheetPart>
    </>
  )
}

interface ActionsProps {
  readonly invoice: InvoiceSheet
  readonly draft: TypedDraft
  readonly isChanged: boolean
  readonly onSaved: () => void
  readonly onDropped: () => void
  readonly due: number | null
}

function Actions({ invoice, draft, isChanged, onSaved, onDropped, due }: ActionsProps) {
  const { currency, locale } = useOffice()
  const say = useSay()
  const [asks, setAsks] = useState<'issue' | 'drop' | null>(null)
  const save = useMutation(ask.invoices.saveDraft.mutationOptions())
  const issue = useMutation(ask.invoices.issue.mutationOptions())
  const drop = useMutation(ask.invoices.dropDraft.mutationOptions())
  const edited = readTyped(draft)
  const error = save.error ?? issue.error ?? drop.error
  const failure = error ? problemOf(error) : null
  const { invoiceId, version } = invoice
  return (
    <>
      <div className="form-foot">
        {isChanged ? (
          <Button
            kind="primary"
            isDisabled={edited === null || save.isPending}
            onPress={() => {
              if (edited === null) return
              save.mutate(
                { invoiceId, version, draft: edited },
                {
                  onSuccess: () => {
                    onSaved()
                    say({ said: 'The draft is saved.' })
                  },
                },
              )
            }}
          >
            Save the draft
          </Button>
        ) : (
          <Button kind="primary" isDisabled={issue.isPending} onPress={() => setAsks('issue')}>
            Issue 1 invoice
          </Button>
        )}
        {isChanged && <Button onPress={onSaved}>Put back what was saved</Button>}
        <Button isDisabled={isChanged} onPress={() => printPaper(`/papers/invoices/draft-${invoiceId}.pdf`)}>
          Look at the page
        </Button>
        <Button kind="quiet" onPress={() => setAsks('drop')}>
          Drop the draft
        </Button>
      </div>
      {isChanged && edited === null && (
        <p className="bold">A figure is missing or not understood; it is marked below.</p>
      )}
      {failure && <ProblemNote problem={failure} id={failure.id} kept="What you typed is still here." />}
      <Decision
        isOpen={asks === 'issue'}
        title={`Issue this invoice to ${invoice.customer}?`}
        doIt="Issue 1 invoice"
        leaveIt="Keep the draft"
        onLeaveIt={() => setAsks(null)}
        isBusy={issue.isPending}
        onDoIt={() =>
          issue.mutate(
            { invoiceIds: [invoiceId] },
            {
              onSettled: () => setAsks(null),
              onSuccess: ({ issued }) => say({ said: `Issued ${issued[0]?.number}.` }),
            },
          )
        }
      >
        <p>
          It asks for {due === null ? 'what stands below' : formatCents(cents(due), currency, locale)}, takes the next
          number of the year and can no longer be changed; a mistake is put right by a credit note.
        </p>
      </Decision>
      <Decision
        isOpen={asks === 'drop'}
        title={`Drop the draft for ${invoice.customer}?`}
        doIt="Drop the draft"
        leaveIt="Keep it"
        onLeaveIt={() => setAsks(null)}
        isBusy={drop.isPending}
        onDoIt={() =>
          drop.mutate(
            { invoiceId, version },
            {
              onSettled: () => setAsks(null),
              onSuccess: () => {
                onSaved()
                say({ said: 'The draft is dropped. It had no number, so none is missing.' })
                onDropped()
              },
            },
          )
        }
      >
        <p>Its lines go with it. The visit stays as it was recorded, and nothing is asked for it.</p>
      </Decision>
    </>
  )
}
