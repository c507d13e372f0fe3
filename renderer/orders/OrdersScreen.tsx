import { useQuery } from '@tanstack/react-query'
import { counted } from '../../core/units/date-words.ts'
import { DataTable } from '../design/DataTable.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SecondSheet, Sheet, SheetPart, Sheets } from '../design/Sheet.tsx'
import { MoneyText } from '../design/Words.tsx'
import { ask, problemOf } from '../shell/office-door.ts'
import { useOpenRecord } from '../shell/open-record.ts'
import { DraftButtons } from './DraftButtons.tsx'
import { OrderSheet } from './OrderSheet.tsx'
import { OrdersPart } from './OrdersPart.tsx'
import { SHORT_COLUMNS, type ShortPart } from './order-columns.tsx'
import { SupplierSheet } from './SupplierSheet.tsx'
import { SuppliersPart } from './SuppliersPart.tsx'
import './orders.css'

/** What runs short and what to order of whom; the orders that are drafted and awaited. */
export function OrdersScreen() {
  const [open, setOpen] = useOpenRecord()
  const proposals = useQuery(ask.orders.proposals.queryOptions())
  const groups = proposals.data?.groups ?? []
  const short: ShortPart[] = groups.flatMap((group) =>
    group.proposals.map((row) => ({ ...row, supplier: group.supplier })),
  )
  const chosen = short.find((row) => open === `part-${row.part.partId}`)
  const orderId = Number(/^order-(\d+)$/.exec(open ?? '')?.[1] ?? 0)
  const close = (): void => setOpen(null)
  const suppliers = useQuery(ask.orders.suppliers.queryOptions())
  const supplier = suppliers.data?.find((each) => open === `supplier-${each.supplierId}`)
  const second = chosen ? (
    <Arithmetic row={chosen} onClose={close} />
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
        actions={<DraftButtons groups={groups} onDrafted={(id) => setOpen(`order-${id}`)} />}
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
        <OrdersPart open={open} onOpen={setOpen} />
        <SuppliersPart onOpen={setOpen} />
      </Sheet>
    </Sheets>
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
