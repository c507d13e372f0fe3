import type { RecalledLot, RecallHome } from '../../core/stock/recall-contract.ts'
import type { TableColumn } from '../design/table-columns.ts'
import { DateText, TwoLines } from '../design/Words.tsx'

/** Lots that are recalled now. */
export const RECALLED_COLUMNS: readonly TableColumn<RecalledLot>[] = [
  {
    id: 'lot',
    header: 'Lot',
    value: (lot) => lot.lot,
    cell: (lot) => <TwoLines first={<b>{lot.lot}</b>} second={`${lot.partName}, ${lot.partNumber}`} />,
    width: { share: 2, least: 180 },
    fixed: true,
  },
  {
    id: 'on',
    header: 'Recalled',
    value: (lot) => lot.recalledOn,
    cell: (lot) => <DateText date={lot.recalledOn} />,
    width: 110,
  },
  {
    id: 'why',
    header: 'What is wrong',
    value: (lot) => lot.why,
    cell: (lot) => <TwoLines first={lot.why} second={lot.notice} />,
    width: { share: 3, least: 200 },
  },
  { id: 'notice', header: 'Notice', value: (lot) => lot.notice, width: 120, hidden: true },
  { id: 'quarantined', header: 'In quarantine', value: (lot) => lot.quarantined, width: 100, figures: true },
  { id: 'homes', header: 'Homes', value: (lot) => lot.homes, width: 70, figures: true },
]

/** The homes that hold some of a recalled lot. */
export const HOME_COLUMNS: readonly TableColumn<RecallHome>[] = [
  {
    id: 'household',
    header: 'Household',
    value: (home) => home.household,
    cell: (home) => <TwoLines first={<b>{home.household}</b>} second={home.street} />,
    width: { share: 3, least: 170 },
    fixed: true,
  },
  { id: 'street', header: 'Street', value: (home) => home.street, width: 140, hidden: true },
  { id: 'town', header: 'Town', value: (home) => home.town, width: { share: 1, least: 104 } },
  {
    id: 'phone',
    header: 'Phone',
    value: (home) => home.phone,
    cell: (home) => <TwoLines first={home.phone} second={home.phoneNote} />,
    width: 104,
  },
  {
    id: 'stages',
    header: 'Fitted',
    value: (home) => home.stages,
    cell: (home) => (
      <TwoLines first={home.stages} second={home.fittedOn === null ? 'no date' : <DateText date={home.fittedOn} />} />
    ),
    width: { share: 2, least: 130 },
  },
  { id: 'fitted', header: 'Fitted on', value: (home) => home.fittedOn, width: 104, hidden: true },
  { id: 'pieces', header: 'Pieces', value: (home) => home.pieces, width: 60, figures: true, hidden: true },
  {
    id: 'letter',
    header: 'Letter',
    value: (home) => home.writtenOn ?? (home.noLetter === null ? '' : `ring up: ${home.noLetter}`),
    cell: (home) =>
      home.writtenOn !== null ? (
        <TwoLines first="written" second={<DateText date={home.writtenOn} />} />
      ) : home.noLetter !== null ? (
        <TwoLines first={<b>ring up</b>} second={home.noLetter} />
      ) : (
        <span className="second">not yet</span>
      ),
    width: { share: 1, least: 120 },
  },
  {
    id: 'visit',
    header: 'Visit',
    value: (home) => home.visit?.on ?? '',
    cell: (home) =>
      home.visit === null ? <span className="second">not booked</span> : <VisitCell visit={home.visit} />,
    width: { share: 1, least: 130 },
  },
]

function VisitCell({ visit }: { readonly visit: NonNullable<RecallHome['visit']> }) {
  const who = visit.technician ?? 'nobody yet'
  return (
    <TwoLines
      first={<DateText date={visit.on} as="day" />}
      second={visit.changes ? who : `${who}; without the change`}
    />
  )
}
