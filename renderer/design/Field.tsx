import type { ReactNode } from 'react'
import { TextField as AriaTextField, FieldError, Input, Label, Text, TextArea } from 'react-aria-components'
import './field.css'

/** What every field has. */
export interface FieldProps {
  readonly label: string
  /** A quiet line below: what to write here, or what it means. */
  readonly note?: ReactNode
  /** What is wrong with it, and what to do. Absent or null when nothing is. */
  readonly problem?: string | null | undefined
  /** Small, after the figure: "gal", "psi", "minutes". */
  readonly unit?: string | undefined
  /** Width in characters; the whole place when absent. */
  readonly chars?: number
  readonly isRequired?: boolean
  readonly isDisabled?: boolean
  readonly autoFocus?: boolean
  readonly name?: string
}

export interface TextFieldProps extends FieldProps {
  readonly value: string
  readonly onChange: (value: string) => void
  readonly onBlur?: () => void
  /** Enter in the field; true when it is dealt with, so that the form is not sent. */
  readonly onEnter?: () => boolean
  readonly placeholder?: string
  /** Several lines, at least this many. */
  readonly lines?: number
  readonly type?: 'text' | 'email' | 'tel' | 'password'
  readonly autoComplete?: string
  readonly figures?: boolean
  readonly inputMode?: 'text' | 'numeric' | 'decimal' | 'tel' | 'email'
}

/** One line of text, or several. */
export function TextField(props: TextFieldProps) {
  const {
    label,
    note,
    problem,
    unit,
    chars,
    lines,
    value,
    onChange,
    placeholder,
    figures,
    inputMode,
    onBlur,
    onEnter,
    ...rest
  } = props
  const width = chars === undefined ? undefined : { width: `calc(${chars}ch + 16px)` }
  const className = figures ? 'field-input figures' : 'field-input'
  return (
    <AriaTextField
      {...rest}
      className="field"
      value={value}
      onChange={onChange}
      {...(onBlur ? { onBlur } : {})}
      {...(onEnter ? { onKeyDown: (event) => event.key === 'Enter' && onEnter() && event.preventDefault() } : {})}
      isInvalid={problem !== undefined && problem !== null}
      validationBehavior="aria"
    >
      <Label className="field-label">{label}</Label>
      <span className="field-line">
        {lines === undefined ? (
          <Input className={className} style={width} placeholder={placeholder} inputMode={inputMode} />
        ) : (
          <TextArea className="field-input" rows={lines} placeholder={placeholder} />
        )}
        {unit !== undefined && <span className="field-unit">{unit}</span>}
      </span>
      {note !== undefined && (
        <Text slot="description" className="field-note">
          {note}
        </Text>
      )}
      <FieldError className="field-problem">{problem ?? undefined}</FieldError>
    </AriaTextField>
  )
}
