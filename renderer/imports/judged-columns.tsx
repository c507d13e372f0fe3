import type { JudgedEntry } from '../../core/imports/judged-entry.ts'
import type { TableColumn } from '../design/table-columns.ts'
import { TwoLines } from '../design/Words.tsx'
import { CHOICE_WORDS, type Choices, choiceOf, linesInWords } from './import-words.ts'

/** The columns of a judged list, for the choices made so far. */
export function judgedColumns(choices: Choices): readonly TableColumn<JudgedEntry>[] {
  return [
    {
      id: 'line',
      header: 'Line',
      value: (entry) => entry.lines[0] ?? 0,
      cell: (entry) => linesInWords(entry.lines),
      csv: (entry) => linesInWords(entry.lines),
      width: 84,
      figures: true,
    },
    {
      id: 'household',
      header: 'Household',
      value: (entry) => entry.name,
      cell: (entry) => <TwoLines first={entry.name} second={entry.place} />,
      csv: (entry) => [entry.name, entry.place].filter((part) => part !== '').join(', '),
      width: { share: 3, least: 200 },
      fixed: true,
    },
    {
      id: 'becomes',
      header: 'Becomes',
      value: (entry) => becomes(entry, choices),
      cell: (entry) => (
        <TwoLines
          first={becomes(entry, choices)}
          second={entry.likeness === null ? entry.brings : entry.likeness.called}
        />
      ),
      width: { share: 2, least: 180 },
    },
    { id: 'brings', header: 'Brings', value: (entry) => entry.brings, width: 160, hidden: true },
    {
      id: 'why',
      header: 'What was noticed',
      value: noticed,
      cell: (entry) => <TwoLines first={noticed(entry)} second={entry.findings[0]?.nextStep ?? ''} />,
      width: { share: 4, least: 240 },
      sorts: false,
    },
  ]
}

function becomes(entry: JudgedEntry, choices: Choices): string {
  const choice = choiceOf(entry, choices)
  return choice === null ? 'refused' : CHOICE_WORDS[choice]
}

/** The likeness, and the first thing noticed; how many more there are. */
function noticed(entry: JudgedEntry): string {
  const first = entry.findings[0]
  const parts = [
    ...(entry.likeness === null ? [] : [entry.likeness.because]),
    ...(first === undefined ? [] : [first.column === '' ? first.sentence : `${first.column}: ${first.sentence}`]),
    ...(entry.findings.length > 1 ? [`${entry.findings.length - 1} more`] : []),
  ]
  return parts.join('; ')
}
