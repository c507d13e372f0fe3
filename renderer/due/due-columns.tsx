import type { DueRow } from '../../core/due/due-contract.ts'
import { StageTrain } from '../design/StageTrain.tsx'
import type { TableColumn } from '../design/table-columns.ts'
import { DateText, DueAndWhy, TwoLines } from '../design/Words.tsx'

/** The columns of what is due. Their ids are what the office sorts by. */
export const dueColumns: readonly TableColumn<DueRow>[] = [
  {
    id: 'household',
    header: 'Household',
    value: (row) => row.household,
    cell: (row) => <TwoLines first={<b>{row.household}</b>} second={row.town} />,
    width: { share: 3, least: 160 },
    fixed: true,
  },
  {
    id: 'train',
    header: 'Stages, feed to tap',
    value: (row) => row.train.map((stage) => stage.label).join(', '),
    cell: (row) => <StageTrain stages={row.train} size="row" />,
    width: 136,
    sorts: false,
  },
  {
    id: 'dueOn',
    header: 'Earliest due, and why',
    value: (row) => row.dueOn,
    csv: (row) => `${row.dueOn} ${row.reason}`,
    cell: (row) => <DueAndWhy dueOn={row.dueOn} reason={row.reason} />,
    width: { share: 5, least: 220 },
  },
  {
    id: 'letters',
    header: 'Letters',
    value: (row) => letterWords(row),
    cell: (row) => <Letters row={row} />,
    width: 84,
    sorts: false,
  },
  { id: 'town', header: 'Town', value: (row) => row.town, width: 120, hidden: true },
  { id: 'phone', header: 'Telephone', value: (row) => row.phone, width: 110, sorts: false, hidden: true },
]

function letterWords(row: DueRow): string {
  if (row.bookedOn !== null) return `booked ${row.bookedOn}`
  if (row.moved) return 'has moved'
  if (row.letter !== null) return `${row.letter.kind} ${row.letter.writtenOn}`
  return row.noMail ? 'no mail' : 'none yet'
}

function Letters({ row }: { readonly row: DueRow }) {
  if (row.bookedOn !== null) return <TwoLines first="booked" second={<DateText date={row.bookedOn} as="day" />} />
  if (row.moved) return <span className="second small">has moved</span>
  if (row.letter !== null)
    return (
      <TwoLines
        first={<span className="small">{row.letter.kind}</span>}
        second={<DateText date={row.letter.writtenOn} as="day" />}
      />
    )
  return <span className="second small">{row.noMail ? 'no mail' : 'none yet'}</span>
}
