import { useMutation } from '@tanstack/react-query'
import { useState } from 'react'
import type { InvoiceSheet } from '../../core/invoices/invoices-contract.ts'
import { Button } from '../design/Button.tsx'
import { Decision } from '../design/Dialog.tsx'
import { TextField } from '../design/Field.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SheetPart } from '../design/Sheet.tsx'
import { useSay } from '../design/undo.ts'
import { DateText, MoneyText } from '../design/Words.tsx'
import { ask, problemOf } from '../shell/office-door.ts'

type Payment = InvoiceSheet['payments'][number]

/** What came in, and the way to undo an entry that was wrong. */
export function PaymentList({ payments }: { readonly payments: readonly Payment[] }) {
  const say = useSay()
  const [wrong, setWrong] = useState<Payment | null>(null)
  const [reason, setReason] = useState('')
  const undo = useMutation(ask.invoices.undoPayment.mutationOptions())
  return (
    <SheetPart title="Payments">
      {payments.length === 0 && <p className="second">Nothing has come in yet.</p>}
      <ul className="payments">
        {payments.map((payment) => (
          <li key={payment.paymentId}>
            <DateText date={payment.receivedOn} />
            <span>
              {payment.method}
              {payment.note !== '' && <span className="second">, {payment.note}</span>}
            </span>
            <span className="figures">
              {payment.undone ? (
                <s>
                  <MoneyText cents={payment.amount} />
                </s>
              ) : (
                <MoneyText cents={payment.amount} />
              )}
            </span>
            {payment.undone ? (
              <span className="second">undone</span>
            ) : (
              <Button kind="quiet" onPress={() => setWrong(payment)}>
                Undo
              </Button>
            )}
          </li>
        ))}
      </ul>
      <Decision
        isOpen={wrong !== null}
        title="Undo this payment?"
        doIt="Undo the payment"
        leaveIt="Keep it"
        onLeaveIt={() => setWrong(null)}
        isBusy={undo.isPending}
        onDoIt={() =>
          wrong &&
          undo.mutate(
            { paymentId: wrong.paymentId, reason },
            {
              onSuccess: () => {
                setWrong(null)
                setReason('')
                say({ said: 'The payment is undone; what it paid is owed again.' })
              },
            },
          )
        }
      >
        <p>A counter-entry is written beside it, and what it paid is owed again. Both stay on the account.</p>
        <TextField label="Why" value={reason} onChange={setReason} placeholder="the cheque was returned" />
        {undo.error && <ProblemNote problem={problemOf(undo.error)} id={problemOf(undo.error).id} />}
      </Decision>
    </SheetPart>
  )
}
