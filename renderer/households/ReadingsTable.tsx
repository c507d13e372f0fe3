import { useMutation } from '@tanstack/react-query'
import { useState } from 'react'
import type { ReadingOnSheet } from '../../core/due/measurement-shapes.ts'
import { shortDate } from '../../core/units/date-words.ts'
import type { MeasureSystem } from '../../core/units/measures.ts'
import type { Figure } from '../../core/water/figures.ts'
import { fieldText, unitOf } from '../../core/water/read-figure.ts'
import { Button } from '../design/Button.tsx'
import { TextField } from '../design/Field.tsx'
import { useOffice } from '../design/office-manner.ts'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { useSay } from '../design/undo.ts'
import { DateText } from '../design/Words.tsx'
import { ask, office, problemOf } from '../shell/office-door.ts'

const SHOWN_AT_FIRST = 5
const FIGURES: readonly { readonly figure: Figure; readonly head: string }[] = [
  { figure: 'tdsIn', head: 'TDS in' },
  { figure: 'tdsOut', head: 'TDS out' },
  { figure: 'flow', head: 'Flow' },
  { figure: 'feedPressure', head: 'Feed' },
  { figure: 'tankPressure', head: 'Tank' },
  { figure: 'temperature', head: 'Water' },
  { figure: 'meter', head: 'Meter' },
]

/** Every reading of a unit, the latest first; each can be struck out with a reason, and taken back. */
export function ReadingsTable({ readings }: { readonly readings: readonly ReadingOnSheet[] }) {
  const { measures } = useOffice()
  const [isAll, setAll] = useState(false)
  const [striking, setStriking] = useState<ReadingOnSheet['readingId'] | null>(null)
  const columns = FIGURES.filter(({ figure }) => readings.some((reading) => reading[figure] !== null))
  const shown = isAll ? readings : readings.slice(0, SHOWN_AT_FIRST)
  return (
    <div className="readings">
      <table className="plain-table figures">
        <caption className="for-ears">Readings, the latest first</caption>
        <thead>
          <tr>
            <th scope="col">Measured</th>
            <th scope="col">
              Held back<span className="unit">%</span>
            </th>
            {columns.map(({ figure, head }) => (
              <th key={figure} scope="col">
                {head}
                <span className="unit">{unitOf(figure, measures)}</span>
              </th>
            ))}
            <th scope="col">
              <span className="for-ears">What to do</span>
            </th>
          </tr>
        </thead>
        {shown.map((reading) => (
          <tbody key={reading.readingId}>
            <ReadingRow
              reading={reading}
              columns={columns.map(({ figure }) => figure)}
              measures={measures}
              isStriking={striking === reading.readingId}
              onStrike={() => setStriking(striking === reading.readingId ? null : reading.readingId)}
            />
            {striking === reading.readingId && (
              <tr>
                <td colSpan={columns.length + 3}>
                  <StrikeOut reading={reading} onDone={() => setStriking(null)} />
                </td>
              </tr>
            )}
          </tbody>
        ))}
      </table>
      {readings.length > SHOWN_AT_FIRST && (
        <Button kind="quiet" onPress={() => setAll(!isAll)}>
          {isAll ? `Show the latest ${SHOWN_AT_FIRST}` : `Show all ${readings.length} readings`}
        </Button>
      )}
    </div>
  )
}

interface ReadingRowProps {
  readonly reading: ReadingOnSheet
  readonly columns: readonly Figure[]
  readonly measures: MeasureSystem
  readonly isStriking: boolean
  readonly onStrike: () => void
}

function ReadingRow({ reading, columns, measures, isStriking, onStrike }: ReadingRowProps) {
  const { locale } = useOffice()
  const say = useSay()
  const restore = useMutation(
    ask.due.restoreReading.mutationOptions({
      onSuccess: () => say({ said: `The reading of ${shortDate(reading.takenOn, locale)} counts again.` }),
    }),
  )
  const name = shortDate(reading.takenOn, locale)
  const remark = remarkOf(reading)
  return (
    <>
      <tr data-struck={reading.struck ? true : undefined}>
        <th scope="row">
          <DateText date={reading.takenOn} />
        </th>
        <td>{reading.rejectionPercent === null ? '' : reading.rejectionPercent.toFixed(0)}</td>
        {columns.map((figure) => (
          <td key={figure}>{fieldText(figure, reading[figure], measures)}</td>
        ))}
        <td className="readings-act">
          {reading.struck ? (
            <Button
              kind="quiet"
              onPress={() => restore.mutate({ readingId: reading.readingId })}
              aria-label={`Take back the striking of ${name}`}
            >
              Take back
            </Button>
          ) : (
            <Button kind="quiet" onPress={onStrike} aria-expanded={isStriking} aria-label={`Strike out ${name}`}>
              Strike out
            </Button>
          )}
        </td>
      </tr>
      {remark !== '' && (
        <tr className="readings-remark">
          <td colSpan={columns.length + 3}>{remark}</td>
        </tr>
      )}
    </>
  )
}

function remarkOf(reading: ReadingOnSheet): string {
  return [
    reading.struck ? `struck out: ${reading.struck.reason}` : '',
    !reading.struck && reading.unlikely ? 'unlikely, kept with its mark; no date rests on it' : '',
    reading.ofThisMembrane ? '' : 'an earlier membrane',
    reading.note,
  ]
    .filter((part) => part !== '')
    .join(' · ')
}

function StrikeOut({ reading, onDone }: { readonly reading: ReadingOnSheet; readonly onDone: () => void }) {
  const { locale } = useOffice()
  const say = useSay()
  const { readingId } = reading
  const strike = useMutation(
    ask.due.strikeReading.mutationOptions({
      onSuccess: () => {
        onDone()
        say({
          said: `The reading of ${shortDate(reading.takenOn, locale)} is struck out.`,
          undo: () => office.due.restoreReading({ readingId }),
          undone: 'The reading counts again.',
        })
      },
    }),
  )
  const [reason, setReason] = useState('')
  return (
    <form
      className="readings-strike"
      onSubmit={(event) => {
        event.preventDefault()
        if (reason.trim() !== '') strike.mutate({ readingId, reason })
      }}
    >
      <TextField label="Why it does not count" value={reason} onChange={setReason} autoFocus isRequired />
      <Button type="submit" isDisabled={reason.trim() === '' || strike.isPending}>
        Strike out this reading
      </Button>
      {strike.error !== null && <ProblemNote problem={problemOf(strike.error)} id={problemOf(strike.error).id} />}
    </form>
  )
}
