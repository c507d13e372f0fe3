import type { OrderRow } from '../../core/orders/order-shapes.ts'
import type { ProposalRow } from '../../core/orders/proposal-shapes.ts'
import type { Cents } from '../../core/units/money.ts'
import type { TableColumn } from '../design/table-columns.ts'
import { DateText, MoneyText, TwoLines } from '../design/Words.tsx'

/** A part that runs short, with the name of who sells it, and what somebody chose to order of it instead. */
export interface ShortPart extends ProposalRow {
  readonly supplier: string
  readonly chosen: number
  readonly chosenCost: Cents
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
  { id: 'short', header: 'Missing', value: (row) => row.short, width: 72, figures: true },
  {
    id: 'order',
    header: 'Order',
    value: (row) => row.chosen,
    cell: (row) => <TwoLines first={<b>{row.chosen}</b>} second={row.chosen === row.order ? '' : `not ${row.order}`} />,
    csv: (row) => row.chosen,
    width: 64,
    figures: true,
  },
  {
    id: 'gone',
    header: 'Gone by',
    value: (row) => row.runsOutOn,
    cell: (row) => (row.runsOutOn === null ? '' : <DateText date={row.runsOutOn} as="day" />),
    width: 84,
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
    value: (row) => row.chosenCost,
    cell: (row) => <MoneyText cents={row.chosenCost} bare />,
    width: 88,
    figures: true,
  },
]

export const ORDER_COLUMNS: readonly TableColumn<OrderRow>[] = [
  {
    id: 'number',
    header: 'Order',
    value: (order) => order.number,
    cell: (order) => (
      <TwoLines first={<b>{order.state === 'draft' ? 'Draft' : order.number}</b>} second={order.supplier} />
    ),
    width: { share: 1, least: 140 },
    fixed: true,
  },
  {
    id: 'state',
    header: 'How it stands',
    value: (order) => order.words.first,
    cell: (order) => (
      <TwoLines
        first={order.daysLate > 0 ? <b>{order.words.first}</b> : order.words.first}
        second={<span title={order.words.second}>{order.words.second}</span>}
      />
    ),
    csv: (order) => `${order.words.first}, ${order.words.second}`,
    width: { share: 2, least: 170 },
  },
  {
    id: 'expected',
    header: 'Expected',
    value: (order) => (order.state === 'sent' ? order.expectedOn : null),
    cell: (order) =>
      order.state === 'sent' && order.expectedOn !== null ? <DateText date={order.expectedOn} as="day" /> : null,
    width: 84,
    hidden: true,
  },
  { id: 'open', header: 'Awaited', value: (order) => order.open, width: 72, figures: true, hidden: true },
  {
    id: 'cost',
    header: 'Cost',
    value: (order) => order.cost,
    cell: (order) => <MoneyText cents={order.cost} bare />,
    width: 88,
    figures: true,
  },
]
