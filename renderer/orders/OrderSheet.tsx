import { useMutation, useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import type { OrderRow } from '../../core/orders/orders-contract.ts'
import { counted } from '../../core/units/date-words.ts'
import { Button } from '../design/Button.tsx'
import { Decision } from '../design/Dialog.tsx'
import { NumberField } from '../design/NumberField.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SecondSheet, SheetPart } from '../design/Sheet.tsx'
import { useSay } from '../design/undo.ts'
import { MoneyText } from '../design/Words.tsx'
import { ask, problemOf } from '../shell/office-door.ts'
import { DeliveryForm } from '../stock/DeliveryForm.tsx'

type Line = OrderRow['lines'][number]

/** An order: its lines to change while it is a draft, to receive once it was sent. */
export function OrderSheet({ order, onClose }: { readonly order: OrderRow; readonly onClose: () => void }) {
  const say = useSay()
  const [asks, setAsks] = useState(false)
  const onSuccess = (done: { readonly sentence: string }): void => say({ said: done.sentence })
  const send = useMutation({ ...ask.orders.send.mutationOptions(), onSuccess })
  const cancel = useMutation({ ...ask.orders.cancel.mutationOptions(), onSuccess })
  const failure = send.error ?? cancel.error
  const { orderId } = order
  const isOpen = order.state === 'draft' || order.state === 'sent'
  return (
    <SecondSheet
      title={`Order ${order.number}`}
      below={`${order.supplier}, ${counted(order.lines.length, 'line')}`}
      onClose={onClose}
      backTo="the orders"
    >
      <SheetPart title="Lines" aside={<MoneyText cents={order.cost} />}>
        {order.lines.map((line) =>
          order.state === 'draft' ? (
            <DraftLine key={`${line.lineId}/${order.version}`} order={order} line={line} />
          ) : (
            <AwaitedLine key={line.lineId} order={order} line={line} />
          ),
        )}
      </SheetPart>
      {failure !== null && <ProblemNote problem={problemOf(failure)} />}
      <div className="order-row">
        {order.state === 'draft' && (
          <Button kind="primary" onPress={() => send.mutate({ orderId })}>
            Mark order {order.number} as sent
          </Button>
        )}
        {isOpen && (
          <Button kind="quiet" onPress={() => setAsks(true)}>
            Cancel this order
          </Button>
        )}
      </div>
      <Decision
        isOpen={asks}
        title={`Cancel order ${order.number}?`}
        doIt={`Cancel order ${order.number}`}
        leaveIt="Keep it"
        onDoIt={() => {
          setAsks(false)
          cancel.mutate({ orderId })
        }}
        onLeaveIt={() => setAsks(false)}
      >
        <p>Nothing more is awaited from it. What has come already stays in stock. Tell {order.supplier} as well.</p>
      </Decision>
    </SecondSheet>
  )
}

function DraftLine({ order, line }: { readonly order: OrderRow; readonly line: Line }) {
  const [quantity, setQuantity] = useState<number | null>(line.quantity)
  const change = useMutation(ask.orders.changeDraft.mutationOptions())
  return (
    <div className="order-line">
      <div className="order-row">
        <div>
          {line.part.name} <span className="small">{line.part.number}</span>
          <div className="second small">{line.reason}</div>
        </div>
        <NumberField label="Pieces" note="0 takes the line out" value={quantity} onChange={setQuantity} chars={7} />
      </div>
      {change.error !== null && <ProblemNote problem={problemOf(change.error)} />}
      {quantity !== null && quantity !== line.quantity && (
        <div>
          <Button
            onPress={() =>
              change.mutate({
                orderId: order.orderId,
                version: order.version,
                lines: [{ lineId: line.lineId, quantity }],
              })
            }
          >
            {quantity === 0 ? 'Take this line out' : `Order ${quantity} instead of ${line.quantity}`}
          </Button>
        </div>
      )}
    </div>
  )
}

function AwaitedLine({ order, line }: { readonly order: OrderRow; readonly line: Line }) {
  const [receives, setReceives] = useState(false)
  const left = line.quantity - line.received
  return (
    <div className="order-line">
      <div className="order-row">
        <div>
          {line.part.name} <span className="small">{line.part.number}</span>
          <div className="second small">
            {line.quantity} ordered, {line.received} received
          </div>
        </div>
        {order.state === 'sent' && left > 0 && !receives && (
          <Button onPress={() => setReceives(true)}>Receive {counted(left, 'piece')}</Button>
        )}
      </div>
      {receives && <ReceiveLine order={order} line={line} left={left} onDone={() => setReceives(false)} />}
    </div>
  )
}

interface ReceiveLineProps {
  readonly order: OrderRow
  readonly line: Line
  readonly left: number
  readonly onDone: () => void
}

function ReceiveLine({ order, line, left, onDone }: ReceiveLineProps) {
  const say = useSay()
  const part = useQuery(ask.stock.part.queryOptions({ input: { partId: line.part.partId } }))
  const receive = useMutation({
    ...ask.orders.receive.mutationOptions(),
    onSuccess: (done) => say({ said: done.sentence }),
  })
  const keys = { orderId: order.orderId, lineId: line.lineId }
  return (
    <DeliveryForm
      name={`receive-line-${line.lineId}`}
      awaited={left}
      usual={part.data?.bins[0]?.placeId}
      error={receive.error}
      isBusy={receive.isPending}
      onReceive={(delivery, over) => receive.mutate({ ...keys, ...delivery }, { onSuccess: over })}
      onDone={onDone}
    />
  )
}
