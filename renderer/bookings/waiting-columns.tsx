import type { WaitingHousehold } from '../../core/visits/visits-contract.ts'
import { StageTrain } from '../design/StageTrain.tsx'
import type { TableColumn } from '../design/table-columns.ts'
import { DateText, DueAndWhy, TwoLines } from '../design/Words.tsx'

const phoneOf = (row: WaitingHousehold) => [row.phone, row.phoneNote].filter((part) => part !== '').join(', ')

export const waitingColumns: readonly TableColumn<WaitingHousehold>[] = [
  {
    id: 'household',
    header: 'Household',
    value: (row) => row.household,
    cell: (row) => <TwoLines first={<b>{row.household}</b>} second={row.town} />,
    width: { share: 3, least: 170 },
    fixed: true,
  },
  {
    id: 'phone',
    header: 'Telephone',
    value: phoneOf,
    cell: (row) => <TwoLines first={row.phone || 'no number'} second={row.phoneNote} />,
    width: { share: 1, least: 104 },
  },
  {
    id: 'stages',
    header: 'Stages, feed to tap',
    value: (row) => row.stages.length,
    cell: (row) => <StageTrain stages={row.stages} size="row" />,
    csv: (row) => row.stages.map((stage) => stage.label).join(', '),
    width: 144,
    sorts: false,
  },
  {
    id: 'due',
    header: 'Due, and why',
    value: (row) => row.dueOn,
    cell: (row) => <DueAndWhy dueOn={row.dueOn} reason={row.reason} />,
    width: { share: 6, least: 220 },
  },
  {
    id: 'letter',
    header: 'Letter',
    value: (row) => row.letter?.writtenOn ?? '',
    cell: (row) =>
      row.letter === null ? (
        'none yet'
      ) : (
        <TwoLines first={row.letter.kind} second={<DateText date={row.letter.writtenOn} as="day" />} />
      ),
    csv: (row) => (row.letter === null ? '' : `${row.letter.kind} ${row.letter.writtenOn}`),
    width: 80,
  },
]
