import type { Moved } from '../../core/stock/stock-contract.ts'
import type { Undoable } from '../design/undo.ts'
import { office } from '../shell/office-door.ts'

/** What a movement is said to have done, and its counter-movement for the line at the foot. */
export function movedWords({ sentence, movementId, further = [] }: Moved): Undoable {
  if (movementId === null) return { said: sentence }
  return {
    said: sentence,
    undo: async () => {
      for (const each of [movementId, ...further])
        await office.stock.putRight({ movementId: each, note: 'undone at once' })
    },
    undone: 'The pieces are back where they were.',
  }
}
