import type { ProblemCode } from '../problems.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import { shortDate } from '../units/date-words.ts'
import type { LotId, PartId, PlaceId, PullLineId } from '../units/ids.ts'
import type { ScannedCode } from './scanned-code.ts'
import { type StopShare, stopOfPiece } from './share-pieces.ts'

/** A line to be pulled, as a scan is held against it. */
export interface ScanLine {
  readonly lineId: PullLineId
  readonly placeId: PlaceId
  readonly bin: string
  readonly partId: PartId
  readonly partNumber: string
  readonly partName: string
  readonly lotId: LotId
  readonly lot: string
  readonly expiresOn: CalendarDate | null
  readonly recalled: boolean
  readonly quantity: number
  /** Pieces ticked so far. */
  readonly pulled: number
  readonly totes: readonly StopShare[]
}

/** What the books know under the words of a scan, whatever the list asks for. */
export interface KnownByScan {
  readonly parts: readonly { readonly partId: PartId; readonly number: string; readonly name: string }[]
  readonly lots: readonly {
    readonly lotId: LotId
    readonly lot: string
    readonly partId: PartId
    readonly partName: string
    readonly expiresOn: CalendarDate | null
    readonly recalled: boolean
  }[]
  readonly place: { readonly placeId: PlaceId; readonly name: string } | null
}

export interface ScanAsked {
  readonly code: ScannedCode
  /** In the order of the walk. */
  readonly lines: readonly ScanLine[]
  readonly known: KnownByScan
  /** The bin that was scanned last. */
  readonly hand: PlaceId | null
  readonly ticks: 'piece' | 'line'
  readonly fittedOn: CalendarDate
  readonly locale: string
}

/** A no, with what its sentence needs, the line that was mistaken and the lot that lies there instead. */
export interface ScanNo {
  readonly kind: 'no'
  readonly code: ProblemCode
  readonly facts: Readonly<Record<string, string | number>>
  readonly lineId: PullLineId | null
  readonly otherLotId: LotId | null
}

/** What a scan means for an open pull. */
export type ScanMeaning =
  | { readonly kind: 'tick'; readonly line: ScanLine; readonly pulled: number; readonly stop: number | null }
  | { readonly kind: 'hand'; readonly placeId: PlaceId; readonly bin: string; readonly line: ScanLine | null }
  | ScanNo

/**
 * What a scan means: a bin leads the hand there, a lot or a part ticks its line, one piece or all of it, and everything else is a no
 * with its reason. A part without a lot ticks the line in the bin that the hand is at, else the first of the walk that is not full.
 */
export function meaningOfScan(asked: ScanAsked): ScanMeaning {
  const { code } = asked
  switch (code.kind) {
    case 'spoilt':
      return no('PULL_SCAN_SPOILT', { typed: code.text })
    case 'bin':
      return binOf(asked, code.bin) ?? no('PULL_SCAN_UNKNOWN', { typed: code.bin })
    case 'label':
      return ofPart(asked, code.text, code.lot, (line) => same(line.partNumber, code.partNumber))
    case 'gtin': {
      const ids = new Set(asked.known.parts.map((part) => part.partId))
      return ofPart(asked, code.text, code.lot, (line) => ids.has(line.partId))
    }
    case 'lot':
      return ofLot(asked, code.lot)
    case 'text':
      return ofText(asked, code.text)
  }
}

function ofText(asked: ScanAsked, text: string): ScanMeaning {
  const bin = binOf(asked, text)
  if (bin) return bin
  if (asked.lines.some((line) => same(line.partNumber, text)))
    return ofPart(asked, text, null, (line) => same(line.partNumber, text))
  const ofIt = asked.lines.filter((line) => same(line.lot, text))
  return ofIt.length > 0 || asked.known.lots.length > 0 ? ofLot(asked, text) : wrongPart(asked, text)
}

function ofLot(asked: ScanAsked, lot: string): ScanMeaning {
  const ofIt = asked.lines.filter((line) => same(line.lot, lot))
  if (ofIt.length > 0) return tickOf(asked, ofIt)
  return asked.known.lots.length > 0 ? wrongLot(asked, lot) : no('PULL_SCAN_UNKNOWN', { typed: lot })
}

function binOf(asked: ScanAsked, bin: string): ScanMeaning | null {
  const here = asked.lines.filter((line) => same(line.bin, bin))
  const [first] = here
  if (first) {
    const line = here.find(isNotFull) ?? null
    return { kind: 'hand', placeId: first.placeId, bin: first.bin, line }
  }
  const { place } = asked.known
  return place === null ? null : no('PULL_SCAN_BIN_EMPTY', { bin: place.name, next: nextWords(asked.lines) })
}

/** A part by its label or number, with or without a lot. */
function ofPart(asked: ScanAsked, text: string, lot: string | null, isPart: (line: ScanLine) => boolean): ScanMeaning {
  const ofIt = asked.lines.filter(isPart)
  if (ofIt.length === 0) {
    const bad = asked.known.lots.find((each) => lot !== null && same(each.lot, lot))
    return (bad && unfit(asked, bad)) ?? wrongPart(asked, text)
  }
  if (lot === null) return tickOf(asked, ofIt)
  const ofLot = ofIt.filter((line) => same(line.lot, lot))
  return ofLot.length > 0 ? tickOf(asked, ofLot) : wrongLot(asked, lot, ofIt)
}

function tickOf(asked: ScanAsked, lines: readonly ScanLine[]): ScanMeaning {
  const open = lines.filter(isNotFull)
  const line = open.find((each) => each.placeId === asked.hand) ?? open[0]
  if (!line) {
    const quantity = lines.reduce((sum, each) => sum + each.quantity, 0)
    const facts = { part: lines[0]?.partName ?? '', quantity, next: nextWords(asked.lines) }
    return no('PULL_SCAN_OVER', facts, lines[0]?.lineId)
  }
  const bad = unfit(asked, line)
  if (bad) return { ...bad, lineId: line.lineId }
  const pulled = asked.ticks === 'line' ? line.quantity : line.pulled + 1
  return { kind: 'tick', line, pulled, stop: asked.ticks === 'line' ? null : stopOfPiece(line.totes, pulled) }
}

/** A lot that is not fitted any more; null while it is good. */
function unfit(
  asked: Pick<ScanAsked, 'fittedOn' | 'locale'>,
  lot: {
    readonly lot: string
    readonly partName: string
    readonly expiresOn: CalendarDate | null
    readonly recalled: boolean
  },
): ScanNo | null {
  const facts = { lot: lot.lot, part: lot.partName }
  if (lot.recalled) return no('PULL_LOT_RECALLED', facts)
  if (lot.expiresOn !== null && lot.expiresOn < asked.fittedOn)
    return no('PULL_LOT_EXPIRED', { ...facts, date: shortDate(lot.expiresOn, asked.locale) })
  return null
}

/** A lot that the list does not ask for: recalled, expired, of a part on the list, of one that is not, or in no book. */
function wrongLot(asked: ScanAsked, lot: string, ofPart: readonly ScanLine[] = asked.lines): ScanMeaning {
  const known = asked.known.lots.filter((each) => same(each.lot, lot))
  const meant = known.find((each) => ofPart.some((line) => line.partId === each.partId)) ?? known[0]
  if (!meant) {
    const [line] = ofPart
    return no('PULL_SCAN_LOT_UNKNOWN', { lot, part: line?.partName ?? '' }, line?.lineId)
  }
  const bad = unfit(asked, meant)
  if (bad) return bad
  const lines = ofPart.filter((line) => line.partId === meant.partId)
  const line = lines.find(isNotFull) ?? lines[0]
  if (!line) return no('PULL_SCAN_OTHER_PART', { part: meant.partName, next: nextWords(asked.lines) })
  const facts = { lot: meant.lot, part: line.partName, wanted: line.lot, bin: line.bin }
  return no('PULL_SCAN_OTHER_LOT', facts, line.lineId, meant.lotId)
}

function wrongPart(asked: ScanAsked, text: string): ScanNo {
  const [part] = asked.known.parts
  if (!part) return no('PULL_SCAN_UNKNOWN', { typed: text })
  return no('PULL_SCAN_OTHER_PART', { part: `${part.name} ${part.number}`, next: nextWords(asked.lines) })
}

/** Where the hand goes next: "Next is A-02-3: 4 of Carbon block, lot 2607-031." */
export function nextWords(lines: readonly ScanLine[]): string {
  const line = lines.find(isNotFull)
  if (!line) return 'Everything on the list is in the totes.'
  return `Next is ${line.bin}: ${line.quantity - line.pulled} of ${line.partName}, lot ${line.lot}.`
}

const isNotFull = (line: ScanLine): boolean => line.pulled < line.quantity

const same = (a: string, b: string): boolean => a.trim().toLowerCase() === b.trim().toLowerCase()

function no(
  code: ProblemCode,
  facts: ScanNo['facts'],
  lineId: PullLineId | null = null,
  otherLotId: LotId | null = null,
): ScanNo {
  return { kind: 'no', code, facts, lineId, otherLotId }
}
