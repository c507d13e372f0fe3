import { QueryClientContext } from '@tanstack/react-query'
import { Component, type ContextType, type ReactNode } from 'react'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SheetNotFetched } from './fetch-sheet.ts'
import { shortId } from './short-id.ts'
import type { ToldProblem } from './told-problem.ts'

interface Fault {
  readonly id: string
  /** Set when the sheet's code did not come, in which case nothing is wrong with the sheet itself. */
  readonly notFetched?: ToldProblem
}

const NOT_DRAWN: ToldProblem = {
  sentence: 'This sheet could not be drawn.',
  nextStep:
    'Try again. When it stays, write down the number below and what you were doing; the other trays still work.',
}

/** Keeps a fault of one screen from taking the frame with it: says so, with an id that also stands in the window's own log. */
export class FaultBoundary extends Component<{ readonly children: ReactNode }, { readonly fault: Fault | null }> {
  static override contextType = QueryClientContext
  declare context: ContextType<typeof QueryClientContext>
  override state: { readonly fault: Fault | null } = { fault: null }

  static getDerivedStateFromError(error: unknown): { fault: Fault } {
    if (error instanceof SheetNotFetched) return { fault: { id: shortId(error.told.sentence), notFetched: error.told } }
    return { fault: { id: shortId(error instanceof Error ? `${error.name}${error.message}` : String(error)) } }
  }

  override componentDidCatch(error: unknown): void {
    console.error(`Fault ${this.state.fault?.id ?? ''}`, error)
  }

  /** What the broken sheet was told may be what broke it: it is asked again. Code that did not come is had by loading anew. */
  tryAgain(): void {
    if (this.state.fault?.notFetched) {
      location.reload()
      return
    }
    this.context?.removeQueries({ type: 'inactive' })
    this.setState({ fault: null })
  }

  override render(): ReactNode {
    const { fault } = this.state
    if (!fault) return this.props.children
    return (
      <div className="frame-wait">
        <ProblemNote
          problem={fault.notFetched ?? NOT_DRAWN}
          kept="Nothing was changed, and what you typed is kept."
          id={fault.id}
          onTryAgain={() => this.tryAgain()}
        />
      </div>
    )
  }
}
