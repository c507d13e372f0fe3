import { useMutation } from '@tanstack/react-query'
import {
  DEFAULT_INTERVAL_RULES,
  type IntervalBasis,
  type IntervalRule,
} from '../../core/installations/interval-rules.ts'
import { STAGE_KIND_WORDS } from '../../core/installations/stage-kinds.ts'
import { Button } from '../design/Button.tsx'
import { ChoiceField } from '../design/ChoiceField.tsx'
import { NumberField } from '../design/NumberField.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SheetPart } from '../design/Sheet.tsx'
import { useSay } from '../design/undo.ts'
import { useDraft } from '../design/use-draft.ts'
import { ask, problemOf } from '../shell/office-door.ts'

const BASES: readonly { id: IntervalBasis; words: string }[] = [
  { id: 'household', words: 'people in the house' },
  { id: 'feed-water', words: 'hardness of the feed' },
  { id: 'fixed', words: 'nothing, always the same' },
]

interface TypedRule {
  readonly basis: IntervalBasis
  readonly monthsMost: number | null
  readonly monthsLeast: number | null
}

/** Months by kind of stage: the longest and the shortest, and what it goes by. */
export function IntervalRows({ rules }: { readonly rules: readonly IntervalRule[] }) {
  return (
    <SheetPart title="Months by kind of stage" aside="a rated volume or a measurement may come first">
      <ul>
        {rules.map((rule) => (
          <IntervalRow key={rule.stageKind} rule={rule} />
        ))}
      </ul>
    </SheetPart>
  )
}

function IntervalRow({ rule }: { readonly rule: IntervalRule }) {
  const say = useSay()
  const { stageKind } = rule
  const { name } = STAGE_KIND_WORDS[stageKind]
  const usual = DEFAULT_INTERVAL_RULES.find((each) => each.stageKind === stageKind)
  const isUsual = JSON.stringify(usual) === JSON.stringify(rule)
  const initial: TypedRule = { basis: rule.basis, monthsMost: rule.monthsMost, monthsLeast: rule.monthsLeast }
  const { draft, setDraft, discard, isChanged } = useDraft<TypedRule>(`interval-${stageKind}`, initial)
  const change = useMutation(ask.settings.changeInterval.mutationOptions())
  const failure = change.error ? problemOf(change.error) : null
  const { monthsMost, monthsLeast: typedLeast, basis } = draft
  const monthsLeast = basis === 'fixed' ? monthsMost : typedLeast
  const isReady = monthsMost !== null && monthsLeast !== null && monthsLeast <= monthsMost
  const put = (next: IntervalRule | null): void =>
    change.mutate(
      { stageKind, rule: next },
      {
        onSuccess: () => {
          discard()
          say({
            said: `${name}: the months are changed. Due dates follow.`,
            undo: () => change.mutateAsync({ stageKind, rule }),
            undone: `${name} is as it was.`,
          })
        },
      },
    )
  return (
    <li className="interval-row">
      <p className="bold">{name}</p>
      <ChoiceField
        label={`${name} goes by`}
        choices={[...BASES]}
        value={basis}
        onChange={(next) => setDraft((was) => ({ ...was, basis: next }))}
        chars={18}
      />
      <NumberField
        label={basis === 'fixed' ? 'Always' : 'Longest'}
        unit="months"
        least={1}
        most={240}
        chars={4}
        value={monthsMost}
        onChange={(next) => setDraft((was) => ({ ...was, monthsMost: next }))}
      />
      {basis !== 'fixed' && (
        <NumberField
          label="Shortest"
          unit="months"
          least={1}
          most={240}
          chars={4}
          value={typedLeast}
          onChange={(next) => setDraft((was) => ({ ...was, monthsLeast: next }))}
          problem={
            monthsMost !== null && typedLeast !== null && typedLeast > monthsMost ? 'Longer than the longest.' : null
          }
        />
      )}
      <div className="setting-actions">
        {isChanged && (
          <>
            <Button
              kind="primary"
              isDisabled={!isReady || change.isPending}
              onPress={() =>
                monthsMost !== null && monthsLeast !== null && put({ stageKind, basis, monthsMost, monthsLeast })
              }
            >
              Save
            </Button>
            <Button kind="quiet" onPress={discard}>
              Leave it
            </Button>
          </>
        )}
        {!isChanged && !isUsual && (
          <Button kind="quiet" onPress={() => put(null)} aria-label={`Put ${name} back to the usual months`}>
            Back to{' '}
            {usual?.monthsMost === usual?.monthsLeast
              ? usual?.monthsMost
              : `${usual?.monthsMost} and ${usual?.monthsLeast}`}
          </Button>
        )}
      </div>
      {failure && <ProblemNote problem={failure} id={failure.id} />}
    </li>
  )
}
