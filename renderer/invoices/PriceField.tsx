import { TextField } from '../design/Field.tsx'
import { useTypedText } from '../design/fields-typed.ts'
import { useOffice } from '../design/office-manner.ts'
import { readNumber } from '../design/typed-number.ts'

interface PriceFieldProps {
  readonly label: string
  readonly value: number | null
  readonly onChange: (value: number | null) => void
}

/** The price of one: two decimals, up to four where it has them. */
export function PriceField({ label, value, onChange }: PriceFieldProps) {
  const { locale } = useOffice()
  const typed = useTypedText(
    value,
    (price) => price.toLocaleString(locale, { minimumFractionDigits: 2, maximumFractionDigits: 4 }),
    (text) => readNumber(text, locale, 4),
    onChange,
  )
  const problem = typed.isUnread ? 'Write it like 64 or 0.1212.' : value === null ? 'What does one cost?' : null
  return (
    <TextField
      label={label}
      chars={7}
      figures
      inputMode="decimal"
      value={typed.text}
      onChange={typed.onType}
      onBlur={typed.onLeave}
      problem={problem}
    />
  )
}
