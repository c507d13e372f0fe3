import { ProgressBar } from 'react-aria-components'
import { Button } from './Button.tsx'
import './progress.css'

interface ProgressLineProps {
  /** What is going on: "Writing 42 letters". */
  readonly words: string
  readonly done: number
  /** How much in all; null while that is not known. */
  readonly total: number | null
  readonly onStop?: (() => void) | undefined
  /** What stopping leaves behind: "Nothing is kept when it is stopped." */
  readonly note?: string
}

/** How far long work is, and the way to stop it. */
export function ProgressLine({ words, done, total, onStop, note }: ProgressLineProps) {
  const share = total === null || total === 0 ? 0 : Math.min(1, done / total)
  return (
    <div className="progress-line">
      <ProgressBar className="progress" aria-label={words} value={share * 100} isIndeterminate={total === null}>
        <p>
          {words}
          {total !== null && (
            <span className="second">
              , {done.toLocaleString('en-US')} of {total.toLocaleString('en-US')}
            </span>
          )}
        </p>
        <div className="progress-track">
          <div
            className="progress-fill"
            style={{ width: total === null ? '100%' : `${share * 100}%` }}
            data-unknown={total === null || undefined}
          />
        </div>
      </ProgressBar>
      {onStop && <Button onPress={onStop}>Stop</Button>}
      {note !== undefined && <p className="small second">{note}</p>}
    </div>
  )
}
