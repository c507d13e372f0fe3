import { useQuery } from '@tanstack/react-query'
import type { OrderInFull } from '../../core/orders/order-shapes.ts'
import { counted } from '../../core/units/date-words.ts'
import { purchaseOrderIdSchema } from '../../core/units/ids.ts'
import { Facts } from '../design/Facts.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SecondSheet, SheetPart } from '../design/Sheet.tsx'
import { DateText, DistanceText, MoneyText } from '../design/Words.tsx'
import { ask, problemOf } from '../shell/office-door.ts'
import { DeliveryPart } from './DeliveryPart.tsx'
import { DraftOrder } from './DraftOrder.tsx'
import { OrderChanges } from './OrderChanges.tsx'
import { OrderReceipts } from './OrderReceipts.tsx'
import { OrderTrace } from './OrderTrace.tsx'
import { WaitingVisits } from './WaitingVisits.tsx'

/** An order: its lines to change while it is a draft, to receive once it was sent. */
export function OrderSheet({ orderId, onClose }: { readonly orderId: number; readonly onClose: () => void }) {
  const key = purchaseOrderIdSchema.parse(orderId)
  const found = useQuery(ask.orders.one.queryOptions({ input: { orderId: key } }))
  const order = found.data
  const failure = found.error ? problemOf(found.error) : null
  return (
    <SecondSheet
      title={order ? titleOf(order) : 'Order'}
      below={
        order &&
        (order.state === 'draft'
          ? counted(order.lineCount, 'line')
          : `${order.supplier}, ${counted(order.lineCount, 'line')}`)
      }
      onClose={onClose}
      backTo="the orders"
    >
      {failure && <ProblemNote problem={failure} id={failure.id} onTryAgain={() => void found.refetch()} />}
      {order?.state === 'draft' && <DraftOrder key={order.version} order={order} onDropped={onClose} />}
      {order && order.state !== 'draft' && <SentOrder order={order} onAgain={() => void found.refetch()} />}
    </SecondSheet>
  )
}

const titleOf = (order: OrderInFull): string =>
  order.state === 'draft' ? `Draft to ${order.supplier}` : `Order ${order.number}`

function SentOrder({ order, onAgain }: { readonly order: OrderInFull; readonly onAgain: () => void }) {
  const isOpen = order.state === 'sent'
  return (
    <>
      <div className="order-facts">
        <Facts
          facts={[
            {
              label: 'How it stands',
              value: (
                <>
                  <b>{order.words.first}</b>, {order.words.second}
                </>
              ),
            },
            { label: 'Why cancelled', value: order.cancelledReason },
            { label: 'Sent', value: order.sentOn && <DateText date={order.sentOn} /> },
            {
              label: 'Expected',
              value:
                isOpen && order.expectedOn !== null ? (
                  <>
                    <DateText date={order.expectedOn} as="visit" /> <DistanceText date={order.expectedOn} />
                  </>
                ) : null,
            },
            { label: 'Comes to', value: <MoneyText cents={order.cost} /> },
            { label: 'Charged', value: order.difference === 0 ? null : <ChargedWords order={order} /> },
            { label: 'Our remark', value: order.note },
          ]}
        />
      </div>
      <WaitingVisits waiting={order.waiting} />
      {isOpen ? (
        <DeliveryPart order={order} onAgain={onAgain} />
      ) : (
        <SheetPart title="Lines">
          {order.lines.map((line) => (
            <div key={line.lineId} className="order-line">
              <div>
                {line.part.name} <span className="small">{line.part.number}</span>
                <div className="second small">{line.words}</div>
              </div>
            </div>
          ))}
        </SheetPart>
      )}
      <OrderReceipts receipts={order.receipts} />
      <OrderChanges order={order} />
      <OrderTrace trace={order.trace} />
    </>
  )
}

function ChargedWords({ order }: { readonly order: OrderInFull }) {
  const { difference } = order
  return (
    <>
      <MoneyText cents={(difference < 0 ? -difference : difference) as typeof difference} />{' '}
      {difference > 0 ? 'more than ordered' : 'less than ordered'}
    </>
  )
}
