import { useState } from 'react'
import type { ScanSaid, ScanTicks } from '../../core/stock/pull-contract.ts'
import { Button } from '../design/Button.tsx'
import { InlineChoice } from '../design/ChoiceField.tsx'
import { TextField } from '../design/Field.tsx'
import { WhoField } from '../shell/WhoField.tsx'

export type SaidOfScan = Pick<ScanSaid, 'kind' | 'sentence' | 'nextStep'>

interface ScanBarProps {
  /** The last answer; `turn` counts them, so that the same words twice are said twice. */
  readonly said: SaidOfScan | null
  readonly turn: number
  readonly onScan: (typed: string) => void
  readonly ticks: ScanTicks
  readonly onTicks: (ticks: ScanTicks) => void
  readonly isLoud: boolean
  readonly onLoud: (isLoud: boolean) => void
  /** Says that the scanned lot lies there in place of the one asked for; null when that is not the case. */
  readonly onOtherLot: (() => void) | null
}

/** Where a scan is typed by hand, what the last one was, and how scans are taken. */
export function ScanBar(props: ScanBarProps) {
  const { said, turn, onScan, ticks, onTicks, isLoud, onLoud, onOtherLot } = props
  const [typed, setTyped] = useState('')
  return (
    <section className="pull-scan-bar" aria-label="Scanning">
      <div className="pull-scan">
        <form
          onSubmit={(event) => {
            event.preventDefault()
            if (typed.trim() !== '') onScan(typed)
            setTyped('')
          }}
        >
          <TextField
            label="Scan a bin, a part or a lot"
            value={typed}
            onChange={setTyped}
            chars={22}
            autoComplete="off"
          />
        </form>
        <WhoField label="Who pulls" />
        <span className="pull-scan-choices">
          <InlineChoice
            words="A scan ticks"
            label="What a scan ticks"
            value={ticks}
            onChange={onTicks}
            choices={[
              { id: 'piece', words: 'one piece' },
              { id: 'line', words: 'the whole line' },
            ]}
          />
          <InlineChoice
            words="Sound"
            label="Whether scans sound"
            value={isLoud ? 'on' : 'off'}
            onChange={(word) => onLoud(word === 'on')}
            choices={[
              { id: 'on', words: 'on' },
              { id: 'off', words: 'off' },
            ]}
          />
        </span>
      </div>
      <div className="pull-said" data-kind={said?.kind} role="status" aria-live="assertive" aria-atomic="true">
        {said === null ? (
          <span className="second">A scanner is heard wherever you are on this sheet.</span>
        ) : (
          <span key={turn}>
            <b>
              {said.kind === 'no' && 'No: '}
              {said.sentence}
            </b>{' '}
            {said.nextStep}
          </span>
        )}
      </div>
      {onOtherLot && (
        <Button glove onPress={onOtherLot}>
          This lot lies in its place
        </Button>
      )}
    </section>
  )
}
