import { type FieldProps, TextField } from './Field.tsx'
import { useTypedText } from './fields-typed.ts'
import { useOffice } from './office-manner.ts'
import { readNumber, writeNumber } from './typed-number.ts'

interface NumberFieldProps extends FieldProps {
  readonly value: number | null
  readonly onChange: (value: number | null) => void
  /** Digits after the decimal sign that are kept; 0 for whole numbers. Default 0. */
  readonly digits?: number
  readonly least?: number
  readonly most?: number
}

/** A number with its unit: pieces, minutes, psi, mg/L. */
export function NumberField({ value, onChange, digits = 0, least, most, problem, ...rest }: NumberFieldProps) {
  const { locale } = useOffice()
  const typed = useTypedText(
    value,
    (number) => writeNumber(number, locale, digits),
    (text) => readNumber(text, locale, digits, least, most),
    onChange,
  )
  const bounds =
    least !== undefined && most !== undefined
      ? ` from ${least} to ${most}`
      : least !== undefined
        ? `, ${least} or more`
        : ''
  return (
    <TextField
      chars={9}
      {...rest}
      figures
      inputMode={digits === 0 ? 'numeric' : 'decimal'}
      value={typed.text}
      onChange={typed.onType}
      onBlur={typed.onLeave}
      problem={typed.isUnread ? `Write a ${digits === 0 ? 'whole ' : ''}number${bounds}.` : problem}
    />
  )
}
