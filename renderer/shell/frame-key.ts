import { TRAY_PLACES } from './places.ts'

/** What a key of the frame means: a place to go, the search, or nothing. `inField`: someone is typing. */
export function frameKey(
  press: {
    readonly key: string
    readonly code: string
    readonly altKey: boolean
    readonly ctrlKey: boolean
    readonly metaKey: boolean
  },
  inField: boolean,
): { readonly goTo: string } | { readonly search: true } | null {
  if (press.ctrlKey || press.metaKey) return null
  if (press.altKey) {
    // By code: with Alt held some keyboards write another sign on the figure's key.
    const digit = /^(?:Digit|Numpad)([0-7])$/.exec(press.code)?.[1]
    if (digit === undefined) return null
    const tray = TRAY_PLACES[Number(digit) - 1]
    return { goTo: tray ? tray.address : '/' }
  }
  return press.key === '/' && !inField ? { search: true } : null
}
