import { useMemo, useState } from 'react'
import type { Choice } from '../../core/imports/find-likeness.ts'
import type { JudgedListAnswer } from '../../core/imports/imports-contract.ts'
import type { JudgedEntry } from '../../core/imports/judged-entry.ts'
import { REFUSED_COLUMNS } from '../../core/imports/list-mapping.ts'
import { writeCsv } from '../../core/imports/write-csv.ts'
import { counted } from '../../core/units/date-words.ts'
import { Button } from '../design/Button.tsx'
import { ChoiceField, InlineChoice, InlineChoices } from '../design/ChoiceField.tsx'
import { DataTable } from '../design/DataTable.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SecondSheet, Sheet, Sheets } from '../design/Sheet.tsx'
import { saveText } from '../design/save-file.ts'
import type { ToldProblem } from '../shell/office-door.ts'
import { useOpenRecord } from '../shell/open-record.ts'
import {
  type Choices,
  choiceOf,
  createdCount,
  isShown,
  linesInWords,
  offeredChoices,
  type Shown,
} from './import-words.ts'
import { judgedColumns } from './judged-columns.tsx'
import './import.css'

interface RowsSheetProps {
  readonly name: string
  readonly judged: JudgedListAnswer
  readonly entries: readonly JudgedEntry[]
  readonly choices: Choices
  readonly onChoices: (choices: Choices) => void
  readonly problem: ToldProblem | null
  readonly onColumns: () => void
  readonly onTake: () => void
}

/** Every household of the list as it was judged, before anything is written. */
export function RowsSheet({ name, judged, entries, choices, onChoices, problem, onColumns, onTake }: RowsSheetProps) {
  const [open, setOpen] = useOpenRecord()
  const [shown, setShown] = useState<Shown>('all')
  const columns = useMemo(() => judgedColumns(choices), [choices])
  const rows = useMemo(() => entries.filter((entry) => isShown(entry, shown, choices)), [entries, shown, choices])
  const refused = entries.filter((entry) => entry.kind === 'refused')
  const like = entries.filter((entry) => entry.likeness !== null).length
  const created = createdCount(entries, choices)
  const told = entries.filter((entry) => choiceOf(entry, choices) === 'same-household').length
  const opened = entries.find((entry) => entry.key === open)
  return (
    <Sheets
      second={
        opened === undefined ? null : (
          <EntrySheet
            entry={opened}
            choice={choiceOf(opened, choices)}
            onChoose={(choice) => onChoices({ ...choices, [opened.key]: choice })}
            onClose={() => setOpen(null)}
          />
        )
      }
    >
      <Sheet
        title={`${counted(created, 'household')} of ${name} would be new`}
        aside={`${counted(like, 'look alike', 'look alike')}, ${counted(refused.length, 'row')} refused`}
        choices={
          <InlineChoices>
            <InlineChoice
              words="show"
              label="Which rows to show"
              choices={shownChoices(entries, choices)}
              value={shown}
              onChange={setShown}
            />
          </InlineChoices>
        }
        actions={
          <>
            <Button onPress={onColumns}>Back to the columns</Button>
            {refused.length > 0 && (
              <Button
                onPress={() =>
                  void saveText(
                    `refused-${name.replace(/\.\w+$/, '')}.csv`,
                    'text/csv',
                    refusedCsv(judged.columns, refused),
                  )
                }
              >
                {`Save ${counted(refused.length, 'refused row')}`}
              </Button>
            )}
            <Button kind="primary" isDisabled={created + told === 0} onPress={onTake}>
              {created > 0 ? `Take in ${counted(created, 'household')}` : `Add to ${counted(told, 'household')}`}
            </Button>
          </>
        }
      >
        {problem !== null && (
          <ProblemNote problem={problem} id={problem.id} kept="Nothing was written; your choices are still here." />
        )}
        <div className="import-said second small">
          {[...judged.said, ...judged.remarks].map((sentence) => (
            <p key={sentence}>{sentence}</p>
          ))}
        </div>
        <DataTable
          name="list-to-import"
          label="Households of the list"
          columns={columns}
          rows={rows}
          rowKey={keyOf}
          rowName={nameOf}
          density="two-line"
          empty={{ why: 'No row of the list is like this.', todo: 'Show all of them.' }}
          onOpen={(entry) => setOpen(entry.key)}
          openKey={open}
          marked={(entry) => entry.kind === 'refused'}
          quiet={(entry) => choiceOf(entry, choices) === 'leave-out'}
        />
      </Sheet>
    </Sheets>
  )
}

const keyOf = (entry: JudgedEntry): string => entry.key
const nameOf = (entry: JudgedEntry): string => `${entry.name}, line ${linesInWords(entry.lines)}`

function shownChoices(entries: readonly JudgedEntry[], choices: Choices): { id: Shown; words: string }[] {
  const count = (shown: Shown): string =>
    entries.filter((entry) => isShown(entry, shown, choices)).length.toLocaleString('en-US')
  return [
    { id: 'all', words: `all ${count('all')}` },
    { id: 'new', words: `${count('new')} that would be new` },
    { id: 'like', words: `${count('like')} that look like another` },
    { id: 'refused', words: `${count('refused')} refused` },
    { id: 'noted', words: `${count('noted')} with something noticed` },
  ]
}

/** The refused rows with their own columns, the line, what is wrong and what to do: to be corrected and brought again. */
function refusedCsv(columns: readonly string[], refused: readonly JudgedEntry[]): string {
  const sentences = (entry: JudgedEntry, part: 'sentence' | 'nextStep'): string =>
    entry.findings
      .filter((finding) => finding.weight === 'refusal')
      .map((finding) => finding[part])
      .join(' ')
  return writeCsv(
    [...columns, ...REFUSED_COLUMNS],
    refused.map((entry) => [
      ...entry.cells,
      entry.lines[0] ?? 0,
      sentences(entry, 'sentence'),
      sentences(entry, 'nextStep'),
      entry.rank,
    ]),
  )
}

interface EntrySheetProps {
  readonly entry: JudgedEntry
  readonly choice: Choice | null
  readonly onChoose: (choice: Choice) => void
  readonly onClose: () => void
}

function EntrySheet({ entry, choice, onChoose, onClose }: EntrySheetProps) {
  return (
    <SecondSheet title={entry.name || 'A refused row'} below={entry.place} onClose={onClose} backTo="the list">
      <div className="import-page">
        <p className="second">{`${entry.lines.length === 1 ? 'Line' : 'Lines'} ${linesInWords(entry.lines)} of the list${entry.brings === '' ? '' : `: ${entry.brings}`}.`}</p>
        {entry.likeness !== null && (
          <p>
            {`It looks like ${entry.likeness.called}${entry.likeness.inBooks ? ', who is in the books' : ' of the same list'}: ${entry.likeness.because}.`}
          </p>
        )}
        {choice !== null && (
          <ChoiceField label="It is" choices={offeredChoices(entry)} value={choice} onChange={onChoose} chars={36} />
        )}
        {entry.findings.length > 0 && <h2>{entry.kind === 'refused' ? 'Why it is not taken' : 'What was noticed'}</h2>}
        {entry.findings.map((finding) => (
          <div key={`${finding.line} ${finding.column} ${finding.sentence}`} className="import-finding">
            <p>{`Line ${finding.line}${finding.column === '' ? '' : `, ${finding.column}`}: ${finding.sentence}`}</p>
            {finding.nextStep !== '' && <p className="second">{finding.nextStep}</p>}
          </div>
        ))}
      </div>
    </SecondSheet>
  )
}
