import { useMutation } from '@tanstack/react-query'
import type { InvoiceSheet } from '../../core/invoices/invoices-contract.ts'
import type { InvoiceId } from '../../core/units/ids.ts'
import { Button } from '../design/Button.tsx'
import { TextField } from '../design/Field.tsx'
import { NumberField } from '../design/NumberField.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SheetPart } from '../design/Sheet.tsx'
import { useDraft } from '../design/use-draft.ts'
import { ask, problemOf } from '../shell/office-door.ts'

interface Typed {
  readonly reason: string
  /** Pieces to give back, by position. */
  readonly pieces: Readonly<Record<string, number | null>>
}

interface CreditFormProps {
  readonly invoice: InvoiceSheet
  readonly onOver: () => void
  readonly onDrafted: (invoiceId: InvoiceId) => void
}

/** A credit note for the whole of what is left, or for some of its lines. */
export function CreditForm({ invoice, onOver, onDrafted }: CreditFormProps) {
  const { draft, setDraft, discard } = useDraft<Typed>(`credit-${invoice.invoiceId}`, { reason: '', pieces: {} })
  const write = useMutation(ask.invoices.draftCreditNote.mutationOptions())
  const failure = write.error ? problemOf(write.error) : null
  const given = Object.entries(draft.pieces).flatMap(([position, pieces]) =>
    pieces === null || pieces === 0 ? [] : [{ position: Number(position), quantity: Math.round(pieces * 1000) }],
  )
  const doIt = (lines: typeof given | null): void =>
    write.mutate(
      { invoiceId: invoice.invoiceId, reason: draft.reason, lines },
      {
        onSuccess: ({ invoiceId }) => {
          discard()
          onOver()
          onDrafted(invoiceId)
        },
      },
    )
  return (
    <SheetPart title="Write a credit note">
      <TextField
        label="Why"
        value={draft.reason}
        onChange={(reason) => setDraft((was) => ({ ...was, reason }))}
        placeholder="the membrane came loose"
        note="Stands on the credit note."
        autoFocus
      />
      <ul className="credit-lines">
        {invoice.lines.map((line) => {
          const left = (invoice.creditable.find((each) => each.position === line.position)?.left ?? 0) / 1000
          return (
            <li key={line.position}>
              <span>
                {line.description}{' '}
                <span className="second small">{left === 0 ? 'given back already' : `${left} left`}</span>
              </span>
              <NumberField
                label={`Give back of line ${line.position}`}
                digits={3}
                value={draft.pieces[String(line.position)] ?? null}
                onChange={(pieces) =>
                  setDraft((was) => ({ ...was, pieces: { ...was.pieces, [String(line.position)]: pieces } }))
                }
                isDisabled={left === 0}
                chars={6}
              />
            </li>
          )
        })}
      </ul>
      {failure && (
        <ProblemNote problem={failure} id={failure.id} kept="Nothing was written; what you typed is still here." />
      )}
      <div className="form-foot">
        <Button kind="primary" onPress={() => doIt(given.length === 0 ? null : given)} isDisabled={write.isPending}>
          {given.length === 0
            ? 'Draft it for the whole invoice'
            : `Draft it for ${given.length} of ${invoice.lines.length} lines`}
        </Button>
        <Button
          onPress={() => {
            discard()
            onOver()
          }}
        >
          Leave it
        </Button>
      </div>
    </SheetPart>
  )
}
