import { FIGURE_NAMES, type Figure, figureText } from '../../core/water/figures.ts'
import { type TypingManner, unitOf } from '../../core/water/read-figure.ts'
import { rejectionInWords, rejectionOf } from '../../core/water/rejection.ts'
import { CheckField } from '../design/CheckField.tsx'
import { TextField } from '../design/Field.tsx'
import { useOffice } from '../design/office-manner.ts'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { useOfficeState } from '../shell/office-state.ts'
import type { ReadFigures, TypedFigures } from './report-draft.ts'
import { TimedFlow } from './TimedFlow.tsx'
import './report.css'

interface ReadingFieldsProps {
  readonly typed: TypedFigures
  readonly read: ReadFigures
  readonly confirmed: boolean
  readonly onConfirmed: (confirmed: boolean) => void
  readonly onTyped: (typed: TypedFigures) => void
}

/** What was measured at a unit. A unit can be typed with a figure ("4.1 bar"); what cannot be is said at once, what is unlikely is asked. */
export function ReadingFields({ typed, read, confirmed, onConfirmed, onTyped }: ReadingFieldsProps) {
  const { measures } = useOffice()
  const { settings } = useOfficeState()
  const rejection = rejectionOf(read.figures)
  return (
    <>
      <div className="report-readings">
        {(Object.keys(FIGURE_NAMES) as Figure[]).map((figure) => (
          <TextField
            key={figure}
            label={FIGURE_NAMES[figure]}
            unit={unitOf(figure, measures)}
            value={typed[figure] ?? ''}
            onChange={(text) => onTyped({ ...typed, [figure]: text })}
            problem={read.problems[figure] ?? null}
            note={asRead(figure, typed, read, { measures, meterFactor: settings.meterFactor })}
            inputMode="decimal"
            figures
          />
        ))}
      </div>
      <TimedFlow onTimed={(flow) => onTyped({ ...typed, flow })} />
      <div className="report-said" aria-live="polite">
        {rejection !== null && read.judged.impossible.length === 0 && (
          <p>The membrane {rejectionInWords(rejection, settings)}.</p>
        )}
        {read.judged.impossible.map((problem) => (
          <ProblemNote key={problem.sentence} problem={problem} />
        ))}
        {read.judged.questions.map((question) => (
          <p key={question}>{question}</p>
        ))}
        {read.judged.questions.length > 0 && (
          <CheckField glove value={confirmed} onChange={onConfirmed}>
            The figures are right; keep them with a mark
          </CheckField>
        )}
      </div>
    </>
  )
}

/** A figure that was typed with a unit of its own, as it was understood: "412 mg/L". What can be typed, while nothing is. */
function asRead(figure: Figure, typed: TypedFigures, read: ReadFigures, manner: TypingManner): string | undefined {
  const text = (typed[figure] ?? '').trim()
  if (text === '' && figure === 'tdsIn') return `or µS/cm, times ${manner.meterFactor}`
  const value = read.figures[figure]
  if (value === null || /^[-+−]?[\d.,\s]*$/.test(text)) return undefined
  return `is ${figureText(figure, value, manner.measures)}`
}
