import type { UnitShape } from '../../core/visits/visit-shapes.ts'
import { FIGURE_NAMES, type Figure } from '../../core/water/figures.ts'
import { unitOf } from '../../core/water/read-figure.ts'
import { rejectionInWords, rejectionOf } from '../../core/water/rejection.ts'
import { CheckField } from '../design/CheckField.tsx'
import { TextField } from '../design/Field.tsx'
import { useOffice } from '../design/office-manner.ts'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SheetPart } from '../design/Sheet.tsx'
import { useOfficeState } from '../shell/office-state.ts'
import type { ReadFigures, TypedFigures } from './report-draft.ts'

interface ReadingFieldsProps {
  readonly unit: UnitShape
  readonly isNamed: boolean
  readonly typed: TypedFigures
  readonly read: ReadFigures
  readonly confirmed: boolean
  readonly onConfirmed: (confirmed: boolean) => void
  readonly onTyped: (typed: TypedFigures) => void
}

/** What was measured at a unit. A unit can be typed with a figure ("4.1 bar"); what cannot be is said at once, what is unlikely is asked. */
export function ReadingFields(props: ReadingFieldsProps) {
  const { unit, typed, read, onTyped } = props
  const { measures } = useOffice()
  const { settings } = useOfficeState()
  const rejection = rejectionOf(read.figures)
  const last =
    unit.lastRejection === null ? undefined : `last time ${Math.round(unit.lastRejection)} of 100 parts held back`
  return (
    <SheetPart title={props.isNamed ? `Readings, ${unit.name}` : 'Readings'} aside={last}>
      <div className="report-readings">
        {(Object.keys(FIGURE_NAMES) as Figure[]).map((figure) => (
          <TextField
            key={figure}
            label={FIGURE_NAMES[figure]}
            unit={unitOf(figure, measures)}
            value={typed[figure]}
            onChange={(text) => onTyped({ ...typed, [figure]: text })}
            problem={read.problems[figure] ?? null}
            inputMode="decimal"
            figures
          />
        ))}
      </div>
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
          <CheckField glove value={props.confirmed} onChange={props.onConfirmed}>
            The figures are right; keep them with a mark
          </CheckField>
        )}
      </div>
    </SheetPart>
  )
}
