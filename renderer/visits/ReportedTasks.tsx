import { shortDate } from '../../core/units/date-words.ts'
import type { ReportForm as FormAnswer, LotToFit } from '../../core/visits/report-shapes.ts'
import { Button } from '../design/Button.tsx'
import { CheckField } from '../design/CheckField.tsx'
import { ChoiceField } from '../design/ChoiceField.tsx'
import { useOffice } from '../design/office-manner.ts'
import { SheetPart } from '../design/Sheet.tsx'
import { lotKey, type ReportDraft, type TaskDraft, taskForStage } from './report-draft.ts'

interface ReportedTasksProps {
  readonly form: FormAnswer
  readonly draft: ReportDraft
  readonly onDraft: (next: (draft: ReportDraft) => ReportDraft) => void
}

/** What was done, task by task; and the stages that were not planned, to be taken up. */
export function ReportedTasks({ form, draft, onDraft }: ReportedTasksProps) {
  const set = (key: string, part: Partial<TaskDraft>) =>
    onDraft((before) => ({
      ...before,
      tasks: before.tasks.map((task) => (task.key === key ? { ...task, ...part } : task)),
    }))
  const named = new Set(draft.tasks.map((task) => task.stageId))
  const others = form.visit.units.flatMap((unit) =>
    unit.stages.filter((stage) => !named.has(stage.stageId)).map((stage) => ({ unit, stage })),
  )
  const doneTasks = draft.tasks.filter((task) => task.done).length
  return (
    <SheetPart title="What was done" aside={`${doneTasks} of ${draft.tasks.length}`}>
      <ul className="report-tasks">
        {draft.tasks.map((task) => (
          <li key={task.key}>
            <CheckField glove value={task.done} onChange={(done) => set(task.key, { done })}>
              {wordsOf(task)}
            </CheckField>
            {task.kind === 'change' && task.done && (
              <Fitted
                task={task}
                lots={form.lots}
                onLot={(lot) => set(task.key, { lot })}
                onFree={(freeOfCharge) => set(task.key, { freeOfCharge })}
                kept={form.visit.tasks.find((one) => one.taskId === task.taskId)?.lotCode ?? ''}
              />
            )}
          </li>
        ))}
      </ul>
      {others.length > 0 && (
        <div className="report-more">
          {others.map(({ unit, stage }) => (
            <Button
              key={stage.stageId}
              kind="quiet"
              onPress={() => {
                const task = taskForStage(unit, stage.stageId, form.lots)
                if (task) onDraft((before) => ({ ...before, tasks: [...before.tasks, task] }))
              }}
            >
              Also did {stage.label.toLowerCase()}
            </Button>
          ))}
        </div>
      )}
    </SheetPart>
  )
}

function wordsOf(task: TaskDraft): string {
  if (task.kind === 'change') return `Changed ${task.label.toLowerCase()}`
  if (task.kind === 'sanitise') return `Sanitised ${task.label.toLowerCase()}`
  return task.label
}

const NOT_KNOWN = 'not-known'

function Fitted(props: {
  readonly task: TaskDraft
  readonly lots: readonly LotToFit[]
  readonly kept: string
  readonly onLot: (lot: string) => void
  readonly onFree: (freeOfCharge: boolean) => void
}) {
  const { locale } = useOffice()
  const { task } = props
  const own = props.lots.filter((lot) => lot.partId === task.partId)
  const choices = own.map((lot) => ({
    id: lotKey(lot),
    words: `${lot.code}, ${lot.onVan ? 'own van' : lot.place}`,
    note: `${lot.quantity} there${lot.expiresOn === null ? '' : `, to ${shortDate(lot.expiresOn, locale)}`}`,
  }))
  // The lot that was recorded may be used up by now; it stays to be chosen.
  if (task.lot !== '' && !choices.some((choice) => choice.id === task.lot))
    choices.unshift({ id: task.lot, words: props.kept || 'as recorded', note: 'as recorded before' })
  return (
    <div className="report-fitted">
      <span className="second">{task.partName || 'No part is named for this stage.'}</span>
      {task.partId !== null && (
        <ChoiceField
          label={`Lot of ${task.label.toLowerCase()}`}
          choices={[...choices, { id: NOT_KNOWN, words: 'not known', note: 'nothing leaves the van for it' }]}
          value={task.lot === '' ? NOT_KNOWN : task.lot}
          onChange={(id) => props.onLot(id === NOT_KNOWN ? '' : id)}
        />
      )}
      <CheckField value={task.freeOfCharge} onChange={props.onFree}>
        Free of charge
      </CheckField>
    </div>
  )
}
