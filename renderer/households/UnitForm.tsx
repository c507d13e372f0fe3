import { useMutation, useQuery } from '@tanstack/react-query'
import { useMemo, useState } from 'react'
import type { HouseholdSheet } from '../../core/due/due-contract.ts'
import {
  type InstallationFields,
  installationFieldsSchema,
  type StageFields,
  stageFieldsSchema,
} from '../../core/installations/installations-contract.ts'
import type { StageKind } from '../../core/installations/stage-kinds.ts'
import type { SiteId } from '../../core/units/ids.ts'
import { Button } from '../design/Button.tsx'
import { DateField } from '../design/DateField.tsx'
import { Decision } from '../design/Dialog.tsx'
import { TextField } from '../design/Field.tsx'
import { formProblems } from '../design/form-problems.ts'
import { NumberField } from '../design/NumberField.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SecondSheet, SheetPart } from '../design/Sheet.tsx'
import { useSay } from '../design/undo.ts'
import { useDraft } from '../design/use-draft.ts'
import { ask, office, problemOf } from '../shell/office-door.ts'
import { StageList } from './StageList.tsx'
import './households.css'

type Unit = HouseholdSheet['units'][number]

interface UnitFormProps {
  readonly siteId: SiteId
  readonly household: string
  /** Null for a new one. */
  readonly unit: Unit | null
  readonly onDone: () => void
}

interface UnitDraft {
  readonly fields: InstallationFields
  readonly stages: readonly StageFields[]
  readonly seen: { readonly fields: InstallationFields; readonly stages: readonly StageFields[] }
}

/** The form of a unit with its ordered list of stages. */
export function UnitForm({ siteId, household, unit, onDone }: UnitFormProps) {
  const initial = useMemo<UnitDraft>(() => {
    const shown = unit
      ? { fields: unit.fields, stages: unit.stages }
      : { fields: NEW_UNIT, stages: USUAL_KINDS.map(newStage) }
    return { ...shown, seen: shown }
  }, [unit])
  const { draft, setDraft, discard, isChanged } = useDraft(
    unit ? `unit-${unit.installationId}` : `unit-new-${siteId}`,
    initial,
  )
  const parts = useQuery(ask.installations.parts.queryOptions()).data ?? []
  const [isTried, setTried] = useState(false)
  const say = useSay()
  const done = (said: string): void => {
    discard()
    say({ said })
    onDone()
  }
  const create = useMutation(
    ask.installations.create.mutationOptions({ onSuccess: () => done(`${draft.fields.name} is in the books.`) }),
  )
  const save = useMutation(
    ask.installations.save.mutationOptions({
      onSuccess: () => done(`${draft.fields.name} is saved; its due dates are reckoned again.`),
      onError: (error) => void (problemOf(error).code === 'RECORD_CHANGED' && lookAgain()),
    }),
  )
  const lookAgain = async (): Promise<void> => {
    const now = (await office.due.household({ siteId })).units.find(
      (other) => other.installationId === unit?.installationId,
    )
    if (now) setDraft((before) => ({ ...before, seen: { fields: now.fields, stages: now.stages } }))
  }
  const problems = formProblems(installationFieldsSchema, draft.fields)
  const stageProblems = draft.stages.map((stage) => formProblems(stageFieldsSchema, stage))
  const isWrong = [problems, ...stageProblems].some((some) => Object.keys(some).length > 0)
  const submit = (): void => {
    setTried(true)
    if (isWrong) return
    const { fields, seen } = draft
    const stages = [...draft.stages]
    if (unit)
      save.mutate({
        installationId: unit.installationId,
        fields,
        stages,
        seen: { fields: seen.fields, stages: [...seen.stages] },
      })
    else create.mutate({ siteId, fields, stages })
  }
  const change = (fields: Partial<InstallationFields>): void =>
    setDraft((before) => ({ ...before, fields: { ...before.fields, ...fields } }))
  const error = create.error ?? save.error
  const shown = isTried ? problems : {}
  return (
    <SecondSheet
      title={unit ? `Change ${unit.fields.name}` : `A unit for ${household}`}
      backTo="the household"
      onClose={onDone}
    >
      <form
        className="household-form"
        onSubmit={(event) => {
          event.preventDefault()
          submit()
        }}
      >
        <SheetPart title="The unit">
          <div className="fields">
            <TextField
              label="Where it stands"
              value={draft.fields.name}
              onChange={(name) => change({ name })}
              problem={shown.name}
              isRequired
            />
            <DateField label="Fitted on" value={draft.fields.fittedOn} onChange={(fittedOn) => change({ fittedOn })} />
            <NumberField
              label="Recovery"
              unit="%"
              note="Blank: as usual."
              digits={1}
              value={draft.fields.recoveryPercent}
              onChange={(recoveryPercent) => change({ recoveryPercent })}
              least={1}
              most={100}
            />
            <NumberField
              label="People who drink from it"
              note="Blank: the whole house."
              value={draft.fields.people}
              onChange={(people) => change({ people })}
              least={1}
              most={500}
            />
            <NumberField
              label="Own months for its filters"
              note="Blank: by the people."
              value={draft.fields.ownMonths}
              onChange={(ownMonths) => change({ ownMonths })}
              least={1}
              most={240}
            />
          </div>
          <TextField label="Note" value={draft.fields.note} onChange={(note) => change({ note })} lines={2} />
        </SheetPart>
        <SheetPart title="Stages, feed to tap">
          <StageList
            stages={draft.stages}
            parts={parts}
            problems={isTried ? stageProblems : []}
            onChange={(stages) => setDraft((before) => ({ ...before, stages }))}
          />
        </SheetPart>
        {error !== null && (
          <ProblemNote problem={problemOf(error)} id={problemOf(error).id} kept="What you typed is still here." />
        )}
        <div className="form-foot">
          <Button kind="primary" type="submit" isDisabled={create.isPending || save.isPending}>
            {unit ? 'Save the unit' : 'Add the unit'}
          </Button>
          <Button
            onPress={() => {
              discard()
              onDone()
            }}
          >
            {isChanged ? 'Throw away what I typed' : 'Leave the form'}
          </Button>
          {unit && <TakeOut unit={unit} onDone={done} />}
          {isTried && isWrong && <span className="bold">Something is still missing above.</span>}
        </div>
      </form>
    </SecondSheet>
  )
}

function TakeOut({ unit, onDone }: { readonly unit: Unit; readonly onDone: (said: string) => void }) {
  const [isOpen, setOpen] = useState(false)
  const [reason, setReason] = useState('')
  const remove = useMutation(
    ask.installations.remove.mutationOptions({ onSuccess: () => onDone(`${unit.fields.name} was taken out.`) }),
  )
  return (
    <>
      <Button kind="quiet" onPress={() => setOpen(true)}>
        Take the unit out
      </Button>
      <Decision
        isOpen={isOpen}
        title={`Take ${unit.fields.name} out?`}
        doIt="Take the unit out"
        onDoIt={() => remove.mutate({ installationId: unit.installationId, reason })}
        leaveIt="Keep the unit"
        onLeaveIt={() => setOpen(false)}
        isBusy={remove.isPending}
        isBlocked={reason.trim() === ''}
      >
        <p>Its {unit.stages.length} stages no longer fall due. What was done there stays in the books.</p>
        <TextField label="Why" value={reason} onChange={setReason} />
        {remove.error !== null && <ProblemNote problem={problemOf(remove.error)} id={problemOf(remove.error).id} />}
      </Decision>
    </>
  )
}

const USUAL_KINDS: readonly StageKind[] = ['sediment', 'carbon', 'membrane', 'tank', 'post-carbon']

const NEW_UNIT: InstallationFields = {
  name: 'The unit under the kitchen sink',
  fittedOn: null,
  recoveryPercent: null,
  people: null,
  drunkPerDay: null,
  ownMonths: null,
  note: '',
}

function newStage(kind: StageKind): StageFields {
  return {
    stageId: null,
    kind,
    label: '',
    partId: null,
    ownPartOnly: false,
    changedOn: null,
    ownMonths: null,
    ownDueOn: null,
    ownDueNote: '',
    ownDueEndsOn: null,
  }
}
