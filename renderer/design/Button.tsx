import { Button as AriaButton, type ButtonProps as AriaButtonProps } from 'react-aria-components'
import './button.css'

export interface ButtonProps extends Omit<AriaButtonProps, 'className' | 'style'> {
  /** `primary`: the one thing this sheet is for. `plain`: other things it can do. `quiet`: seldom done. Default plain. */
  readonly kind?: 'primary' | 'plain' | 'quiet'
  /** 48 px, for a thumb in a glove. */
  readonly glove?: boolean
}

/** A verb with its object and number: "Write 42 letters". */
export function Button({ kind = 'plain', glove = false, ...rest }: ButtonProps) {
  return <AriaButton {...rest} className="button" data-kind={kind} data-glove={glove || undefined} />
}
