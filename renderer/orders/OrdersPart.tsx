import { useMutation, useQuery } from '@tanstack/react-query'
import { counted } from '../../core/units/date-words.ts'
import { supplierIdSchema } from '../../core/units/ids.ts'
import { ChoiceField } from '../design/ChoiceField.tsx'
import { DataTable } from '../design/DataTable.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SheetPart } from '../design/Sheet.tsx'
import { useSay } from '../design/undo.ts'
import { ask, office, problemOf } from '../shell/office-door.ts'
import { ORDER_COLUMNS } from './order-columns.tsx'

interface OrdersPartProps {
  /** The key of the opened record. */
  readonly open: string | null
  readonly onOpen: (key: string) => void
}

/** The orders: drafts, then what is awaited with the longest late first, then what is done. */
export function OrdersPart({ open, onOpen }: OrdersPartProps) {
  const orders = useQuery(ask.orders.list.queryOptions())
  const late = orders.data?.filter((each) => each.daysLate > 0).length ?? 0
  return (
    <SheetPart title="Orders" aside={late > 0 ? <b>{counted(late, 'order is', 'orders are')} late</b> : undefined}>
      <BeginOrder onBegun={(orderId) => onOpen(`order-${orderId}`)} />
      <DataTable
        name="orders"
        label="Orders"
        columns={ORDER_COLUMNS}
        rows={orders.data ?? null}
        rowKey={(each) => `order-${each.orderId}`}
        rowName={(each) => each.number}
        density="two-line"
        rowsInSight={6}
        quiet={(each) => each.state === 'received' || each.state === 'cancelled'}
        marked={(each) => each.daysLate > 0}
        problem={orders.error ? problemOf(orders.error) : null}
        onTryAgain={() => void orders.refetch()}
        empty={{ why: 'Nothing was ordered yet.', todo: 'Draft an order from what runs short, or begin one by hand.' }}
        onOpen={(each) => onOpen(`order-${each.orderId}`)}
        openKey={open}
      />
    </SheetPart>
  )
}

/** An order that nothing proposed: an empty draft to a supplier. */
function BeginOrder({ onBegun }: { readonly onBegun: (orderId: number) => void }) {
  const say = useSay()
  const suppliers = useQuery(ask.orders.suppliers.queryOptions()).data ?? []
  const begin = useMutation({
    ...ask.orders.draft.mutationOptions(),
    onSuccess: ({ orderId, sentence }) => {
      say({
        said: sentence,
        undo: () => office.orders.cancel({ orderId, version: 1, reason: '' }),
        undone: 'The draft is dropped.',
      })
      onBegun(orderId)
    },
  })
  const open = suppliers.filter((each) => !each.closed)
  if (open.length === 0) return null
  return (
    <>
      <ChoiceField
        label="Begin an order to"
        choices={open.map((each) => ({ id: String(each.supplierId), words: each.name }))}
        value={null}
        onChange={(id) => begin.mutate({ supplierId: supplierIdSchema.parse(Number(id)), lines: [] })}
        unchosen="Choose a supplier"
        chars={24}
      />
      {begin.error && <ProblemNote problem={problemOf(begin.error)} />}
    </>
  )
}
