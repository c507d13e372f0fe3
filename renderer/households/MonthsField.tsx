import { monthName } from '../../core/units/date-words.ts'
import { CheckField } from '../design/CheckField.tsx'

interface MonthsFieldProps {
  readonly legend: string
  readonly note?: string
  /** Months of the year, 1 to 12, ascending. */
  readonly months: readonly number[]
  readonly onChange: (months: number[]) => void
  readonly problem?: string | undefined
}

const MONTHS = Array.from({ length: 12 }, (_, index) => index + 1)

/** Months of the year to tick. */
export function MonthsField({ legend, note, months, onChange, problem }: MonthsFieldProps) {
  return (
    <fieldset className="months-field">
      <legend className="field-label">{legend}</legend>
      <div>
        {MONTHS.map((month) => (
          <CheckField
            key={month}
            value={months.includes(month)}
            onChange={(isIn) => onChange(MONTHS.filter((other) => (other === month ? isIn : months.includes(other))))}
          >
            {monthName(month)}
          </CheckField>
        ))}
      </div>
      {note !== undefined && <p className="field-note">{note}</p>}
      {problem !== undefined && <p className="field-problem">{problem}</p>}
    </fieldset>
  )
}
