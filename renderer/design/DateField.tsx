import type { CalendarDate } from '../../core/units/calendar-date.ts'
import { agoInWords, shortDate, weekdayName } from '../../core/units/date-words.ts'
import { parseTypedDate } from '../../core/units/typed-date.ts'
import { type FieldProps, TextField } from './Field.tsx'
import { useTypedText } from './fields-typed.ts'
import { useOffice } from './office-manner.ts'

interface DateFieldProps extends FieldProps {
  readonly value: CalendarDate | null
  readonly onChange: (value: CalendarDate | null) => void
}

/** A date, typed: in the office's manner, ISO, "Nov 9", "tomorrow", "monday", "+14". Says which weekday that is, and how far away. */
export function DateField({ value, onChange, problem, note, ...rest }: DateFieldProps) {
  const { today, locale } = useOffice()
  const typed = useTypedText(
    value,
    (date) => shortDate(date, locale),
    (text) => parseTypedDate(text, today, locale),
    onChange,
  )
  return (
    <TextField
      chars={14}
      {...rest}
      value={typed.text}
      onChange={typed.onType}
      onBlur={typed.onLeave}
      note={value === null ? note : `${weekdayName(value)}, ${agoInWords(value, today)}`}
      problem={
        typed.isUnread ? `This is not a date. Write it like ${shortDate(today, locale)}, “tomorrow” or “+14”.` : problem
      }
    />
  )
}
