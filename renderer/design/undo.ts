import { createContext, useContext } from 'react'

/** What was just done, in words, and the way to take it back. */
export interface Undoable {
  /** "Booked Abernathy-Vance for Tuesday, Dec 8." */
  readonly said: string
  /** Takes it back. Absent when there is nothing to take back: the line then only says what was done. */
  readonly undo?: () => Promise<unknown>
  /** What is said once it is taken back: "The booking is taken back." */
  readonly undone?: string
}

export const UndoContext = createContext<((done: Undoable) => void) | null>(null)

/** Says at the foot of the sheet what was done, and offers for a minute to undo it. */
export function useSay(): (done: Undoable) => void {
  const say = useContext(UndoContext)
  if (!say) throw new Error('No frame around this component')
  return say
}
