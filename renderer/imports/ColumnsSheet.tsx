import type { ListLook } from '../../core/imports/imports-contract.ts'
import { type ListMapping, mappingGaps, mappingRemarks, USUAL_STAGES } from '../../core/imports/list-mapping.ts'
import { ENCODING_WORDS, type TextEncoding } from '../../core/imports/recognise-file.ts'
import { STAGE_KIND_WORDS } from '../../core/installations/stage-kinds.ts'
import { counted } from '../../core/units/date-words.ts'
import { Button } from '../design/Button.tsx'
import { CheckField } from '../design/CheckField.tsx'
import { InlineChoice, InlineChoices } from '../design/ChoiceField.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { Sheet, Sheets } from '../design/Sheet.tsx'
import type { ToldProblem } from '../shell/office-door.ts'
import { columnChoices, surenessWords } from './import-words.ts'
import './import.css'

interface ColumnsSheetProps {
  readonly look: ListLook
  readonly mapping: ListMapping
  readonly onMapping: (mapping: ListMapping) => void
  readonly onReadAs: (encoding: TextEncoding) => void
  readonly problem: ToldProblem | null
  readonly onAnother: () => void
  readonly onLookThrough: () => void
}

/** What each column of a list is: the guess, some of its cells, and what is still needed. */
export function ColumnsSheet(props: ColumnsSheetProps) {
  const { look, mapping, onMapping, onReadAs, problem, onAnother, onLookThrough } = props
  const names = look.columns.map((column) => column.name)
  const gaps = mappingGaps(names, mapping)
  return (
    <Sheets>
      <Sheet
        title={`What ${look.name} holds`}
        aside={counted(look.rows, 'row')}
        choices={<Manner look={look} mapping={mapping} onMapping={onMapping} onReadAs={onReadAs} />}
        actions={
          <>
            <Button onPress={onAnother}>Choose another list</Button>
            <Button kind="primary" isDisabled={gaps.length > 0} onPress={onLookThrough}>
              {`Look through ${counted(look.rows, 'row')}`}
            </Button>
          </>
        }
      >
        <div className="import-page">
          {problem !== null && <ProblemNote problem={problem} kept="What you chose is still here." />}
          {gaps.map((gap) => (
            <p key={gap} className="bold" role="alert">
              {gap}
            </p>
          ))}
          <div className="import-said second small">
            {look.remembered && <p>A list with these columns was brought before; they are read as they were then.</p>}
            {[...look.said, ...mappingRemarks(mapping)].map((sentence) => (
              <p key={sentence}>{sentence}</p>
            ))}
          </div>
          <ColumnsTable look={look} mapping={mapping} onMapping={onMapping} />
          <CheckField
            value={mapping.usualStages.length > 0}
            onChange={(usual) => onMapping({ ...mapping, usualStages: usual ? [...USUAL_STAGES] : [] })}
          >
            {`Give a household that names no stages the usual unit: ${USUAL_STAGES.map((kind) => STAGE_KIND_WORDS[kind].name.toLowerCase()).join(', ')}`}
          </CheckField>
        </div>
      </Sheet>
    </Sheets>
  )
}

function ColumnsTable({ look, mapping, onMapping }: Pick<ColumnsSheetProps, 'look' | 'mapping' | 'onMapping'>) {
  return (
    <table className="import-columns">
      <thead>
        <tr>
          <th scope="col">Column of the list</th>
          <th scope="col">What it is</th>
          <th scope="col">How sure</th>
          <th scope="col">Some of its cells</th>
        </tr>
      </thead>
      <tbody>
        {look.columns.map((column, index) => {
          const use = mapping.uses[index] ?? 'ignore'
          return (
            <tr key={column.name}>
              <td className="bold">{column.name}</td>
              <td>
                <InlineChoice
                  words=""
                  label={`What "${column.name}" is`}
                  choices={columnChoices(use)}
                  value={use}
                  onChange={(chosen) =>
                    onMapping({ ...mapping, uses: mapping.uses.map((old, at) => (at === index ? chosen : old)) })
                  }
                />
              </td>
              <td className="second small">{surenessWords(column, use, look.remembered)}</td>
              <td className="samples">{column.samples.length === 0 ? 'blank' : column.samples.join(' · ')}</td>
            </tr>
          )
        })}
      </tbody>
    </table>
  )
}

const ORDER_CHOICES = [
  { id: 'judged', words: 'as the list shows' },
  { id: 'month-first', words: 'month first' },
  { id: 'day-first', words: 'day first' },
] as const
const UNIT_CHOICES = [
  { id: 'judged', words: 'as the list shows' },
  { id: 'gpg', words: 'gpg' },
  { id: 'mg/L', words: 'mg/L' },
  { id: 'dH', words: '°dH' },
] as const

/** What the file may leave open: its letters, which comes first in a date, and the unit of hardness. */
function Manner({
  look,
  mapping,
  onMapping,
  onReadAs,
}: Pick<ColumnsSheetProps, 'look' | 'mapping' | 'onMapping' | 'onReadAs'>) {
  return (
    <InlineChoices>
      {look.couldBe.length > 1 && (
        <InlineChoice
          words="letters read as"
          label="How the letters of the list are read"
          choices={look.couldBe.map((id) => ({ id, words: ENCODING_WORDS[id] }))}
          value={look.readAs}
          onChange={onReadAs}
        />
      )}
      <InlineChoice
        words="unclear dates"
        label="Dates that could be read either way"
        choices={ORDER_CHOICES}
        value={mapping.dateOrder ?? 'judged'}
        onChange={(order) => onMapping({ ...mapping, dateOrder: order === 'judged' ? null : order })}
      />
      {mapping.uses.includes('hardness') && (
        <InlineChoice
          words="hardness in"
          label="Unit of hardness"
          choices={UNIT_CHOICES}
          value={mapping.hardnessUnit ?? 'judged'}
          onChange={(unit) => onMapping({ ...mapping, hardnessUnit: unit === 'judged' ? null : unit })}
        />
      )}
    </InlineChoices>
  )
}
