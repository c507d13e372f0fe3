import type { ExpiringLot, PartWorth, PlaceWorth } from '../../core/stock/worth-shapes.ts'
import type { CalendarDate } from '../../core/units/calendar-date.ts'
import { agoInWords, spanInWords } from '../../core/units/date-words.ts'
import type { Cents } from '../../core/units/money.ts'
import { useOffice } from '../design/office-manner.ts'
import type { TableColumn } from '../design/table-columns.ts'
import { AgoText, DateText, MoneyText, TwoLines } from '../design/Words.tsx'

/** Amounts are exported as the spreadsheet reckons them: 12.5. Every currency that the office can choose on a screen has two digits. */
function moneyColumn<Row>(
  id: string,
  header: string,
  amount: (row: Row) => Cents,
  own: Partial<TableColumn<Row>> = {},
): TableColumn<Row> {
  return {
    id,
    header,
    value: (row) => amount(row) / 100,
    cell: (row) => (amount(row) === 0 ? '' : <MoneyText cents={amount(row)} bare />),
    figures: true,
    largestFirst: true,
    width: 84,
    ...own,
  }
}

const figureColumn = <Row,>(
  id: string,
  header: string,
  count: (row: Row) => number,
  width: number,
  own: Partial<TableColumn<Row>> = {},
): TableColumn<Row> => ({
  id,
  header,
  value: count,
  cell: (row) => (count(row) === 0 ? '' : count(row)),
  figures: true,
  largestFirst: true,
  width,
  ...own,
})

function coverWords({ coverDays }: PartWorth): string {
  if (coverDays === null) return ''
  if (coverDays === 0) return 'not for today'
  return coverDays > 730 ? 'over 2 years' : spanInWords(coverDays)
}

/** Part by part. */
export const WORTH_PART_COLUMNS: readonly TableColumn<PartWorth>[] = [
  {
    id: 'part',
    header: 'Part',
    value: (part) => part.name,
    cell: (part) => <TwoLines first={<b>{part.name}</b>} second={part.number} />,
    width: { share: 2, least: 180 },
    fixed: true,
  },
  { id: 'number', header: 'Number', value: (part) => part.number, width: 100, hidden: true },
  figureColumn('pieces', 'Pieces', (part) => part.pieces, 64),
  moneyColumn('value', 'Value', (part) => part.value, { cell: (part) => <ValueCell part={part} />, width: 108 }),
  moneyColumn('bins', 'In bins', (part) => part.inBins),
  moneyColumn('vans', 'On vans', (part) => part.onVans),
  moneyColumn('elsewhere', 'Set aside', (part) => part.elsewhere, { hidden: true }),
  moneyColumn('lost', 'Not to be fitted', (part) => part.lost, { hidden: true, width: 104 }),
  {
    id: 'used',
    header: 'Last used',
    value: (part) => part.usedOn,
    cell: (part) =>
      part.usedOn === null ? (
        <span className="second small">never yet</span>
      ) : (
        <TwoLines first={<DateText date={part.usedOn} />} second={<AgoText date={part.usedOn} />} />
      ),
    width: { share: 1, least: 104 },
  },
  {
    id: 'rest',
    header: 'Rests for',
    value: (part) => part.restDays,
    cell: (part) => {
      if (part.restDays === null) return ''
      const words = spanInWords(part.restDays)
      return part.rests ? <b>{words}</b> : words
    },
    largestFirst: true,
    width: 84,
  },
  {
    id: 'cover',
    header: 'Enough for',
    value: (part) => part.coverDays,
    cell: (part) => (
      <TwoLines
        first={coverWords(part)}
        second={part.aDay === null || part.aDay === 0 ? '' : `${paceWords(part.aDay)}`}
      />
    ),
    width: { share: 1, least: 96 },
  },
  {
    id: 'served',
    header: 'Served of asked',
    value: (part) => (part.asked === 0 ? null : part.served / part.asked),
    cell: (part) => (part.asked === 0 ? '' : `${part.served} of ${part.asked}`),
    csv: (part) => (part.asked === 0 ? '' : `${part.served} of ${part.asked}`),
    width: 104,
    figures: true,
  },
]

function ValueCell({ part }: { readonly part: PartWorth }) {
  if (part.value === 0) return null
  const lost = part.lost > 0 ? <MoneyText cents={part.lost} bare /> : null
  return <TwoLines first={<MoneyText cents={part.value} bare />} second={lost && <>{lost} lost</>} />
}

/** "2.4 a day"; "3 a week" where it is less than one a day. */
function paceWords(aDay: number): string {
  if (aDay >= 1) return `${aDay.toFixed(1)} a day`
  return aDay * 7 >= 1 ? `${(aDay * 7).toFixed(1)} a week` : `${(aDay * 30.44).toFixed(1)} a month`
}

const PLACE_KIND = { bin: 'bin', van: 'van', quarantine: 'quarantine', transit: 'on the way' } as const

/** Place by place. */
export const WORTH_PLACE_COLUMNS: readonly TableColumn<PlaceWorth>[] = [
  { id: 'place', header: 'Place', value: (place) => place.name, width: { share: 1, least: 140 }, fixed: true },
  { id: 'kind', header: 'Kind', value: (place) => PLACE_KIND[place.kind], width: 120 },
  figureColumn('parts', 'Parts', (place) => place.parts, 80),
  figureColumn('pieces', 'Pieces', (place) => place.pieces, 90),
  moneyColumn('value', 'Value', (place) => place.value, { width: 120 }),
]

/** "in 19 days"; in bold where it is past: "11 days ago". */
function ExpiryText({ date }: { readonly date: CalendarDate }) {
  const { today } = useOffice()
  return date < today ? <b>{agoInWords(date, today)}</b> : <AgoText date={date} />
}

/** Lots that expire soon, or have. */
export const WORTH_LOT_COLUMNS: readonly TableColumn<ExpiringLot>[] = [
  {
    id: 'part',
    header: 'Part',
    value: (lot) => lot.name,
    cell: (lot) => <TwoLines first={<b>{lot.name}</b>} second={lot.number} />,
    width: { share: 2, least: 180 },
    fixed: true,
  },
  { id: 'number', header: 'Number', value: (lot) => lot.number, width: 100, hidden: true },
  { id: 'lot', header: 'Lot', value: (lot) => lot.lot, width: { share: 1, least: 100 } },
  {
    id: 'expires',
    header: 'Expires',
    value: (lot) => lot.expiresOn,
    cell: (lot) => <TwoLines first={<DateText date={lot.expiresOn} />} second={<ExpiryText date={lot.expiresOn} />} />,
    width: { share: 1, least: 108 },
  },
  figureColumn('pieces', 'Pieces', (lot) => lot.pieces, 64),
  moneyColumn('value', 'Value', (lot) => lot.value),
  figureColumn('used', 'Used by then', (lot) => lot.willBeUsed, 96),
  figureColumn('left', 'Likely left', (lot) => lot.pieces - lot.willBeUsed, 84),
  moneyColumn('risk', 'Left, value', (lot) => lot.atRisk, { width: 92 }),
]
