import { Component, type ReactNode } from 'react'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { shortId } from './short-id.ts'

interface Fault {
  readonly id: string
}

/** Keeps a fault of one screen from taking the frame with it: says so, with an id that also stands in the window's own log. */
export class FaultBoundary extends Component<{ readonly children: ReactNode }, { readonly fault: Fault | null }> {
  override state: { readonly fault: Fault | null } = { fault: null }

  static getDerivedStateFromError(error: unknown): { fault: Fault } {
    return { fault: { id: shortId(error instanceof Error ? `${error.name}${error.message}` : String(error)) } }
  }

  override componentDidCatch(error: unknown): void {
    console.error(`Fault ${this.state.fault?.id ?? ''}`, error)
  }

  override render(): ReactNode {
    if (!this.state.fault) return this.props.children
    return (
      <div className="frame-wait">
        <ProblemNote
          problem={{
            sentence: 'This sheet could not be drawn.',
            nextStep:
              'Try again. When it stays, write down the number below and what you were doing; the other trays still work.',
          }}
          kept="Nothing was changed, and what you typed is kept."
          id={this.state.fault.id}
          onTryAgain={() => this.setState({ fault: null })}
        />
      </div>
    )
  }
}
