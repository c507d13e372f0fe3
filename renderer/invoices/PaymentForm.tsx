import { useMutation } from '@tanstack/react-query'
import { type InvoiceSheet, PAYMENT_METHODS } from '../../core/invoices/invoices-contract.ts'
import type { CalendarDate } from '../../core/units/calendar-date.ts'
import type { PaymentId } from '../../core/units/ids.ts'
import { type Cents, formatCents } from '../../core/units/money.ts'
import { Button } from '../design/Button.tsx'
import { CheckField } from '../design/CheckField.tsx'
import { ChoiceField } from '../design/ChoiceField.tsx'
import { DateField } from '../design/DateField.tsx'
import { TextField } from '../design/Field.tsx'
import { MoneyField } from '../design/MoneyField.tsx'
import { useOffice } from '../design/office-manner.ts'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SheetPart } from '../design/Sheet.tsx'
import { useSay } from '../design/undo.ts'
import { useDraft } from '../design/use-draft.ts'
import { ask, problemOf } from '../shell/office-door.ts'

interface Typed {
  readonly amount: Cents | null
  readonly receivedOn: CalendarDate | null
  readonly method: (typeof PAYMENT_METHODS)[number]
  readonly note: string
  readonly keepRest: boolean
}

const METHOD_CHOICES = PAYMENT_METHODS.map((id) => ({ id, words: `${id.charAt(0).toUpperCase()}${id.slice(1)}` }))

/** Records what came in for an invoice. More than is owed is said first, and kept only when that is ticked. */
export function PaymentForm({ invoice, onOver }: { readonly invoice: InvoiceSheet; readonly onOver: () => void }) {
  const { today, currency, locale } = useOffice()
  const say = useSay()
  const initial: Typed = { amount: invoice.open, receivedOn: today, method: 'bank transfer', note: '', keepRest: false }
  const { draft, setDraft, discard } = useDraft<Typed>(`payment-${invoice.invoiceId}`, initial)
  const record = useMutation(ask.invoices.recordPayment.mutationOptions())
  const takeBack = useMutation(ask.invoices.undoPayment.mutationOptions())
  const failure = record.error ? problemOf(record.error) : null
  const { amount, receivedOn } = draft
  const isReady = amount !== null && receivedOn !== null
  const undo = (paymentId: PaymentId) => takeBack.mutateAsync({ paymentId, reason: 'recorded by mistake' })
  const doIt = (): void => {
    if (amount === null || receivedOn === null) return
    const { customerId, invoiceId } = invoice
    record.mutate(
      { ...draft, amount, receivedOn, customerId, invoiceId },
      {
        onSuccess: (laid) => {
          discard()
          onOver()
          say({ said: saidOf(laid, amount), undo: () => undo(laid.paymentId), undone: 'The payment is undone.' })
        },
      },
    )
  }
  const saidOf = (laid: { paid: { number: string }[]; credit: Cents }, sum: Cents): string => {
    const numbers = laid.paid.map((each) => each.number).join(', ')
    const rest = laid.credit > 0 ? `; ${formatCents(laid.credit, currency, locale)} kept as credit` : ''
    return `${formatCents(sum, currency, locale)} recorded for ${numbers || 'the account'}${rest}.`
  }
  return (
    <SheetPart title="Record a payment">
      <div className="fields">
        <MoneyField
          label="Amount"
          value={amount}
          onChange={(next) => setDraft((was) => ({ ...was, amount: next }))}
          autoFocus
        />
        <DateField
          label="Came in on"
          value={receivedOn}
          onChange={(next) => setDraft((was) => ({ ...was, receivedOn: next }))}
        />
        <ChoiceField
          label="How"
          choices={METHOD_CHOICES}
          value={draft.method}
          onChange={(method) => setDraft((was) => ({ ...was, method }))}
          chars={14}
        />
        <TextField
          label="Note"
          value={draft.note}
          onChange={(note) => setDraft((was) => ({ ...was, note }))}
          placeholder="cheque 1042"
        />
      </div>
      {(failure?.code === 'PAYMENT_ABOVE_OWED' || draft.keepRest) && (
        <CheckField value={draft.keepRest} onChange={(keepRest) => setDraft((was) => ({ ...was, keepRest }))}>
          Keep the rest as credit for the next invoice
        </CheckField>
      )}
      {failure && (
        <ProblemNote problem={failure} id={failure.id} kept="Nothing was recorded; what you typed is still here." />
      )}
      <div className="form-foot">
        <Button kind="primary" onPress={doIt} isDisabled={!isReady || record.isPending}>
          Record {amount === null ? 'the payment' : formatCents(amount, currency, locale)}
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
