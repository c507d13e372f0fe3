import './check-mark.css'

/** The box of a checkbox: a filled square for chosen, a bar for some, empty for none. A tick where work is ticked off. */
export function CheckMark({
  state,
  tick = false,
}: {
  readonly state: 'all' | 'some' | 'none'
  readonly tick?: boolean
}) {
  return (
    <span className="check-mark" data-state={state} data-tick={tick || undefined} aria-hidden="true">
      {tick && state === 'all' && (
        <svg viewBox="0 0 32 32" width="100%" height="100%" aria-hidden="true">
          <path d="M6 17 L13 24 L26 8" />
        </svg>
      )}
    </span>
  )
}
