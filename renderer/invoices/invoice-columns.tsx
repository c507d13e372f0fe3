import {
  type InvoiceLine,
  type InvoicePile,
  type InvoiceRow,
  type InvoiceSort,
  SORTS_OF_PILE,
} from '../../core/invoices/invoices-contract.ts'
import type { CalendarDate } from '../../core/units/calendar-date.ts'
import { counted } from '../../core/units/date-words.ts'
import { formatTaxRate } from '../../core/units/money.ts'
import { useOffice } from '../design/office-manner.ts'
import type { TableColumn } from '../design/table-columns.ts'
import { AgoText, DateText, DistanceText, MoneyText, TwoLines } from '../design/Words.tsx'

export const invoiceName = (row: InvoiceRow): string =>
  row.state === 'draft'
    ? `${row.kind === 'credit-note' ? 'Credit note for' : 'Draft for'} ${row.customer}`
    : `${row.kind === 'credit-note' ? 'Credit note' : 'Invoice'} ${row.number}, ${row.customer}`

const customer: TableColumn<InvoiceRow> = {
  id: 'customer',
  header: 'Household',
  value: (row) => row.customer,
  cell: (row) => <TwoLines first={<b>{row.customer}</b>} second={row.town || row.reference} />,
  width: { share: 3, least: 190 },
  fixed: true,
}
const number: TableColumn<InvoiceRow> = {
  id: 'number',
  header: 'Number',
  value: (row) => row.number,
  cell: (row) => (
    <TwoLines first={row.number} second={row.kind === 'credit-note' ? `credit note for ${row.corrects}` : ''} />
  ),
  width: { share: 2, least: 130 },
}
const total: TableColumn<InvoiceRow> = {
  id: 'total',
  header: 'With tax',
  value: (row) => row.total / 100,
  cell: (row) => <MoneyText cents={row.total} bare />,
  width: 92,
  figures: true,
  largestFirst: true,
}
const issued: TableColumn<InvoiceRow> = {
  id: 'issued',
  header: 'Issued',
  value: (row) => row.issuedOn,
  cell: (row) =>
    row.issuedOn && <TwoLines first={<DateText date={row.issuedOn} />} second={<AgoText date={row.issuedOn} />} />,
  width: 118,
}
const what: TableColumn<InvoiceRow> = {
  id: 'what',
  header: 'For',
  value: (row) => row.suppliedOn,
  cell: (row) => (
    <TwoLines
      first={
        row.kind === 'credit-note' ? (
          `credit note for ${row.corrects}`
        ) : row.suppliedOn ? (
          <>
            visit of <DateText date={row.suppliedOn} as="day" />
          </>
        ) : (
          'written by hand'
        )
      }
      second={counted(row.lines, 'line')}
    />
  ),
  width: { share: 2, least: 150 },
}
const drafted: TableColumn<InvoiceRow> = {
  id: 'drafted',
  header: 'Drafted',
  value: (row) => row.draftedOn,
  cell: (row) => <AgoText date={row.draftedOn} />,
  width: 104,
}
const payBy: TableColumn<InvoiceRow> = {
  id: 'payBy',
  header: 'To pay by',
  value: (row) => row.payBy,
  cell: (row) =>
    row.payBy && <TwoLines first={<DateText date={row.payBy} />} second={<DistanceText date={row.payBy} />} />,
  width: 118,
}
const open: TableColumn<InvoiceRow> = {
  id: 'open',
  header: 'Open',
  value: (row) => row.open / 100,
  cell: (row) =>
    row.open > 0 ? (
      <b>
        <MoneyText cents={row.open} bare />
      </b>
    ) : (
      <span className="second">paid</span>
    ),
  width: 92,
  figures: true,
  largestFirst: true,
}

/** What the office sorts by when a column's head is pressed. */
export const SORT_OF_COLUMN: Readonly<Record<string, InvoiceSort>> = {
  customer: 'customer',
  number: 'written',
  drafted: 'written',
  issued: 'written',
  payBy: 'payBy',
  open: 'open',
  total: 'total',
}

const ofPile = (pile: InvoicePile, columns: readonly TableColumn<InvoiceRow>[]): readonly TableColumn<InvoiceRow>[] =>
  columns.map((column) => {
    const sort = SORT_OF_COLUMN[column.id]
    return sort !== undefined && SORTS_OF_PILE[pile].includes(sort) ? column : { ...column, sorts: false }
  })

/** The columns of each pile. */
export const INVOICE_COLUMNS: Readonly<Record<InvoicePile, readonly TableColumn<InvoiceRow>[]>> = {
  drafts: ofPile('drafts', [customer, what, drafted, total]),
  unpaid: ofPile('unpaid', [customer, number, payBy, open]),
  paid: ofPile('paid', [customer, number, issued, total]),
  all: ofPile('all', [customer, number, issued, total, open]),
}

export function isLate(row: InvoiceRow, today: CalendarDate): boolean {
  return row.open > 0 && row.payBy !== null && row.payBy < today
}

/** The lines of an issued invoice, as they stand on the paper. */
export const LINE_COLUMNS: readonly TableColumn<InvoiceLine>[] = [
  {
    id: 'what',
    header: 'What',
    value: (line) => line.description,
    cell: (line) => <TwoLines first={line.description} second={<LineBelow line={line} />} />,
    width: { share: 1, least: 180 },
    sorts: false,
  },
  { id: 'quantity', header: 'Quantity', value: (line) => line.quantity / 1000, width: 72, figures: true, sorts: false },
  {
    id: 'price',
    header: 'Price',
    value: (line) => line.unitPrice / 10_000,
    cell: (line) => <PriceText tenThousandths={line.unitPrice} />,
    width: 76,
    figures: true,
    sorts: false,
  },
  {
    id: 'amount',
    header: 'Amount',
    value: (line) => line.net / 100,
    cell: (line) => <MoneyText cents={line.net} bare />,
    width: 84,
    figures: true,
    sorts: false,
  },
]

function LineBelow({ line }: { readonly line: InvoiceLine }) {
  const { locale } = useOffice()
  const tax =
    line.category === 'standard'
      ? `tax ${formatTaxRate(line.rate, locale)}`
      : line.category === 'exempt'
        ? 'exempt from tax'
        : 'no tax'
  return (
    <>
      {tax}
      {line.allowance > 0 && (
        <>
          , less <MoneyText cents={line.allowance} bare />
        </>
      )}
    </>
  )
}

function PriceText({ tenThousandths }: { readonly tenThousandths: number }) {
  const { locale } = useOffice()
  return (
    <span>
      {(tenThousandths / 10_000).toLocaleString(locale, { minimumFractionDigits: 2, maximumFractionDigits: 4 })}
    </span>
  )
}
