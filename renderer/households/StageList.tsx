import type { StageFields } from '../../core/installations/installations-contract.ts'
import { STAGE_KIND_WORDS, STAGE_KINDS, type StageKind } from '../../core/installations/stage-kinds.ts'
import { type PartId, partIdSchema } from '../../core/units/ids.ts'
import { Button } from '../design/Button.tsx'
import { CheckField } from '../design/CheckField.tsx'
import { ChoiceField } from '../design/ChoiceField.tsx'
import { DateField } from '../design/DateField.tsx'
import { TextField } from '../design/Field.tsx'
import { NumberField } from '../design/NumberField.tsx'

interface Part {
  readonly partId: PartId
  readonly number: string
  readonly name: string
  readonly stageKind: StageKind | null
}

interface StageListProps {
  readonly stages: readonly StageFields[]
  readonly parts: readonly Part[]
  readonly problems: readonly Readonly<Record<string, string>>[]
  readonly onChange: (stages: readonly StageFields[]) => void
}

const KINDS = STAGE_KINDS.map((kind) => ({ id: kind, words: STAGE_KIND_WORDS[kind].name }))
const NO_PART = 'none'

/** The ordered list of a unit's stages: each can be changed, moved towards feed or tap, taken out; new ones go to the end. */
export function StageList({ stages, parts, problems, onChange }: StageListProps) {
  const put = (at: number, change: Partial<StageFields>): void =>
    onChange(stages.map((stage, index) => (index === at ? { ...stage, ...change } : stage)))
  const swap = (at: number, other: number): void => {
    const next = [...stages]
    const [one, two] = [next[at], next[other]]
    if (!one || !two) return
    next[at] = two
    next[other] = one
    onChange(next)
  }
  return (
    <>
      <ol className="stage-list">
        {stages.map((stage, index) => (
          <StageLine
            key={stage.stageId ?? `new ${index}`}
            stage={stage}
            place={index + 1}
            parts={parts}
            problems={problems[index] ?? {}}
            onChange={(change) => put(index, change)}
            onUp={index > 0 ? () => swap(index, index - 1) : undefined}
            onDown={index < stages.length - 1 ? () => swap(index, index + 1) : undefined}
            onOut={() => onChange(stages.filter((_, other) => other !== index))}
          />
        ))}
      </ol>
      {stages.length === 0 && <p className="second">No stage yet. Add the first one at the feed.</p>}
      <Button
        onPress={() =>
          onChange([
            ...stages,
            {
              stageId: null,
              kind: 'carbon',
              label: '',
              partId: null,
              ownPartOnly: false,
              changedOn: null,
              ownMonths: null,
              ownDueOn: null,
              ownDueNote: '',
              ownDueEndsOn: null,
            },
          ])
        }
      >
        Add a stage at the tap
      </Button>
    </>
  )
}

interface StageLineProps {
  readonly stage: StageFields
  readonly place: number
  readonly parts: readonly Part[]
  readonly problems: Readonly<Record<string, string>>
  readonly onChange: (change: Partial<StageFields>) => void
  readonly onUp: (() => void) | undefined
  readonly onDown: (() => void) | undefined
  readonly onOut: () => void
}

function StageLine({ stage, place, parts, problems, onChange, onUp, onDown, onOut }: StageLineProps) {
  const { name, care } = STAGE_KIND_WORDS[stage.kind]
  const fitting = parts.filter((part) => part.stageKind === stage.kind || part.partId === stage.partId)
  const partChoices = [
    { id: NO_PART, words: 'not known' },
    ...fitting.map((part) => ({ id: String(part.partId), words: part.name, note: part.number })),
  ]
  return (
    <li>
      <fieldset>
        <legend className="bold">
          {place} {stage.label === '' ? name : stage.label}
        </legend>
        <div className="fields">
          <ChoiceField
            label="Kind"
            choices={KINDS}
            value={stage.kind}
            onChange={(kind) => onChange({ kind, partId: null })}
          />
          <TextField label="Own name" value={stage.label} onChange={(label) => onChange({ label })} />
          <DateField
            label={care === 'sanitise' ? 'Last sanitised' : 'Last changed'}
            value={stage.changedOn}
            onChange={(changedOn) => onChange({ changedOn })}
          />
          {care === 'change' && (
            <ChoiceField
              label="Part"
              choices={partChoices}
              value={stage.partId === null ? NO_PART : String(stage.partId)}
              onChange={(id) => onChange({ partId: id === NO_PART ? null : partIdSchema.parse(Number(id)) })}
            />
          )}
          {care === 'change' && stage.partId !== null && (
            <CheckField value={stage.ownPartOnly} onChange={(ownPartOnly) => onChange({ ownPartOnly })}>
              this part only, nothing stands in for it
            </CheckField>
          )}
          <NumberField
            label="Own months"
            note="Blank: by the rules."
            value={stage.ownMonths}
            onChange={(ownMonths) => onChange({ ownMonths })}
            least={1}
            most={240}
            problem={problems.ownMonths}
          />
          <DateField
            label="Due by hand"
            note="Takes the place of the rules."
            value={stage.ownDueOn}
            onChange={(ownDueOn) =>
              onChange(ownDueOn === null ? { ownDueOn, ownDueNote: '', ownDueEndsOn: null } : { ownDueOn })
            }
          />
          {stage.ownDueOn !== null && (
            <>
              <TextField
                label="Why that date"
                value={stage.ownDueNote}
                onChange={(ownDueNote) => onChange({ ownDueNote })}
              />
              <DateField
                label="It stands until"
                note="Blank: until the stage is changed."
                value={stage.ownDueEndsOn}
                onChange={(ownDueEndsOn) => onChange({ ownDueEndsOn })}
              />
            </>
          )}
        </div>
        <div className="form-foot stage-list-foot">
          {onUp && (
            <Button kind="quiet" onPress={onUp} aria-label={`Towards the feed: stage ${place}`}>
              Towards the feed
            </Button>
          )}
          {onDown && (
            <Button kind="quiet" onPress={onDown} aria-label={`Towards the tap: stage ${place}`}>
              Towards the tap
            </Button>
          )}
          <Button kind="quiet" onPress={onOut} aria-label={`Take out stage ${place}`}>
            Take out
          </Button>
        </div>
      </fieldset>
    </li>
  )
}
