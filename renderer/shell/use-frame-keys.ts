import { useEffect } from 'react'
import { frameKey } from './frame-key.ts'
import { useGoTo } from './open-record.ts'

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
