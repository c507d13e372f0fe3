import type { MovementLine, PartLedgerRow, PlaceLine } from '../../core/stock/stock-contract.ts'
import type { TableColumn } from '../design/table-columns.ts'
import { DateText, MoneyText, TwoLines } from '../design/Words.tsx'

const figure = (count: number): string => (count === 0 ? '' : String(count))

/** The ledger of parts. */
export const PART_COLUMNS: readonly TableColumn<PartLedgerRow>[] = [
  {
    id: 'part',
    header: 'Part',
    value: (part) => part.name,
    cell: (part) => <TwoLines first={<b>{part.name}</b>} second={part.number} />,
    width: { share: 2, least: 190 },
    fixed: true,
  },
  { id: 'number', header: 'Number', value: (part) => part.number, width: 100, hidden: true },
  {
    id: 'bins',
    header: 'In bins',
    value: (part) => part.inBins,
    cell: (part) => figure(part.inBins),
    width: 66,
    figures: true,
  },
  {
    id: 'vans',
    header: 'On vans',
    value: (part) => part.onVans,
    cell: (part) => figure(part.onVans),
    width: 70,
    figures: true,
  },
  {
    id: 'promised',
    header: 'Promised',
    value: (part) => part.promised,
    cell: (part) => figure(part.promised),
    width: 80,
    figures: true,
  },
  {
    id: 'order',
    header: 'On order',
    value: (part) => part.onOrder,
    cell: (part) =>
      part.onOrder === 0 ? null : (
        <TwoLines
          first={part.onOrder}
          second={part.nextDeliveryOn === null ? 'no date' : <DateText date={part.nextDeliveryOn} as="day" />}
        />
      ),
    width: 80,
    figures: true,
  },
  {
    id: 'expiry',
    header: 'First expiry',
    value: (part) => part.firstExpiry,
    cell: (part) => (
      <TwoLines
        first={part.firstExpiry === null ? '' : <DateText date={part.firstExpiry} />}
        second={part.unusable > 0 ? `${part.unusable} not usable` : ''}
      />
    ),
    width: { share: 1, least: 108 },
  },
  {
    id: 'price',
    header: 'Price',
    value: (part) => part.price,
    cell: (part) => <MoneyText cents={part.price} bare />,
    width: 80,
    figures: true,
    hidden: true,
  },
]

const REASONS: Readonly<Record<MovementLine['reason'], string>> = {
  receive: 'received',
  move: 'moved',
  pull: 'pulled',
  fit: 'fitted',
  return: 'given back',
  count: 'counted',
  scrap: 'thrown away',
  recall: 'recalled',
  correct: 'put right',
}

/** "A-02-1 to van 1", "into A-02-1", "out of van 1". */
export function wayWords(line: Pick<MovementLine, 'from' | 'to'>): string {
  if (line.from === null) return `into ${line.to ?? ''}`
  return line.to === null ? `out of ${line.from}` : `${line.from} to ${line.to}`
}

export const MOVEMENT_COLUMNS: readonly TableColumn<MovementLine>[] = [
  {
    id: 'when',
    header: 'When',
    value: (line) => line.movedOn,
    cell: (line) => <DateText date={line.movedOn} as="day" />,
    width: 62,
  },
  { id: 'pieces', header: 'Pieces', value: (line) => line.quantity, width: 58, figures: true },
  {
    id: 'what',
    header: 'What happened',
    value: (line) => REASONS[line.reason],
    cell: (line) => (
      <TwoLines
        first={`${REASONS[line.reason]}, ${wayWords(line)}`}
        second={[`lot ${line.lot}`, line.by, line.note, line.corrected ? 'put right since' : '']
          .filter(Boolean)
          .join(' · ')}
      />
    ),
    width: { share: 1, least: 180 },
  },
]

function placeWords(place: PlaceLine): string {
  const kind = place.kind === 'transit' ? 'on the way' : place.kind
  return place.closedOn === null ? kind : `${kind}, out of use`
}

export const PLACE_COLUMNS: readonly TableColumn<PlaceLine>[] = [
  { id: 'name', header: 'Place', value: (place) => place.name, width: { share: 1, least: 110 }, fixed: true },
  { id: 'kind', header: 'Kind', value: placeWords, width: 110 },
  { id: 'walk', header: 'Walk', value: (place) => place.walkOrder, width: 60, figures: true },
  { id: 'pieces', header: 'Pieces', value: (place) => place.pieces, width: 70, figures: true },
  { id: 'driver', header: 'Driven by', value: (place) => place.van?.technician ?? '', width: { share: 1, least: 90 } },
]
