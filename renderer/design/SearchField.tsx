import type { KeyboardEvent, Ref } from 'react'
import { SearchField as AriaSearchField, Input, Label } from 'react-aria-components'
import './field.css'

interface SearchFieldProps {
  readonly label: string
  readonly value: string
  readonly onChange: (value: string) => void
  readonly placeholder?: string
  readonly onSubmit?: () => void
  readonly onKeyDown?: (event: KeyboardEvent) => void
  /** A key that leads here, shown at its end: "/". */
  readonly shortcut?: string
  readonly inputRef?: Ref<HTMLInputElement>
}

/** Finds as one types. Escape clears it first, then goes back. */
export function SearchField({
  label,
  value,
  onChange,
  placeholder,
  onSubmit,
  onKeyDown,
  shortcut,
  inputRef,
}: SearchFieldProps) {
  return (
    <AriaSearchField
      className="field search-field"
      value={value}
      onChange={onChange}
      {...(onSubmit ? { onSubmit } : {})}
    >
      <Label className="for-ears">{label}</Label>
      <Input ref={inputRef} className="field-input" placeholder={placeholder} {...(onKeyDown ? { onKeyDown } : {})} />
      {shortcut !== undefined && value === '' && (
        <span className="search-key" aria-hidden="true">
          {shortcut}
        </span>
      )}
    </AriaSearchField>
  )
}
