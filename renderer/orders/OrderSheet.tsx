import { useMutation, useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import type { OrderRow } from '../../core/orders/orders-contract.ts'
import type { CalendarDate } from '../../core/units/calendar-date.ts'
import { counted } from '../../core/units/date-words.ts'
import { placeIdSchema } from '../../core/units/ids.ts'
import { Button } from '../design/Button.tsx'
import { CheckField } from '../design/CheckField.tsx'
import { ChoiceField } from '../design/ChoiceField.tsx'
import { DateField } from '../design/DateField.tsx'
import { Decision } from '../design/Dialog.tsx'
import { TextField } from '../design/Field.tsx'
import { NumberField } from '../design/NumberField.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SecondSheet, SheetPart } from '../design/Sheet.tsx'
import { useSay } from '../design/undo.ts'
import { useDraft } from '../design/use-draft.ts'
import { MoneyText } from '../design/Words.tsx'
import { ask, problemOf } from '../shell/office-door.ts'

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
          <Button onPress={() => setReceives(true)}>Receive {left} pieces</Button>
        )}
      </div>
      {receives && <ReceiveLine order={order} line={line} left={left} onDone={() => setReceives(false)} />}
    </div>
  )
}

interface Draft {
  readonly lot: string
  readonly expiresOn: CalendarDate | null
  readonly quantity: number | null
  readonly place: string | null
  readonly furtherDelivery: boolean
}

function ReceiveLine({
  order,
  line,
  left,
  onDone,
}: {
  readonly order: OrderRow
  readonly line: Line
  readonly left: number
  readonly onDone: () => void
}) {
  const say = useSay()
  const places = useQuery(ask.stock.places.queryOptions())
  const part = useQuery(ask.stock.part.queryOptions({ input: { partId: line.part.partId } }))
  const usual = part.data?.bins[0]?.placeId
  const first: Draft = { lot: '', expiresOn: null, quantity: left, place: null, furtherDelivery: false }
  const { draft, setDraft, discard } = useDraft<Draft>(`receive-line-${line.lineId}`, first)
  const receive = useMutation({
    ...ask.orders.receive.mutationOptions(),
    onSuccess: (done) => {
      say({ said: done.sentence })
      discard()
      onDone()
    },
  })
  const failure = receive.error === null ? null : problemOf(receive.error)
  const place = draft.place ?? (usual === undefined ? null : String(usual))
  const placeId = placeIdSchema.safeParse(Number(place))
  const save = (): void => {
    const { lot, expiresOn, quantity, furtherDelivery } = draft
    const { orderId } = order
    if (placeId.success && quantity !== null)
      receive.mutate({ orderId, lineId: line.lineId, lot, expiresOn, quantity, placeId: placeId.data, furtherDelivery })
  }
  return (
    <div className="order-line">
      <div className="order-row">
        <TextField
          label="Lot, as on the box"
          value={draft.lot}
          onChange={(lot) => setDraft({ ...draft, lot })}
          chars={14}
        />
        <DateField
          label="Good until"
          value={draft.expiresOn}
          onChange={(expiresOn) => setDraft({ ...draft, expiresOn })}
          chars={13}
        />
        <NumberField
          label="Pieces"
          value={draft.quantity}
          onChange={(quantity) => setDraft({ ...draft, quantity })}
          chars={6}
        />
        <ChoiceField
          label="Into"
          choices={(places.data?.places ?? [])
            .filter((each) => each.kind === 'bin' && each.closedOn === null)
            .map((each) => ({ id: String(each.placeId), words: each.name }))}
          value={place}
          onChange={(chosen) => setDraft({ ...draft, place: chosen })}
          unchosen="Choose a bin"
          chars={12}
        />
      </div>
      {failure !== null && <ProblemNote problem={failure} kept="What you typed is still here." />}
      {(failure?.code === 'STOCK_LOT_KNOWN' || draft.furtherDelivery) && (
        <CheckField
          value={draft.furtherDelivery}
          onChange={(furtherDelivery) => setDraft({ ...draft, furtherDelivery })}
        >
          a further delivery of the same lot
        </CheckField>
      )}
      <div>
        <Button kind="primary" onPress={save} isDisabled={!placeId.success || draft.quantity === null}>
          Receive {draft.quantity ?? ''} pieces
        </Button>
      </div>
    </div>
  )
}
