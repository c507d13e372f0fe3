import type { ReactNode } from 'react'
import './notes.css'

interface EmptyPlaceProps {
  /** Why it is empty: "Nothing is due within 4 weeks." */
  readonly why: string
  /** What to do: "Look further ahead, or bring in a list of households." */
  readonly todo?: string
  readonly action?: ReactNode
}

/** An empty place says why it is empty and what to do. */
export function EmptyPlace({ why, todo, action }: EmptyPlaceProps) {
  return (
    <div className="empty-place">
      <p className="bold">{why}</p>
      {todo !== undefined && <p className="second">{todo}</p>}
      {action !== undefined && <div className="empty-place-action">{action}</div>}
    </div>
  )
}
