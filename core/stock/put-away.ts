import type { CalendarDate } from '../units/calendar-date.ts'
import { counted } from '../units/date-words.ts'
import type { PlaceId } from '../units/ids.ts'

/** What lies in a bin of a lot of the part. */
export interface HeapInBin {
  readonly lot: string
  readonly expiresOn: CalendarDate | null
  readonly pieces: number
}

/** A bin that is in use. */
export interface ShelfBin {
  readonly placeId: PlaceId
  readonly name: string
  /** Of the part. */
  readonly heaps: readonly HeapInBin[]
  /** Pieces of other parts. */
  readonly others: number
}

export interface PutAwayQuestion {
  /** As it stands on the box; empty while nobody wrote it. */
  readonly lot: string
  readonly expiresOn: CalendarDate | null
  /** In the order of the walk. */
  readonly bins: readonly ShelfBin[]
  /** Where the part usually lies, the first choice first. */
  readonly usual: readonly PlaceId[]
  /** Bins where other parts usually lie. */
  readonly usualOfOthers: ReadonlySet<PlaceId>
}

/** Why a bin is right for it, the best reason first. */
export const PUT_AWAY_REASONS = ['same-lot', 'usual', 'same-part', 'free', 'least'] as const
export type PutAwayReason = (typeof PUT_AWAY_REASONS)[number]

export interface PutAwayChoice {
  readonly placeId: PlaceId
  readonly name: string
  readonly reason: PutAwayReason
  readonly words: string
}

/** More choices than these are no help. */
const MOST_FREE = 2
const MOST = 5

/**
 * Where a lot goes: to its own pieces, else into the part's usual bins in the dealer's order, else to other lots of the part, else
 * into a free bin near to where the part lies in the walk; where none is free, to where the least lies. The best first.
 */
export function putAway(question: PutAwayQuestion): PutAwayChoice[] {
  const { lot, bins, usual } = question
  const ofPart = (bin: ShelfBin): HeapInBin[] => bin.heaps.filter((heap) => heap.pieces > 0)
  const sameLot = bins
    .map((bin) => ({ bin, pieces: sum(ofPart(bin).filter((heap) => lot !== '' && heap.lot === lot)) }))
    .filter(({ pieces }) => pieces > 0)
    .toSorted((a, b) => b.pieces - a.pieces)
    .map(({ bin, pieces }) => choice(bin, 'same-lot', `lot ${lot} lies there already, ${counted(pieces, 'piece')}`))
  const usualBins = usual
    .flatMap((placeId) => bins.find((bin) => bin.placeId === placeId) ?? [])
    .map((bin) => choice(bin, 'usual', `its usual bin${frontWords(ofPart(bin), question)}`))
  const samePart = bins
    .filter((bin) => ofPart(bin).length > 0)
    .map((bin) => choice(bin, 'same-part', `${lotsWords(ofPart(bin))}${frontWords(ofPart(bin), question)}`))
  const at = firstOfEach([...sameLot, ...usualBins, ...samePart])
  return [...at, ...elsewhere(question, new Set(at.map((each) => each.placeId)))].slice(0, MOST)
}

/** Free bins near to where the part lies; when there is neither a bin of its own nor a free one, where the least lies. */
function elsewhere(question: PutAwayQuestion, taken: ReadonlySet<PlaceId>): PutAwayChoice[] {
  const { bins, usualOfOthers } = question
  const anchors = bins.flatMap((bin, step) => (taken.has(bin.placeId) ? [{ step, name: bin.name }] : []))
  const left = bins
    .map((bin, step) => ({ bin, step, pieces: sum(bin.heaps) + bin.others, near: nearest(anchors, step) }))
    .filter(({ bin }) => !taken.has(bin.placeId))
  const free = left
    .filter(({ bin, pieces }) => pieces === 0 && !usualOfOthers.has(bin.placeId))
    .toSorted((a, b) => (a.near?.steps ?? 0) - (b.near?.steps ?? 0) || a.step - b.step)
    .slice(0, MOST_FREE)
    .map(({ bin, near }, place) => choice(bin, 'free', freeWords(near, place)))
  if (free.length > 0 || taken.size > 0) return free
  const [least] = left.toSorted((a, b) => a.pieces - b.pieces || a.step - b.step)
  if (!least) return []
  const holds =
    least.pieces === 0
      ? 'it is empty, and another part usually lies there'
      : `the least lies there, ${counted(least.pieces, 'piece')}`
  return [choice(least.bin, 'least', `no bin is free; ${holds}`)]
}

const choice = (bin: ShelfBin, reason: PutAwayReason, why: string): PutAwayChoice => ({
  placeId: bin.placeId,
  name: bin.name,
  reason,
  words: `${bin.name}: ${why}.`,
})

const sum = (heaps: readonly HeapInBin[]): number => heaps.reduce((pieces, heap) => pieces + heap.pieces, 0)

function firstOfEach(choices: readonly PutAwayChoice[]): PutAwayChoice[] {
  return choices.filter((each, place) => choices.findIndex((other) => other.placeId === each.placeId) === place)
}

interface Near {
  readonly steps: number
  readonly name: string
}

function nearest(anchors: readonly { readonly step: number; readonly name: string }[], step: number): Near | null {
  return anchors.reduce<Near | null>((best, anchor) => {
    const steps = Math.abs(anchor.step - step)
    return best === null || steps < best.steps ? { steps, name: anchor.name } : best
  }, null)
}

function freeWords(near: Near | null, place: number): string {
  if (near !== null) return `free, ${counted(near.steps, 'bin')} from ${near.name}`
  return place === 0 ? 'the first free bin of the walk' : 'free'
}

/** "lot 2508-001 of it lies there": what the words on who stands in front go on from. */
const lotsWords = (heaps: readonly HeapInBin[]): string => {
  const lots = [...new Set(heaps.map((heap) => heap.lot))]
  return lots.length === 1 ? `lot ${lots[0]} of it lies there` : `${lots.length} lots of it lie there`
}

/** Who stands in front in a bin that holds other lots of the part: the first to expire. */
function frontWords(heaps: readonly HeapInBin[], { lot, expiresOn }: PutAwayQuestion): string {
  const others = heaps.filter((heap) => heap.lot !== lot)
  const ends = (date: CalendarDate | null): string => date ?? '9999-12-31'
  const first = others.toSorted((a, b) => (ends(a.expiresOn) < ends(b.expiresOn) ? -1 : 1))[0]
  if (first === undefined || ends(first.expiresOn) === ends(expiresOn)) return ''
  if (ends(first.expiresOn) < ends(expiresOn)) return `; ${first.lot} expires first and stays in front`
  return `; this one expires before ${first.lot} and goes in front`
}
