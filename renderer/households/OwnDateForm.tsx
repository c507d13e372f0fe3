import { useMutation } from '@tanstack/react-query'
import { useState } from 'react'
import type { HouseholdSheet } from '../../core/due/due-contract.ts'
import type { StageRules } from '../../core/due/rules-shapes.ts'
import { Button } from '../design/Button.tsx'
import { DateField } from '../design/DateField.tsx'
import { TextField } from '../design/Field.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { useSay } from '../design/undo.ts'
import { ask, problemOf } from '../shell/office-door.ts'

type Unit = HouseholdSheet['units'][number]
type Stage = Unit['stages'][number]

interface OwnDateFormProps {
  readonly unit: Unit
  readonly rules: StageRules
  readonly onDone: () => void
}

/** A person's own date for one stage, with why, and until when it stands. */
export function OwnDateForm({ unit, rules, onDone }: OwnDateFormProps) {
  const [own, setOwn] = useState({
    dueOn: rules.own?.dueOn ?? null,
    note: rules.own?.note ?? '',
    endsOn: rules.own?.endsOn ?? null,
  })
  const say = useSay()
  const save = useMutation(
    ask.installations.save.mutationOptions({
      onSuccess: () => {
        onDone()
        say({ said: `${rules.label}: its due date is reckoned again.` })
      },
    }),
  )
  const set = (change: Partial<Stage>): void => {
    const stages = unit.stages.map((stage) => (stage.stageId === rules.stageId ? { ...stage, ...change } : stage))
    const { installationId, fields } = unit
    save.mutate({ installationId, fields, stages, seen: { fields, stages: [...unit.stages] } })
  }
  const isEarly = own.dueOn !== null && own.endsOn !== null && own.endsOn < own.dueOn
  return (
    <form
      className="own-date"
      onSubmit={(event) => {
        event.preventDefault()
        if (own.dueOn !== null) set({ ownDueOn: own.dueOn, ownDueNote: own.note, ownDueEndsOn: own.endsOn })
      }}
    >
      <div className="fields">
        <DateField label="Due on" value={own.dueOn} onChange={(dueOn) => setOwn({ ...own, dueOn })} autoFocus />
        <TextField label="Why that date" value={own.note} onChange={(note) => setOwn({ ...own, note })} />
        <DateField
          label="It stands until"
          note={isEarly ? 'It ends before it comes: the rules speak again then.' : 'Blank: until the stage is changed.'}
          value={own.endsOn}
          onChange={(endsOn) => setOwn({ ...own, endsOn })}
        />
      </div>
      {save.error !== null && (
        <ProblemNote
          problem={problemOf(save.error)}
          id={problemOf(save.error).id}
          kept="What you typed is still here."
        />
      )}
      <div className="form-foot">
        <Button kind="primary" type="submit" isDisabled={own.dueOn === null || save.isPending}>
          Set this date
        </Button>
        {rules.own !== null && (
          <Button
            isDisabled={save.isPending}
            onPress={() => set({ ownDueOn: null, ownDueNote: '', ownDueEndsOn: null })}
          >
            Let the rules speak again
          </Button>
        )}
        <Button kind="quiet" onPress={onDone}>
          Leave it
        </Button>
      </div>
    </form>
  )
}
