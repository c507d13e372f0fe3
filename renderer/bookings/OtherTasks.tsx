import { Button } from '../design/Button.tsx'
import { CheckField } from '../design/CheckField.tsx'
import { TextField } from '../design/Field.tsx'
import { NumberField } from '../design/NumberField.tsx'
import { lacksWords, type OtherTask, READINGS } from './booking-draft.ts'

interface OtherTasksProps {
  readonly others: readonly OtherTask[]
  readonly onChange: (others: readonly OtherTask[]) => void
}

/** What belongs to no stage: the readings, and whatever somebody writes down, each with its minutes. */
export function OtherTasks({ others, onChange }: OtherTasksProps) {
  const set = (index: number, part: Partial<OtherTask>) =>
    onChange(others.map((task, at) => (at === index ? { ...task, ...part } : task)))
  const readings = others.findIndex((task) => task.kind === 'measure')
  const written = others.flatMap((task, index) => (task.kind === 'other' ? [{ task, index }] : []))
  return (
    <div className="other-tasks">
      <div className="readings-task">
        <CheckField
          value={readings >= 0}
          onChange={(wanted) => onChange(wanted ? [READINGS, ...others] : others.toSpliced(readings, 1))}
        >
          Take the readings
        </CheckField>
        {readings >= 0 ? (
          <MinutesField
            label="Minutes for the readings"
            value={others[readings]?.minutes ?? null}
            onChange={(minutes) => set(readings, { minutes })}
          />
        ) : (
          <span className="second small">TDS, flow and pressures, for a call that changes nothing</span>
        )}
      </div>
      {written.map(({ task, index }, place) => (
        <div key={`other-${String(index)}`} className="other-task">
          <TextField
            label={`Other task ${place + 1}`}
            value={task.description}
            onChange={(description) => set(index, { description })}
            problem={
              lacksWords(task) && (task.minutes ?? 0) !== USUAL_MINUTES ? 'Say in a few words what it is.' : undefined
            }
            autoFocus={lacksWords(task)}
          />
          <MinutesField label="Minutes" value={task.minutes} onChange={(minutes) => set(index, { minutes })} />
          <Button kind="quiet" onPress={() => onChange(others.toSpliced(index, 1))}>
            Take away task {place + 1}
          </Button>
        </div>
      ))}
      <Button
        kind="quiet"
        onPress={() => onChange([...others, { kind: 'other', description: '', minutes: USUAL_MINUTES }])}
      >
        Write down another task
      </Button>
    </div>
  )
}

const USUAL_MINUTES = 10

interface MinutesFieldProps {
  readonly label: string
  readonly value: number | null
  readonly onChange: (minutes: number | null) => void
}

function MinutesField({ label, value, onChange }: MinutesFieldProps) {
  return <NumberField label={label} value={value} onChange={onChange} chars={5} least={0} most={600} />
}
