import { formatTimeOfDay, parseTimeOfDay, type TimeOfDay } from '../../core/units/time-of-day.ts'
import { type FieldProps, TextField } from './Field.tsx'
import { useTypedText } from './fields-typed.ts'
import { useOffice } from './office-manner.ts'

interface TimeFieldProps extends FieldProps {
  readonly value: TimeOfDay | null
  readonly onChange: (value: TimeOfDay | null) => void
}

/** A time of day, typed: "8", "8:30", "2 pm", "14:05". */
export function TimeField({ value, onChange, problem, ...rest }: TimeFieldProps) {
  const { locale } = useOffice()
  const typed = useTypedText(value, (time) => formatTimeOfDay(time, locale), parseTimeOfDay, onChange)
  return (
    <TextField
      chars={9}
      {...rest}
      value={typed.text}
      onChange={typed.onType}
      onBlur={typed.onLeave}
      problem={typed.isUnread ? 'This is not a time of day. Write it like 8, 8:30 or 2 pm.' : problem}
    />
  )
}
