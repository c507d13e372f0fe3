import { Fragment, type ReactNode } from 'react'
import './sheet.css'

/** One fact: what it is called and what it is. */
export interface Fact {
  readonly label: string
  readonly value: ReactNode
}

/** What is known, as label and value under each other. A fact without a value is left out. */
export function Facts({ facts }: { readonly facts: readonly Fact[] }) {
  return (
    <dl className="facts">
      {facts
        .filter((fact) => fact.value !== null && fact.value !== undefined && fact.value !== '')
        .map((fact) => (
          <Fragment key={fact.label}>
            <dt>{fact.label}</dt>
            <dd>{fact.value}</dd>
          </Fragment>
        ))}
    </dl>
  )
}
