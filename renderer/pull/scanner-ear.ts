/** Longest pause between the first two signs of a scanner; a hand is slower (common practice, no source). */
const FIRST_PAUSE_MS = 100
/** Once two came that fast it is a scanner, and a busy machine may hold the rest up. */
const NEXT_PAUSE_MS = 300
/** The fewest signs that are taken for a scan. */
const LEAST_SIGNS = 3

/** What the ear holds back while it waits whether a scanner types; `at` is when the last sign came, milliseconds. */
export interface Ear {
  readonly held: string
  readonly at: number
}

/** The sign that parts the elements of a GS1 code, as scanners send it. */
export const SEPARATOR = '\u001d'

export const QUIET: Ear = { held: '', at: 0 }

/**
 * What becomes of a key: `pass` it on, `hold` it back, or take what was held with it as a `scan`. `letGo` are signs held before that
 * a hand typed after all, to be passed on first.
 */
export interface HeardKey {
  readonly ear: Ear
  readonly does: 'pass' | 'hold' | 'scan'
  readonly letGo: string
  /** The scanned text, for a scan. */
  readonly typed: string
}

/** How long the ear waits for another sign before it lets go of what it holds. */
export const patienceOf = (ear: Ear): number => (ear.held.length > 1 ? NEXT_PAUSE_MS : FIRST_PAUSE_MS)

/** Hears a key that was pressed outside every field. A scanner types a few signs fast and presses Enter. */
export function hearKey(ear: Ear, key: string, at: number): HeardKey {
  if (key === 'Shift' || key === 'CapsLock' || key === 'Control') return { ear, does: 'pass', letGo: '', typed: '' }
  const isInTime = ear.held !== '' && at - ear.at <= patienceOf(ear)
  if (key === 'Enter' && isInTime && ear.held.length >= LEAST_SIGNS)
    return { ear: QUIET, does: 'scan', letGo: '', typed: ear.held }
  const letGo = isInTime ? '' : ear.held
  if ([...key].length !== 1) return { ear: QUIET, does: 'pass', letGo: ear.held, typed: '' }
  // A space alone ticks a box or presses a button; no code begins with a separator.
  if ((key === ' ' || key === SEPARATOR) && !isInTime) return { ear: QUIET, does: 'pass', letGo, typed: '' }
  return { ear: { held: isInTime ? ear.held + key : key, at }, does: 'hold', letGo, typed: '' }
}
