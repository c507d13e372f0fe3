import type { PullLineRow } from '../../core/stock/pull-contract.ts'
import { Button } from '../design/Button.tsx'
import { NumberField } from '../design/NumberField.tsx'
import { whoGoesWithout } from './pull-words.ts'

interface FoundFormProps {
  readonly line: PullLineRow
  /** Null while nothing that can be understood is typed. */
  readonly found: number | null
  readonly onFound: (found: number | null) => void
  readonly onDone: (found: number) => void
  readonly onLeave: () => void
}

/** How many of a line lie in the bin when it is fewer than asked for; Enter writes it down, Escape leaves it. */
export function FoundForm({ line, found, onFound, onDone, onLeave }: FoundFormProps) {
  const now = found ?? line.quantity
  const isTooMany = now > line.quantity
  const without = whoGoesWithout(line, now)
  const step = (by: number): void => onFound(Math.min(line.quantity, Math.max(0, now + by)))
  return (
    <form
      className="pull-found-form"
      onSubmit={(event) => {
        event.preventDefault()
        if (found !== null && !isTooMany) onDone(found)
      }}
      onKeyDown={(event) => {
        if (event.key !== 'Escape') return
        event.stopPropagation()
        onLeave()
      }}
    >
      <div className="pull-found-row">
        <Button glove onPress={() => step(-1)} isDisabled={now === 0} aria-label="One fewer">
          −
        </Button>
        <NumberField
          label={`Found of ${line.quantity}`}
          value={found}
          onChange={onFound}
          least={0}
          most={line.quantity}
          chars={4}
          autoFocus
        />
        <Button glove onPress={() => step(1)} isDisabled={now >= line.quantity} aria-label="One more">
          +
        </Button>
        <Button kind="primary" glove type="submit" isDisabled={found === null || isTooMany}>
          Write down {found ?? '?'} of {line.quantity}
        </Button>
        <Button kind="quiet" glove onPress={onLeave}>
          Leave it
        </Button>
      </div>
      <p className="second small" role="status">
        {found === null
          ? `How many of ${line.quantity} lie in ${line.bin}?`
          : without === ''
            ? 'All of them: nobody goes without.'
            : `${without[0]?.toUpperCase() ?? ''}${without.slice(1)}, until more is pulled. The rest is planned again on the next pull.`}
      </p>
    </form>
  )
}
