import { useEffect, useRef } from 'react'
import { type Ear, hearKey, patienceOf, QUIET, SEPARATOR } from './scanner-ear.ts'

/**
 * Hears a scanner wherever the focus is on the page, but for fields that take typing: those keep every sign. What turns out to be
 * typed by a hand reaches what it was meant for a moment later.
 */
export function useScanner(onScan: (typed: string) => void): void {
  const latest = useRef(onScan)
  useEffect(() => {
    latest.current = onScan
  })
  useEffect(() => {
    let ear: Ear = QUIET
    let target: EventTarget | null = null
    let timer: ReturnType<typeof setTimeout> | undefined
    const replayed = new WeakSet<Event>()
    const letGo = (signs: string): void => {
      for (const key of signs) {
        const event = new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true })
        replayed.add(event)
        target?.dispatchEvent(event)
      }
    }
    const onKey = (event: KeyboardEvent): void => {
      if (replayed.has(event)) return
      const heard = isMeantElsewhere(event)
        ? { ear: QUIET, does: 'pass' as const, letGo: ear.held, typed: '' }
        : hearKey(ear, isSeparator(event) ? SEPARATOR : event.key, event.timeStamp)
      clearTimeout(timer)
      ear = heard.ear
      letGo(heard.letGo)
      if (heard.does === 'pass') return
      event.preventDefault()
      event.stopImmediatePropagation()
      if (heard.does === 'scan') {
        latest.current(heard.typed)
        return
      }
      target = event.target
      timer = setTimeout(() => {
        const { held } = ear
        ear = QUIET
        letGo(held)
      }, patienceOf(ear))
    }
    window.addEventListener('keydown', onKey, true)
    return () => {
      clearTimeout(timer)
      window.removeEventListener('keydown', onKey, true)
    }
  }, [])
}

/** A scanner on a keyboard's cable presses Ctrl+] for the sign that parts the elements of a GS1 code. */
const isSeparator = (event: KeyboardEvent): boolean => event.ctrlKey && event.key === ']'

function isMeantElsewhere(event: KeyboardEvent): boolean {
  if (isField(event.target)) return true
  if (event.key === 'Control' || isSeparator(event)) return false
  return event.ctrlKey || event.altKey || event.metaKey || event.isComposing
}

const NO_TYPING = ['checkbox', 'radio', 'button', 'submit', 'reset']

/** Whether what is typed there belongs there. */
function isField(target: EventTarget | null): boolean {
  if (target instanceof HTMLInputElement) return !NO_TYPING.includes(target.type)
  return (
    target instanceof HTMLTextAreaElement ||
    target instanceof HTMLSelectElement ||
    (target instanceof HTMLElement && target.isContentEditable)
  )
}
