import { type Cents, formatCents, parseCents } from '../../core/units/money.ts'
import { type FieldProps, TextField } from './Field.tsx'
import { useTypedText } from './fields-typed.ts'
import { useOffice } from './office-manner.ts'

interface MoneyFieldProps extends FieldProps {
  /** Whole cents; null when empty or not understood. */
  readonly value: Cents | null
  readonly onChange: (value: Cents | null) => void
}

/** An amount, typed as people type it, kept as whole cents. */
export function MoneyField({ value, onChange, problem, ...rest }: MoneyFieldProps) {
  const { currency, locale } = useOffice()
  const typed = useTypedText(
    value,
    (amount) => formatCents(amount, currency, locale, true),
    (text) => parseCents(text, currency),
    onChange,
  )
  return (
    <TextField
      chars={12}
      {...rest}
      figures
      inputMode="decimal"
      unit={currency}
      value={typed.text}
      onChange={typed.onType}
      onBlur={typed.onLeave}
      problem={typed.isUnread ? 'This is not an amount. Write it like 64 or 64.50.' : problem}
    />
  )
}
