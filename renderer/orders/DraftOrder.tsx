import { useMutation, useQuery } from '@tanstack/react-query'
import { useMemo } from 'react'
import { orderTotal } from '../../core/orders/order-as-sent.ts'
import { lackToMinimum, priceForQuantity } from '../../core/orders/order-quantity.ts'
import type { OrderInFull, SoldPart } from '../../core/orders/order-shapes.ts'
import type { CalendarDate } from '../../core/units/calendar-date.ts'
import { cents } from '../../core/units/money.ts'
import { Button } from '../design/Button.tsx'
import { DateField } from '../design/DateField.tsx'
import { TextField } from '../design/Field.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SheetPart } from '../design/Sheet.tsx'
import { printPaper } from '../design/save-file.ts'
import { useSay } from '../design/undo.ts'
import { useDraft } from '../design/use-draft.ts'
import { MoneyText } from '../design/Words.tsx'
import { ask, office, problemOf } from '../shell/office-door.ts'
import { AddPart, DraftLines } from './DraftLines.tsx'
import { type DraftLine, linesOfOrder } from './draft-line.ts'

interface Typed {
  readonly lines: readonly DraftLine[]
  readonly note: string
  readonly expectedOn: CalendarDate | null
}

interface DraftOrderProps {
  readonly order: OrderInFull
  readonly onDropped: () => void
}

/** A draft: lines are added, changed and taken out; it is saved as it stands, or saved and sent. */
export function DraftOrder({ order, onDropped }: DraftOrderProps) {
  const say = useSay()
  const { orderId, version } = order
  const first = useMemo<Typed>(() => ({ lines: linesOfOrder(order), note: order.note, expectedOn: null }), [order])
  const { draft, setDraft, discard, isChanged } = useDraft<Typed>(`order-${orderId}-${version}`, first)
  const set = (change: Partial<Typed>): void => setDraft((before) => ({ ...before, ...change }))
  const sold = useQuery(ask.orders.soldBy.queryOptions({ input: { supplierId: order.supplierId } })).data ?? []
  const { lines, note, expectedOn } = draft
  const toSave = {
    orderId,
    version,
    note,
    lines: lines.map((line) => ({ ...line, quantity: line.quantity ?? 0 })),
  }
  const onSuccess = (done: { readonly sentence: string }): void => {
    discard()
    say({ said: done.sentence })
  }
  const save = useMutation({ mutationFn: () => office.orders.saveDraft(toSave), onSuccess })
  const send = useMutation({
    mutationFn: async () => {
      if (isChanged) await office.orders.saveDraft(toSave)
      return office.orders.send({ orderId, version: isChanged ? version + 1 : version, expectedOn })
    },
    onSuccess,
  })
  const drop = useMutation({
    ...ask.orders.cancel.mutationOptions(),
    onSuccess: (done) => {
      onSuccess(done)
      onDropped()
    },
  })
  const failure = save.error ?? send.error ?? drop.error
  const isBusy = save.isPending || send.isPending
  const total = orderTotal(lines.map((line) => ({ quantity: line.quantity ?? 0, price: priceOf(line, sold) })))
  const hasLines = lines.some((line) => (line.quantity ?? 0) > 0)
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault()
        if (isChanged && !isBusy) save.mutate()
      }}
    >
      <SheetPart title="Lines" aside={<MoneyText cents={total} />}>
        {lines.length === 0 && <p className="second">Nothing stands on it yet. Add a part.</p>}
        <DraftLines lines={lines} order={order} sold={sold} onChange={(next) => set({ lines: next })} />
        <AddPart
          sold={sold}
          lines={lines}
          onAdd={(line) => set({ lines: [...lines, line] })}
          supplier={order.supplier}
        />
        <Together order={order} total={total} />
      </SheetPart>
      <SheetPart title="What goes with it">
        <div className="order-line">
          <TextField
            label="Remark, printed on the order"
            value={note}
            onChange={(words) => set({ note: words })}
            lines={2}
          />
          <DateField
            label="Expected"
            value={expectedOn ?? order.wouldCome}
            onChange={(day) => set({ expectedOn: day })}
          />
        </div>
      </SheetPart>
      {failure && <ProblemNote problem={problemOf(failure)} kept="What you typed is still here." />}
      <div className="order-actions">
        <Button kind="primary" onPress={() => send.mutate()} isDisabled={!hasLines || isBusy}>
          Send the order of <MoneyText cents={total} />
        </Button>
        <Button type="submit" isDisabled={!isChanged || isBusy}>
          Save the draft
        </Button>
        <Button isDisabled={isChanged || !hasLines} onPress={() => printPaper(`/papers/orders/${orderId}.pdf`)}>
          Look at the page
        </Button>
        <Button kind="quiet" onPress={() => drop.mutate({ orderId, version, reason: '' })} isDisabled={isBusy}>
          Drop this draft
        </Button>
      </div>
      <p className="second small">
        Sending gives it its number and day; print it then, or copy it into a mail. Its lines stand from then on.
      </p>
    </form>
  )
}

function priceOf(line: DraftLine, sold: readonly SoldPart[]) {
  const terms = sold.find((each) => each.part.partId === line.partId)
  return line.price ?? (terms ? priceForQuantity(terms, line.quantity ?? 0) : cents(0))
}

function Together({ order, total }: { readonly order: OrderInFull; readonly total: ReturnType<typeof cents> }) {
  const lacks = lackToMinimum(total, order.minimumOrder)
  return (
    <p className="order-together" aria-live="polite">
      Together <MoneyText cents={total} />.{' '}
      {order.minimumOrder > 0 &&
        (lacks > 0 ? (
          <b>
            <MoneyText cents={lacks} /> is missing to the least order of <MoneyText cents={order.minimumOrder} />.
          </b>
        ) : (
          <>
            That reaches the least order of <MoneyText cents={order.minimumOrder} />.
          </>
        ))}
    </p>
  )
}
