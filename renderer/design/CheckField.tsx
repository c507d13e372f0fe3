import type { ReactNode } from 'react'
import { Checkbox } from 'react-aria-components'
import { CheckMark } from './CheckMark.tsx'
import './field.css'

interface CheckFieldProps {
  readonly children: ReactNode
  readonly value: boolean
  readonly onChange: (value: boolean) => void
  readonly isDisabled?: boolean
  /** Some of what it stands for, not all. */
  readonly isSome?: boolean
  /** 48 px with a tick, for a thumb in a glove: work that is ticked off. */
  readonly glove?: boolean
  readonly 'aria-label'?: string
}

/** Yes or no. */
export function CheckField({ children, value, onChange, isSome = false, glove = false, ...rest }: CheckFieldProps) {
  return (
    <Checkbox
      {...rest}
      {...(glove ? { 'data-glove': true } : {})}
      className="check-field"
      isSelected={value}
      isIndeterminate={isSome}
      onChange={onChange}
    >
      {({ isSelected, isIndeterminate }) => (
        <>
          <CheckMark state={isIndeterminate ? 'some' : isSelected ? 'all' : 'none'} tick={glove} />
          {children}
        </>
      )}
    </Checkbox>
  )
}
