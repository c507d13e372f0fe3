import { type RefObject, useEffect, useRef, useState } from 'react'
import type { Press } from './table-keyboard.ts'

/** Keys that wait for the rows of a list; any other goes its own way. */
const WAITING_KEYS: readonly string[] = ['ArrowDown', 'ArrowUp', 'PageDown', 'PageUp', 'Home', 'End', ' ', 'Enter']

/** Whether a press is one that the table will know what to do with, once its rows are there. */
export function waitsForRows({ key, ctrlKey, metaKey }: Press): boolean {
  return !ctrlKey && !metaKey && WAITING_KEYS.includes(key)
}

interface EarlyKeys {
  readonly place: RefObject<HTMLElement | null>
  readonly isThere: boolean
  /** Whether a row is in hand. */
  readonly hasHand: boolean
  readonly takeHand: () => void
  readonly play: (press: Press) => void
}

/**
 * Whoever knows the way presses the arrow and Enter before the list has come. The keys are kept in order and played one by one, each on
 * what the one before has made, as soon as the rows are there; they are dropped when the keyboard has gone elsewhere meanwhile.
 */
export function useEarlyKeys({ place, isThere, hasHand, takeHand, play }: EarlyKeys): (press: Press) => void {
  const kept = useRef<Press[]>([])
  const [, drawAgain] = useState(0)
  useEffect(() => {
    if (!isThere) return
    if (document.activeElement !== place.current) {
      kept.current = []
      return
    }
    if (!hasHand) {
      takeHand()
      return
    }
    const press = kept.current.shift()
    if (press === undefined) return
    play(press)
    drawAgain((times) => times + 1)
  })
  return ({ key, shiftKey, ctrlKey, metaKey }) => {
    kept.current.push({ key, shiftKey, ctrlKey, metaKey })
  }
}
