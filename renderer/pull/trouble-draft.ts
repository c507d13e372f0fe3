import type { Finding, OtherHeap, PullLineRow } from '../../core/stock/pull-contract.ts'

/** What is being written down about a line that is not as the list says; kept as a draft until it is said or left. */
export interface TroubleDraft {
  readonly kind: Finding['kind'] | null
  /** Found, damaged or taken from elsewhere, by the kind; null while nothing that can be understood is typed. */
  readonly pieces: number | null
  readonly what: string
  /** The heap it was taken from, by `heapKey`; `OTHER_BIN` for the same lot in a bin that the books do not name. */
  readonly heap: string | null
  readonly bin: string
  /** A lot that was scanned: its heap is meant while none is chosen. */
  readonly lotId: number | null
}

export const NO_TROUBLE: TroubleDraft = { kind: null, pieces: null, what: '', heap: null, bin: '', lotId: null }
export const OTHER_BIN = 'other-bin'

export const troubleKey = (line: Pick<PullLineRow, 'lineId'>): string => `pull-line-${line.lineId ?? 'planned'}`
export const heapKey = (heap: Pick<OtherHeap, 'lotId' | 'placeId'>): string => `${heap.lotId}/${heap.placeId}`

/** The heap that a draft means: the chosen one, or the first of the lot that was scanned. */
export function heapMeant(draft: TroubleDraft, heaps: readonly OtherHeap[]): string | null {
  if (draft.heap !== null) return draft.heap
  const scanned = heaps.find((heap) => heap.lotId === draft.lotId)
  return scanned ? heapKey(scanned) : null
}

/** Whether so many pieces can be written down for a line; null is nothing typed yet. */
export function piecesFit(draft: TroubleDraft, line: Pick<PullLineRow, 'quantity'>): boolean {
  if (draft.pieces === null || draft.pieces > line.quantity) return false
  return draft.kind === 'short' ? draft.pieces >= 0 && draft.pieces < line.quantity : draft.pieces >= 1
}
