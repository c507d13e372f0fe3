import type { ComparedLine, CountRound, HeapRow } from '../../core/stock/count-contract.ts'
import type { OnTheWay } from '../../core/stock/stock-contract.ts'
import type { TableColumn } from '../design/table-columns.ts'
import { DateText, MoneyText, TwoLines } from '../design/Words.tsx'
import type { HeapLine } from './heap-lines.ts'

/** The first sentence, and what follows it. */
function inTwo(why: string): [string, string] {
  const end = why.indexOf('. ') + 1
  return end === 0 ? [why, ''] : [why.slice(0, end), why.slice(end + 1)]
}

/** What to count this week. */
export const WEEK_COLUMNS: readonly TableColumn<HeapRow>[] = [
  { id: 'place', header: 'Place', value: (heap) => heap.place, width: 92, fixed: true },
  {
    id: 'part',
    header: 'Part and lot',
    value: (heap) => heap.part,
    cell: (heap) => <TwoLines first={<b>{heap.part}</b>} second={`${heap.number}, lot ${heap.lot}`} />,
    csv: (heap) => `${heap.part} ${heap.number}, lot ${heap.lot}`,
    width: { share: 1, least: 170 },
  },
  {
    id: 'why',
    header: 'Why',
    value: (heap) => heap.why,
    cell: (heap) => <TwoLines first={inTwo(heap.why)[0]} second={inTwo(heap.why)[1]} />,
    width: { share: 3, least: 260 },
  },
  {
    id: 'last',
    header: 'Last counted',
    value: (heap) => heap.lastCountedOn,
    cell: (heap) => (heap.lastCountedOn === null ? 'never' : <DateText date={heap.lastCountedOn} />),
    width: 104,
    hidden: true,
  },
  {
    id: 'used',
    header: 'Used in a year',
    value: (heap) => heap.usedValue / 100,
    cell: (heap) => <MoneyText cents={heap.usedValue} bare />,
    width: 108,
    figures: true,
    hidden: true,
  },
]

function stateWords(round: CountRound): string {
  if (round.state === 'open') return `${round.counted} of ${round.lines} counted`
  return `${round.state} by ${round.endedBy}`
}

/** The rounds, open and ended. */
export const ROUND_COLUMNS: readonly TableColumn<CountRound>[] = [
  { id: 'name', header: 'Round', value: (round) => round.name, width: { share: 1, least: 120 }, fixed: true },
  {
    id: 'on',
    header: 'Begun',
    value: (round) => round.on,
    cell: (round) => <DateText date={round.on} as="day" />,
    width: 84,
  },
  { id: 'by', header: 'By', value: (round) => round.begunBy, width: 110 },
  { id: 'state', header: 'How far', value: stateWords, width: { share: 1, least: 150 } },
]

const signed = (figure: number): string => (figure > 0 ? `+${figure}` : String(figure))

function whatFollows(line: ComparedLine): string {
  if (line.willBe < 0) return 'more left since than was counted: count again'
  const since = line.movedSince === 0 ? '' : `${signed(line.movedSince)} moved since; `
  const will = line.difference === 0 && line.movedSince === 0 ? 'agrees' : `${since}the books will say ${line.willBe}`
  return line.pulls.length === 0 ? will : `${will}; promised: ${line.pulls.join('; ')}`
}

/** What was counted beside what the books said. */
export const COMPARED_COLUMNS: readonly TableColumn<ComparedLine>[] = [
  { id: 'place', header: 'Place', value: (line) => line.place, width: 92, fixed: true },
  {
    id: 'part',
    header: 'Part and lot',
    value: (line) => line.part,
    cell: (line) => <TwoLines first={<b>{line.part}</b>} second={`${line.number}, lot ${line.lot}`} />,
    csv: (line) => `${line.part} ${line.number}, lot ${line.lot}`,
    width: { share: 1, least: 170 },
  },
  { id: 'counted', header: 'Counted', value: (line) => line.counted, width: 74, figures: true },
  { id: 'books', header: 'Books said', value: (line) => line.booksSaid, width: 84, figures: true },
  {
    id: 'difference',
    header: 'Difference',
    value: (line) => line.difference,
    cell: (line) => (line.difference === 0 ? '' : <b>{signed(line.difference)}</b>),
    width: 88,
    figures: true,
  },
  {
    id: 'value',
    header: 'Value',
    value: (line) => line.value / 100,
    cell: (line) => (line.value === 0 ? '' : <MoneyText cents={line.value} bare />),
    width: 84,
    figures: true,
  },
  {
    id: 'follows',
    header: 'What follows',
    value: whatFollows,
    cell: (line) => <TwoLines first={whatFollows(line)} second={line.note} />,
    width: { share: 2, least: 200 },
  },
  { id: 'by', header: 'Counted by', value: (line) => line.countedBy, width: 110, hidden: true },
]

const KINDS: Readonly<Record<HeapLine['kind'], string>> = {
  bin: 'bin',
  van: 'van',
  quarantine: 'quarantine',
  transit: 'on the way',
}

/** On hand by part, lot and place. */
export const ON_HAND_COLUMNS: readonly TableColumn<HeapLine>[] = [
  {
    id: 'part',
    header: 'Part',
    value: (heap) => heap.part,
    cell: (heap) => <b>{heap.part}</b>,
    width: { share: 2, least: 150 },
    fixed: true,
  },
  { id: 'number', header: 'Number', value: (heap) => heap.number, width: 100 },
  { id: 'lot', header: 'Lot', value: (heap) => heap.lot, width: 110 },
  {
    id: 'expiry',
    header: 'Good until',
    value: (heap) => heap.expiresOn,
    cell: (heap) => (heap.expiresOn === null ? '' : <DateText date={heap.expiresOn} />),
    width: 104,
  },
  { id: 'place', header: 'Place', value: (heap) => heap.place, width: 100 },
  { id: 'kind', header: 'Kind', value: (heap) => KINDS[heap.kind], width: 88 },
  { id: 'pieces', header: 'Pieces', value: (heap) => heap.quantity, width: 70, figures: true, largestFirst: true },
  {
    id: 'value',
    header: 'At cost',
    value: (heap) => heap.value / 100,
    cell: (heap) => <MoneyText cents={heap.value} bare />,
    width: 96,
    figures: true,
    largestFirst: true,
  },
]

/** What is on the way between two places. */
export const UNDERWAY_COLUMNS: readonly TableColumn<OnTheWay>[] = [
  {
    id: 'part',
    header: 'Part and lot',
    value: (row) => row.part,
    cell: (row) => <TwoLines first={<b>{row.part}</b>} second={`${row.number}, lot ${row.lot}`} />,
    csv: (row) => `${row.part} ${row.number}, lot ${row.lot}`,
    width: { share: 2, least: 180 },
    fixed: true,
  },
  { id: 'pieces', header: 'Pieces', value: (row) => row.quantity, width: 70, figures: true },
  { id: 'bound', header: 'Bound for', value: (row) => row.boundFor || 'nobody said', width: { share: 1, least: 110 } },
  {
    id: 'sent',
    header: 'Sent',
    value: (row) => row.sentOn,
    cell: (row) => (row.sentOn === null ? '' : <DateText date={row.sentOn} as="day" />),
    width: 84,
  },
  { id: 'by', header: 'By', value: (row) => row.by, width: 110 },
]
