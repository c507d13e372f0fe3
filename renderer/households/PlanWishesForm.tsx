import { useMutation } from '@tanstack/react-query'
import { useMemo } from 'react'
import type { HouseholdPlan, PlanWishes } from '../../core/visits/plan-shapes.ts'
import { Button } from '../design/Button.tsx'
import { CheckField } from '../design/CheckField.tsx'
import { ChoiceField } from '../design/ChoiceField.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { useSay } from '../design/undo.ts'
import { useDraft } from '../design/use-draft.ts'
import { ask, problemOf } from '../shell/office-door.ts'
import { MonthsField } from './MonthsField.tsx'

const EARLY = [
  { id: 'office', words: 'as in the whole office' },
  { id: 'never', words: 'never before it is due' },
  { id: 'may', words: 'where it saves a visit' },
] as const
type Early = (typeof EARLY)[number]['id']

/** What a household wishes of its plan: months to keep out of, the membrane, days with a neighbouring place. */
export function PlanWishesForm({ plan }: { readonly plan: HouseholdPlan }) {
  const initial = useMemo(() => plan.wishes, [plan.wishes])
  const { draft, setDraft, discard, isChanged } = useDraft(`plan-wishes-${plan.siteId}`, initial)
  const say = useSay()
  const save = useMutation(
    ask.visits.planWishes.mutationOptions({
      onSuccess: () => {
        discard()
        say({ said: 'The visits are planned again by these wishes.' })
      },
    }),
  )
  const change = (part: Partial<PlanWishes>): void => setDraft((before) => ({ ...before, ...part }))
  const early: Early = draft.membraneNeverEarly === null ? 'office' : draft.membraneNeverEarly ? 'never' : 'may'
  return (
    <details className="household-log" open={isChanged || undefined}>
      <summary>Wishes{plan.wishesInForce.length === 0 ? ': none' : `: ${plan.wishesInForce.join('; ')}`}</summary>
      <form
        className="plan-wishes"
        onSubmit={(event) => {
          event.preventDefault()
          save.mutate({ siteId: plan.siteId, version: plan.version, wishes: draft })
        }}
      >
        <MonthsField
          legend="No visit in"
          months={draft.avoidMonths}
          onChange={(avoidMonths) => change({ avoidMonths })}
        />
        <ChoiceField
          label="Changing the membrane early"
          choices={EARLY}
          value={early}
          onChange={(next) => change({ membraneNeverEarly: next === 'office' ? null : next === 'never' })}
          chars={26}
        />
        <CheckField value={draft.align} onChange={(align) => change({ align })}>
          On days when another place of the same customer is visited, where that saves a call
        </CheckField>
        {save.error !== null && (
          <ProblemNote
            problem={problemOf(save.error)}
            id={problemOf(save.error).id}
            kept="What you chose is still here."
          />
        )}
        <div className="form-foot">
          <Button type="submit" isDisabled={!isChanged || save.isPending}>
            Plan by these wishes
          </Button>
          {isChanged && (
            <Button kind="quiet" onPress={discard}>
              Leave them as they were
            </Button>
          )}
        </div>
      </form>
    </details>
  )
}
