import { LETTER_KIND_WORDS } from '../../core/letters/letter-kinds.ts'
import type { LetterRun, OwedRow } from '../../core/letters/letters-contract.ts'
import type { TableColumn } from '../design/table-columns.ts'
import { AgoText, DateText, DistanceText, TwoLines } from '../design/Words.tsx'

/** Who is owed a letter. */
export const OWED_COLUMNS: readonly TableColumn<OwedRow>[] = [
  {
    id: 'name',
    header: 'Household',
    value: (row) => row.name,
    cell: (row) => <TwoLines first={<b>{row.name}</b>} second={row.town} />,
    width: { share: 3, least: 160 },
    fixed: true,
  },
  { id: 'town', header: 'Town', value: (row) => row.town, width: { share: 2, least: 110 }, hidden: true },
  {
    id: 'due',
    header: 'Earliest due',
    value: (row) => row.dueOn,
    cell: (row) => (
      <TwoLines first={<DateText date={row.dueOn} as="day" />} second={<DistanceText date={row.dueOn} />} />
    ),
    width: { share: 2, least: 112 },
  },
  {
    id: 'letter',
    header: 'Letter owed',
    value: (row) => LETTER_KIND_WORDS[row.kind],
    cell: (row) => (
      <TwoLines
        first={row.kind}
        second={
          row.writtenBefore === null ? (
            'none yet'
          ) : (
            <>
              after <DateText date={row.writtenBefore} as="day" />
            </>
          )
        }
      />
    ),
    width: { share: 2, least: 112 },
  },
]

/** The runs that were written. */
export const RUN_COLUMNS: readonly TableColumn<LetterRun>[] = [
  {
    id: 'name',
    header: 'Run',
    value: (row) => row.name,
    cell: (row) => (
      <TwoLines
        first={<b>{row.name}</b>}
        second={row.takenBackAt === null ? `written by ${row.by}` : `taken back: ${row.takenBackReason}`}
      />
    ),
    width: { share: 4, least: 220 },
    fixed: true,
  },
  {
    id: 'written',
    header: 'Written',
    value: (row) => row.writtenOn,
    cell: (row) => <TwoLines first={<DateText date={row.writtenOn} />} second={<AgoText date={row.writtenOn} />} />,
    width: { share: 2, least: 120 },
    largestFirst: true,
  },
  { id: 'letters', header: 'Letters', value: (row) => row.letters, width: 72, figures: true },
]
