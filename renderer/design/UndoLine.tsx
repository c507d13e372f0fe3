import { QueryClientContext } from '@tanstack/react-query'
import { type ReactNode, useCallback, useContext, useEffect, useState } from 'react'
import { Button } from './Button.tsx'
import { type Undoable, UndoContext } from './undo.ts'
import './progress.css'

const ONE_MINUTE = 60_000

/** Gives every component `useSay`, and shows the line at the foot for a minute. Ctrl+Z undoes, outside of fields. */
export function UndoPlace({ children }: { readonly children: (line: ReactNode) => ReactNode }) {
  const [done, setDone] = useState<Undoable | null>(null)
  const questions = useContext(QueryClientContext)
  const say = useCallback((next: Undoable) => setDone({ ...next }), [])
  const undo = useCallback(async (): Promise<void> => {
    if (!done?.undo) return
    setDone(null)
    try {
      await done.undo()
      // What was undone is no longer what the sheets show.
      void questions?.invalidateQueries()
      setDone({ said: done.undone ?? 'Taken back.' })
    } catch {
      setDone({ said: 'It could not be taken back. The record’s own page shows how it stands.' })
    }
  }, [done, questions])
  useEffect(() => {
    if (!done) return
    const timer = setTimeout(() => setDone(null), ONE_MINUTE)
    return () => clearTimeout(timer)
  }, [done])
  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => {
      const inField = event.target instanceof HTMLInputElement || event.target instanceof HTMLTextAreaElement
      if (
        inField ||
        !done?.undo ||
        event.key.toLowerCase() !== 'z' ||
        !(event.ctrlKey || event.metaKey) ||
        event.shiftKey
      )
        return
      event.preventDefault()
      void undo()
    }
    window.addEventListener('keydown', onKey)
    return () => window.removeEventListener('keydown', onKey)
  }, [done, undo])
  return (
    <UndoContext.Provider value={say}>
      {children(
        <div aria-live="polite">
          {done && (
            <div className="undo-line">
              <p>{done.said}</p>
              {done.undo && <Button onPress={undo}>Undo</Button>}
              <Button kind="quiet" onPress={() => setDone(null)}>
                Leave it
              </Button>
            </div>
          )}
        </div>,
      )}
    </UndoContext.Provider>
  )
}
