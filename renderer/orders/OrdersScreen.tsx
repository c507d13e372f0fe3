import { useMutation, useQuery } from '@tanstack/react-query'
import type { SupplierProposals } from '../../core/orders/proposals-contract.ts'
import { counted } from '../../core/units/date-words.ts'
import { Button } from '../design/Button.tsx'
import { DataTable } from '../design/DataTable.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SecondSheet, Sheet, SheetPart, Sheets } from '../design/Sheet.tsx'
import { useSay } from '../design/undo.ts'
import { MoneyText } from '../design/Words.tsx'
import { ask, office, problemOf } from '../shell/office-door.ts'
import { useOpenRecord } from '../shell/open-record.ts'
import { OrderSheet } from './OrderSheet.tsx'
import { ORDER_COLUMNS, SHORT_COLUMNS, type ShortPart } from './order-columns.tsx'
import { SupplierSheet } from './SupplierSheet.tsx'
import './orders.css'

/** What runs short and what to order of whom; the orders that are drafted and awaited. */
export function OrdersScreen() {
  const [open, setOpen] = useOpenRecord()
  const proposals = useQuery(ask.orders.proposals.queryOptions())
  const orders = useQuery(ask.orders.list.queryOptions())
  const groups = proposals.data?.groups ?? []
  const short: ShortPart[] = groups.flatMap((group) =>
    group.proposals.map((row) => ({ ...row, supplier: group.supplier })),
  )
  const chosen = short.find((row) => open === `part-${row.part.partId}`)
  const order = orders.data?.find((each) => open === `order-${each.orderId}`)
  const close = (): void => setOpen(null)
  const suppliers = useQuery(ask.orders.suppliers.queryOptions())
  const supplier = suppliers.data?.find((each) => open === `supplier-${each.supplierId}`)
  const second = chosen ? (
    <Arithmetic row={chosen} onClose={close} />
  ) : order ? (
    <OrderSheet key={order.orderId} order={order} onClose={close} />
  ) : supplier || open === 'supplier-new' ? (
    <SupplierSheet key={open} supplier={supplier ?? null} onClose={close} />
  ) : null
  const failure = proposals.error ?? orders.error
  return (
    <Sheets second={second}>
      <Sheet
        title={short.length === 0 ? 'No part runs short' : `${counted(short.length, 'part runs', 'parts run')} short`}
        aside={proposals.data ? `enough of ${proposals.data.enough}` : undefined}
        actions={groups.map((group) => (
          <DraftButton key={group.supplierId} group={group} onDrafted={(id) => setOpen(`order-${id}`)} />
        ))}
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
        <SheetPart title="Orders">
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
            empty={{ why: 'Nothing was ordered yet.', todo: 'Draft an order from what runs short.' }}
            onOpen={(each) => setOpen(`order-${each.orderId}`)}
            openKey={open}
          />
        </SheetPart>
        <SheetPart
          title="Suppliers"
          aside={
            <Button kind="quiet" onPress={() => setOpen('supplier-new')}>
              Add a supplier
            </Button>
          }
        >
          {suppliers.data?.map((each) => (
            <p key={each.supplierId}>
              <Button kind="quiet" onPress={() => setOpen(`supplier-${each.supplierId}`)}>
                {each.name}
              </Button>{' '}
              <span className="second small">
                {[each.phone, `takes ${counted(each.leadTimeDays, 'day')}`].filter(Boolean).join(' · ')}
              </span>
            </p>
          ))}
          {suppliers.data?.length === 0 && <p className="second">Nobody sells you parts yet. Add a supplier first.</p>}
        </SheetPart>
      </Sheet>
    </Sheets>
  )
}

function DraftButton({
  group,
  onDrafted,
}: {
  readonly group: SupplierProposals
  readonly onDrafted: (orderId: number) => void
}) {
  const say = useSay()
  const draft = useMutation({
    ...ask.orders.draft.mutationOptions(),
    onSuccess: ({ orderId, sentence }) => {
      say({ said: sentence, undo: () => office.orders.cancel({ orderId }), undone: 'The draft is cancelled.' })
      onDrafted(orderId)
    },
  })
  const { supplierId } = group
  if (supplierId === null) return null
  const lines = group.proposals.map((row) => ({ partId: row.part.partId, quantity: row.order }))
  return (
    <Button onPress={() => draft.mutate({ supplierId, lines })} isDisabled={draft.isPending}>
      Draft {counted(lines.length, 'line')} to {group.supplier}
    </Button>
  )
}

/** The sum behind a proposal, line by line. */
function Arithmetic({ row, onClose }: { readonly row: ShortPart; readonly onClose: () => void }) {
  return (
    <SecondSheet title={row.part.name} below={row.part.number} onClose={onClose} backTo="what runs short">
      <p className="bold">{row.sentence}</p>
      <SheetPart title={`Why ${row.order}`}>
        <table className="order-sum">
          <tbody>
            {row.lines.map((line) => (
              <tr key={line.kind}>
                <td className="figure">{line.pieces < 0 ? `−${-line.pieces}` : line.pieces}</td>
                <td>{line.words}</td>
              </tr>
            ))}
            <tr className="bold">
              <td className="figure">{row.order}</td>
              <td>
                to order of {row.supplier}, <MoneyText cents={row.cost} />
              </td>
            </tr>
          </tbody>
        </table>
        <p className="second small">
          A first estimate: stages that fall due count by the share of letters that lead to a visit. How far the true
          number may stray is not weighed.
        </p>
      </SheetPart>
    </SecondSheet>
  )
}
