import type { Problem } from '../../core/problems.ts'
import { Button } from './Button.tsx'
import './notes.css'

interface ProblemNoteProps {
  readonly problem: Pick<Problem, 'sentence' | 'nextStep'> & { readonly code?: string }
  /** What was kept: "What you typed is still here." */
  readonly kept?: string
  /** The short id under which a fault was written down. */
  readonly id?: string | undefined
  readonly onTryAgain?: (() => void) | undefined
}

/** What happened, what was kept, what to do next, and a short id. */
export function ProblemNote({ problem, kept, id, onTryAgain }: ProblemNoteProps) {
  return (
    <div className="problem-note" role="alert">
      <p className="bold">{problem.sentence}</p>
      {kept !== undefined && <p>{kept}</p>}
      <p>{problem.nextStep}</p>
      {id !== undefined && <p className="second small">Noted as {id}.</p>}
      {onTryAgain && <Button onPress={onTryAgain}>Try again</Button>}
    </div>
  )
}
