import { useCallback, useState } from 'react'

const KEY = 'penstock.draft.'

/**
 * What someone types, kept until it is saved or thrown away: it survives another tray and a reload of the window, not closing it. `key` names
 * the record: `visit-new-41`. Returns the draft, its setter (takes a value or a change), the way to throw it away, and whether it differs from `initial`.
 */
export function useDraft<Value>(
  key: string,
  initial: Value,
): {
  readonly draft: Value
  readonly setDraft: (next: Value | ((draft: Value) => Value)) => void
  readonly discard: () => void
  readonly isChanged: boolean
} {
  const [held, setHeld] = useState<{ readonly key: string; readonly value: Value } | null>(() => kept<Value>(key))
  // Another record under the same component: take up its own draft.
  const current = held?.key === key ? held : kept<Value>(key)
  const draft = current === null ? initial : current.value
  const setDraft = useCallback(
    (next: Value | ((draft: Value) => Value)): void => {
      setHeld((before) => {
        const from = before?.key === key ? before : kept<Value>(key)
        const value = isChange<Value>(next) ? next(from === null ? initial : from.value) : next
        keep(key, value)
        return { key, value }
      })
    },
    [key, initial],
  )
  const discard = useCallback((): void => {
    forget(key)
    setHeld(null)
  }, [key])
  return { draft, setDraft, discard, isChanged: current !== null && JSON.stringify(draft) !== JSON.stringify(initial) }
}

function isChange<Value>(next: Value | ((draft: Value) => Value)): next is (draft: Value) => Value {
  return typeof next === 'function'
}

function kept<Value>(key: string): { readonly key: string; readonly value: Value } | null {
  try {
    const text = sessionStorage.getItem(KEY + key)
    return text === null ? null : { key, value: JSON.parse(text) as Value }
  } catch {
    return null
  }
}

function keep(key: string, value: unknown): void {
  try {
    sessionStorage.setItem(KEY + key, JSON.stringify(value))
  } catch {
    // A full store: the draft holds while the sheet is open.
  }
}

function forget(key: string): void {
  try {
    sessionStorage.removeItem(KEY + key)
  } catch {
    // Nothing to forget.
  }
}
