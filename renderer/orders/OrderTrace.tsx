import type { OrderInFull } from '../../core/orders/order-shapes.ts'
import { SheetPart } from '../design/Sheet.tsx'
import { DateText } from '../design/Words.tsx'

/** What was done to the order, the latest first. */
export function OrderTrace({ trace }: { readonly trace: OrderInFull['trace'] }) {
  if (trace.length === 0) return null
  return (
    <SheetPart title="What happened">
      <ol className="order-trace">
        {trace.map((entry) => (
          <li key={entry.eventId}>
            <span className="small">
              <DateText date={entry.on} as="day" />
            </span>
            <span>
              {entry.sentence}
              {entry.details !== '' && <span className="second"> {entry.details}</span>}
              <span className="second small"> {entry.by}</span>
            </span>
          </li>
        ))}
      </ol>
    </SheetPart>
  )
}
