import type { CalendarDate } from '../units/calendar-date.ts'
import type { LotId, PartId, PlaceId, VanId } from '../units/ids.ts'
import type { PickListInput, PullLine, StockAtPlace } from './pull-shapes.ts'
import { sharePieces } from './share-pieces.ts'

/** Pieces of a line that stay with its van whatever is planned anew: they are in the totes, or were looked at and are good. */
export interface PiecesInHand {
  readonly vanId: VanId
  /** The van's own place. */
  readonly vanPlaceId: PlaceId
  readonly lotId: LotId
  readonly lotNumber: string
  readonly partId: PartId
  readonly expiresOn: CalendarDate | null
  readonly recalled: boolean
  /** The bin that they come from. */
  readonly placeId: PlaceId
  readonly binCode: string
  readonly walkOrder: number
  readonly pieces: number
  /** Those of them that are ticked. */
  readonly ticked: number
}

/** The same stock, in which what is in the hand lies on the van already: its visits get it first, and nobody else's do. */
export function withPiecesInHand(input: PickListInput, inHand: readonly PiecesInHand[]): PickListInput {
  const stock = [...input.stock]
  const change = (at: number, row: StockAtPlace, by: number): void => {
    stock[at] = { ...row, onHand: row.onHand + by }
  }
  for (const hand of inHand) {
    if (hand.pieces === 0) continue
    const from = stock.findIndex((row) => row.lotId === hand.lotId && row.placeId === hand.placeId)
    // A day need not read a lot that would not be its turn: what is in the hand is taken all the same.
    const row = stock[from]
    if (row) change(from, row, -hand.pieces)
    const to = stock.findIndex((each) => each.lotId === hand.lotId && each.placeId === hand.vanPlaceId)
    const aboard = stock[to]
    if (aboard) change(to, aboard, hand.pieces)
    else stock.push(aboardOf(hand))
  }
  return { ...input, stock: stock.filter((row) => row.onHand > 0) }
}

function aboardOf(hand: PiecesInHand): StockAtPlace {
  const { vanId, vanPlaceId: placeId, lotId, lotNumber, partId, expiresOn, recalled, binCode, pieces: onHand } = hand
  return { placeId, vanId, binCode, walkOrder: 0, lotId, lotNumber, partId, expiresOn, recalled, onHand, promised: 0 }
}

/** A line of a plan with the pieces of it that are ticked already; `inHand` is null for what has still to be looked for. */
export interface LineAnew {
  readonly line: PullLine
  readonly inHand: PiecesInHand | null
  readonly ticked: number
}

/** A van's lines, planned with what is in the hand, led back to the bins that the pieces come from. */
export function linesFromHand(lines: readonly PullLine[], inHand: readonly PiecesInHand[]): LineAnew[] {
  const left = new Map(inHand.map((hand) => [hand, hand.pieces]))
  const ticksLeft = new Map(inHand.map((hand) => [hand, hand.ticked]))
  return lines.flatMap((whole) => {
    const anew: LineAnew[] = []
    let rest = whole
    for (const hand of inHand) {
      if (hand.lotId !== rest.lotId || hand.vanPlaceId !== rest.placeId) continue
      const pieces = Math.min(left.get(hand) ?? 0, rest.quantity)
      if (pieces === 0) continue
      const ticked = Math.min(ticksLeft.get(hand) ?? 0, pieces)
      left.set(hand, (left.get(hand) ?? 0) - pieces)
      ticksLeft.set(hand, (ticksLeft.get(hand) ?? 0) - ticked)
      const { placeId, binCode, walkOrder } = hand
      anew.push({ line: { ...withPieces(rest, pieces, 'first'), placeId, binCode, walkOrder }, inHand: hand, ticked })
      rest = withPieces(rest, rest.quantity - pieces, 'last')
    }
    return rest.quantity > 0 ? [...anew, { line: rest, inHand: null, ticked: 0 }] : anew
  })
}

/** So many pieces of a line: those for its first stops, or those for its last. */
function withPieces(line: PullLine, pieces: number, which: 'first' | 'last'): PullLine {
  const shared = sharePieces(line.totes, which === 'first' ? pieces : line.quantity - pieces)
  const totes = shared.map(({ visitId, stop, gets, lacks }) => ({
    visitId,
    stop,
    quantity: which === 'first' ? gets : lacks,
  }))
  return { ...line, quantity: pieces, totes: totes.filter((tote) => tote.quantity > 0) }
}
