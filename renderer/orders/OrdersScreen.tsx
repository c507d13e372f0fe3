import { useQuery } from '@tanstack/react-query'
import { priceForQuantity } from '../../core/orders/order-quantity.ts'
import type { ProposalRow } from '../../core/orders/proposal-shapes.ts'
import { counted } from '../../core/units/date-words.ts'
import { cents } from '../../core/units/money.ts'
import { DataTable } from '../design/DataTable.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { Sheet, Sheets } from '../design/Sheet.tsx'
import { useDraft } from '../design/use-draft.ts'
import { ask, problemOf } from '../shell/office-door.ts'
import { useOpenRecord } from '../shell/open-record.ts'
import { DraftButtons } from './DraftButtons.tsx'
import { OrderSheet } from './OrderSheet.tsx'
import { OrdersPart } from './OrdersPart.tsx'
import { SHORT_COLUMNS, type ShortPart } from './order-columns.tsx'
import { ProposalSheet } from './ProposalSheet.tsx'
import { SupplierSheet } from './SupplierSheet.tsx'
import { SuppliersPart } from './SuppliersPart.tsx'
import './orders.css'
import './proposal.css'

/** Pieces that somebody chose instead of what is proposed, by part. */
type Quantities = Readonly<Record<string, number>>
const NONE_CHOSEN: Quantities = {}

function withQuantity(before: Quantities, { part, order }: ProposalRow, quantity: number | null): Quantities {
  const { [String(part.partId)]: _, ...others } = before
  return quantity === null || quantity === order ? others : { ...others, [part.partId]: quantity }
}

function shortPart(row: ProposalRow, supplier: string, quantities: Quantities): ShortPart {
  const chosen = quantities[row.part.partId] ?? row.order
  const price = priceForQuantity({ price: row.listPrice, breaks: row.breaks }, chosen)
  return { ...row, supplier, chosen, chosenCost: cents(chosen * price) }
}

/** What runs short and what to order of whom; the orders that are drafted and awaited. */
export function OrdersScreen() {
  const [open, setOpen] = useOpenRecord()
  const proposals = useQuery(ask.orders.proposals.queryOptions())
  const groups = proposals.data?.groups ?? []
  const { draft: quantities, setDraft: setQuantities } = useDraft<Quantities>('reorder-quantities', NONE_CHOSEN)
  const short = groups.flatMap((group) => group.proposals.map((row) => shortPart(row, group.supplier, quantities)))
  const chosen = short.find((row) => open === `part-${row.part.partId}`)
  const orderId = Number(/^order-(\d+)$/.exec(open ?? '')?.[1] ?? 0)
  const close = (): void => setOpen(null)
  const suppliers = useQuery(ask.orders.suppliers.queryOptions())
  const supplier = suppliers.data?.find((each) => open === `supplier-${each.supplierId}`)
  const second = chosen ? (
    <ProposalSheet
      key={chosen.part.partId}
      row={chosen}
      onQuantity={(quantity) => setQuantities((before) => withQuantity(before, chosen, quantity))}
      onClose={close}
    />
  ) : orderId > 0 ? (
    <OrderSheet key={orderId} orderId={orderId} onClose={close} />
  ) : supplier || open === 'supplier-new' ? (
    <SupplierSheet key={open} supplier={supplier ?? null} onClose={close} />
  ) : null
  const failure = proposals.error
  return (
    <Sheets second={second}>
      <Sheet
        title={short.length === 0 ? 'No part runs short' : `${counted(short.length, 'part runs', 'parts run')} short`}
        aside={proposals.data ? `enough of ${proposals.data.enough}` : undefined}
        actions={
          <DraftButtons
            groups={groups}
            chosen={quantities}
            onDrafted={(id) => {
              setQuantities(NONE_CHOSEN)
              setOpen(`order-${id}`)
            }}
          />
        }
      >
        {failure !== null && <ProblemNote problem={problemOf(failure)} onTryAgain={() => void proposals.refetch()} />}
        <DataTable
          name="short-parts"
          label="Parts that run short"
          columns={SHORT_COLUMNS}
          rows={proposals.data ? short : null}
          rowKey={(row) => `part-${row.part.partId}`}
          rowName={(row) => row.part.name}
          density="two-line"
          rowsInSight={Math.min(8, Math.max(1, short.length))}
          empty={{
            why: 'Everything that falls due or is booked until the next delivery is in stock or on order.',
            todo: 'Look again when visits are booked or parts are used.',
          }}
          onOpen={(row) => setOpen(`part-${row.part.partId}`)}
          openKey={open}
        />
        {groups
          .filter((group) => group.about !== '')
          .map((group) => (
            <p key={group.supplierId} className="order-about">
              <b>{group.supplier}.</b> {group.about}
            </p>
          ))}
        <OrdersPart open={open} onOpen={setOpen} />
        <SuppliersPart onOpen={setOpen} />
      </Sheet>
    </Sheets>
  )
}
