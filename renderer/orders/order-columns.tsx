import type { OrderRow } from '../../core/orders/orders-contract.ts'
import type { ProposalRow } from '../../core/orders/proposals-contract.ts'
import type { TableColumn } from '../design/table-columns.ts'
import { DateText, MoneyText, TwoLines } from '../design/Words.tsx'

/** A part that runs short, with the name of who sells it. */
export interface ShortPart extends ProposalRow {
  readonly supplier: string
}

export const SHORT_COLUMNS: readonly TableColumn<ShortPart>[] = [
  {
    id: 'part',
    header: 'Part',
    value: (row) => row.part.name,
    cell: (row) => <TwoLines first={<b>{row.part.name}</b>} second={row.part.number} />,
    width: { share: 2, least: 170 },
    fixed: true,
  },
  { id: 'short', header: 'Short', value: (row) => row.short, width: 58, figures: true },
  {
    id: 'order',
    header: 'Order',
    value: (row) => row.order,
    cell: (row) => <b>{row.order}</b>,
    width: 58,
    figures: true,
  },
  {
    id: 'supplier',
    header: 'Of whom',
    value: (row) => row.supplier,
    cell: (row) => (
      <TwoLines first={row.supplier} second={row.packSize > 1 ? `packs of ${row.packSize}` : 'single pieces'} />
    ),
    width: { share: 1, least: 130 },
  },
  {
    id: 'cost',
    header: 'Cost',
    value: (row) => row.cost,
    cell: (row) => <MoneyText cents={row.cost} bare />,
    width: 88,
    figures: true,
  },
]

const STATE_WORDS: Readonly<Record<OrderRow['state'], string>> = {
  draft: 'not sent yet',
  sent: 'awaited',
  received: 'received',
  cancelled: 'cancelled',
}

export const ORDER_COLUMNS: readonly TableColumn<OrderRow>[] = [
  {
    id: 'number',
    header: 'Order',
    value: (order) => order.number,
    cell: (order) => <TwoLines first={<b>{order.number}</b>} second={order.supplier} />,
    width: { share: 1, least: 140 },
    fixed: true,
  },
  {
    id: 'state',
    header: 'How it stands',
    value: (order) => STATE_WORDS[order.state],
    cell: (order) => (
      <TwoLines
        first={STATE_WORDS[order.state]}
        second={
          order.state === 'sent' && order.expectedOn !== null ? (
            <>
              expected <DateText date={order.expectedOn} as="day" />
            </>
          ) : (
            <>
              drafted <DateText date={order.draftedOn} as="day" />
            </>
          )
        }
      />
    ),
    width: { share: 1, least: 140 },
  },
  {
    id: 'cost',
    header: 'Cost',
    value: (order) => order.cost,
    cell: (order) => <MoneyText cents={order.cost} bare />,
    width: 88,
    figures: true,
  },
]
