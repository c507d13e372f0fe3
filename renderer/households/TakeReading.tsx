import { useMutation } from '@tanstack/react-query'
import { useMemo } from 'react'
import type { UnitMeasurements } from '../../core/due/measurement-shapes.ts'
import type { CalendarDate } from '../../core/units/calendar-date.ts'
import { isNothingMeasured } from '../../core/water/figures.ts'
import { Button } from '../design/Button.tsx'
import { DateField } from '../design/DateField.tsx'
import { TextField } from '../design/Field.tsx'
import { useOffice } from '../design/office-manner.ts'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { useSay } from '../design/undo.ts'
import { useDraft } from '../design/use-draft.ts'
import { ask, office, problemOf } from '../shell/office-door.ts'
import { useOfficeState } from '../shell/office-state.ts'
import { ReadingFields } from '../visits/ReadingFields.tsx'
import { readTyped, type TypedFigures } from '../visits/report-draft.ts'

interface ReadingDraft {
  readonly takenOn: CalendarDate | null
  readonly typed: TypedFigures
  readonly note: string
  readonly confirmed: boolean
}

const NOTHING_TYPED: TypedFigures = {
  tdsIn: '',
  tdsOut: '',
  flow: '',
  feedPressure: '',
  tankPressure: '',
  temperature: '',
  meter: '',
}

/** A reading taken outside a visit: somebody rang with figures, or the technician passed by. */
export function TakeReading({ unit, onDone }: { readonly unit: UnitMeasurements; readonly onDone: () => void }) {
  const { today, measures } = useOffice()
  const { meterFactor } = useOfficeState().settings
  const say = useSay()
  const initial = useMemo<ReadingDraft>(
    () => ({ takenOn: today, typed: NOTHING_TYPED, note: '', confirmed: false }),
    [today],
  )
  const { draft, setDraft, discard } = useDraft(`reading-${unit.installationId}`, initial)
  const change = (part: Partial<ReadingDraft>): void => setDraft((before) => ({ ...before, ...part }))
  const read = readTyped(draft.typed, earlierOf(unit, draft.takenOn), { measures, meterFactor })
  const take = useMutation(
    ask.due.takeReading.mutationOptions({
      onSuccess: ({ readingId, unlikely }) => {
        discard()
        onDone()
        say({
          said: unlikely ? 'The reading is kept with its mark; no date rests on it.' : 'The reading is in the books.',
          undo: () => office.due.strikeReading({ readingId, reason: 'undone' }),
          undone: 'The reading is struck out.',
        })
      },
    }),
  )
  const isBlocked =
    draft.takenOn === null ||
    isNothingMeasured(read.figures) ||
    Object.keys(read.problems).length > 0 ||
    read.judged.impossible.length > 0 ||
    (read.judged.questions.length > 0 && !draft.confirmed) ||
    take.isPending
  return (
    <form
      className="take-reading"
      onSubmit={(event) => {
        event.preventDefault()
        if (draft.takenOn === null || isBlocked) return
        const { takenOn, note, confirmed } = draft
        take.mutate({ installationId: unit.installationId, takenOn, figures: read.figures, note, confirmed })
      }}
    >
      <div className="fields">
        <DateField label="Measured on" value={draft.takenOn} onChange={(takenOn) => change({ takenOn })} />
        <TextField label="Note" value={draft.note} onChange={(note) => change({ note })} />
      </div>
      <ReadingFields
        typed={draft.typed}
        read={read}
        confirmed={draft.confirmed}
        onConfirmed={(confirmed) => change({ confirmed })}
        onTyped={(typed) => change({ typed })}
      />
      {take.error !== null && (
        <ProblemNote
          problem={problemOf(take.error)}
          id={problemOf(take.error).id}
          kept="What you typed is still here."
        />
      )}
      <div className="form-foot">
        <Button kind="primary" type="submit" isDisabled={isBlocked}>
          Keep this reading
        </Button>
        <Button
          onPress={() => {
            discard()
            onDone()
          }}
        >
          Leave it
        </Button>
      </div>
    </form>
  )
}

/** What the unit showed before that day, for the question whether the new figures are likely. */
function earlierOf(unit: UnitMeasurements, takenOn: CalendarDate | null) {
  const before = unit.readings.filter((one) => !one.struck && (takenOn === null || one.takenOn <= takenOn))
  return {
    rejection:
      before.find((one) => one.ofThisMembrane && !one.unlikely && one.rejectionPercent !== null)?.rejectionPercent ??
      null,
    meter: before.find((one) => one.meter !== null)?.meter ?? null,
  }
}
