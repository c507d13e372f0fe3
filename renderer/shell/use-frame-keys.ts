import { useEffect } from 'react'
import { useGoTo } from './open-record.ts'
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

/** Alt+1 to Alt+7 lead to the trays, Alt+0 to the desk, `/` to the search. */
export function useFrameKeys(): void {
  const goTo = useGoTo()
  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => {
      if (event.defaultPrevented) return
      const meaning = frameKey(event, isField(event.target))
      if (!meaning) return
      event.preventDefault()
      if ('goTo' in meaning) goTo(meaning.goTo)
      else document.querySelector<HTMLInputElement>('.find-anything input')?.focus()
    }
    window.addEventListener('keydown', onKey)
    return () => window.removeEventListener('keydown', onKey)
  }, [goTo])
}

function isField(target: EventTarget | null): boolean {
  return (
    target instanceof HTMLInputElement ||
    target instanceof HTMLTextAreaElement ||
    (target instanceof HTMLElement && target.isContentEditable)
  )
}
