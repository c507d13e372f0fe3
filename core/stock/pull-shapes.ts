import type { CalendarDate } from '../units/calendar-date.ts'
import type { LotId, PartId, PlaceId, VanId, VisitId } from '../units/ids.ts'
import type { TimeOfDay } from '../units/time-of-day.ts'

/** Pieces of one part that a visit is planned to use. */
export interface VisitNeed {
  readonly partId: PartId
  readonly quantity: number
  /** Only the part itself is fitted there, and nothing that stands in for it; not so when left out. */
  readonly ownPartOnly?: boolean
}

/** A booked visit of the day, as the warehouse sees it. */
export interface PullVisit {
  readonly visitId: VisitId
  readonly vanId: VanId
  /** Its number in the van's driving order, from 1: the number on the tote. */
  readonly stop: number
  /** Days that its latest stage is past due; 0 when nothing is late. */
  readonly daysLate: number
  /** Whether the household was given its word that it will be served that day. */
  readonly promised: boolean
  readonly startsAt: TimeOfDay
  /** What serving it whole is worth against the others, whole points of 1 and more (`visit-worth.ts`). */
  readonly worth: number
  readonly needs: readonly VisitNeed[]
}

export interface PullPart {
  readonly partId: PartId
  readonly partNumber: string
  /** Used at every visit whatever else is done there (O-rings, sanitiser); 0 for most parts. */
  readonly perVisitQuantity: number
  /** Parts that may be fitted in its place, the best first. */
  readonly substitutes: readonly PartId[]
  /** Room that a piece takes, millilitres; null when nobody measured it: it then takes none. */
  readonly spaceMillilitres: number | null
}

/** Pieces of a part at a van: what it always carries, or what is on the way to it. */
export interface VanPieces {
  readonly partId: PartId
  readonly quantity: number
}

/** A van of the day: what it always carries, and its room. */
export interface PullVan {
  readonly vanId: VanId
  /** Its room, millilitres; null when nobody measured it: it then takes everything. */
  readonly roomMillilitres: number | null
  /** Room taken by what lies on it, whatever it is, and by what open pulls will put on it. */
  readonly takenMillilitres: number
  /** What it always carries of common parts. */
  readonly pars: readonly VanPieces[]
  /** What open pulls will put on it towards that, and no visit will use. */
  readonly coming: readonly VanPieces[]
}

/** One lot at one place: what is there, and how much of it is promised to somebody else already. */
export interface StockAtPlace {
  readonly placeId: PlaceId
  /** The van that carries it; null in the warehouse. */
  readonly vanId: VanId | null
  readonly binCode: string
  /** Where the bin lies on the walk through the warehouse. */
  readonly walkOrder: number
  readonly lotId: LotId
  readonly lotNumber: string
  readonly partId: PartId
  readonly expiresOn: CalendarDate | null
  readonly recalled: boolean
  readonly onHand: number
  readonly promised: number
}

export interface PickListInput {
  /** The day the parts are fitted. */
  readonly fittedOn: CalendarDate
  readonly visits: readonly PullVisit[]
  readonly parts: readonly PullPart[]
  readonly stock: readonly StockAtPlace[]
  /** The vans that are topped up; those left out are not. */
  readonly vans: readonly PullVan[]
  /** Visits that get what there is, though it does not serve them whole; in the order in which they get it. */
  readonly evenIfShort: readonly VisitId[]
}

/** The pieces of a line that go to one stop. */
export interface Tote {
  readonly visitId: VisitId
  readonly stop: number
  readonly quantity: number
}

/** One reach into one bin (or one look into the van): so many pieces of one lot, shared out over the totes. */
export interface PullLine {
  readonly placeId: PlaceId
  readonly binCode: string
  readonly walkOrder: number
  readonly lotId: LotId
  readonly lotNumber: string
  /** What lies there. */
  readonly partId: PartId
  /** The part that the visits asked for, when this line stands in for it; otherwise null. */
  readonly insteadOf: PartId | null
  readonly expiresOn: CalendarDate | null
  readonly quantity: number
  /** It tops the van up to what it always carries: it belongs to no visit and has no totes. */
  readonly forPar: boolean
  readonly totes: readonly Tote[]
}

/** What a visit goes without. */
export interface Shortage {
  readonly visitId: VisitId
  readonly stop: number
  readonly partId: PartId
  /** Pieces that are not pulled for it. */
  readonly quantity: number
  /** Those of them that are not there at all; the others stay on the shelf because the visit cannot be served whole. */
  readonly missing: number
}

/** What a van does not get of what it always carries, and why. */
export interface ParLeftOut extends VanPieces {
  readonly why: 'none-left' | 'no-room'
}

/** How full a van will be when it leaves, millilitres. */
export interface VanRoom {
  readonly has: number
  readonly taken: number
}

export interface VanPull {
  readonly vanId: VanId
  readonly stops: number
  /** To be pulled from the warehouse, in the order of the walk; what tops the van up is among them. */
  readonly lines: readonly PullLine[]
  /** On the van already. */
  readonly aboard: readonly PullLine[]
  readonly shortages: readonly Shortage[]
  /** Null when its room was never measured. */
  readonly room: VanRoom | null
  readonly parLeftOut: readonly ParLeftOut[]
}

/** A part that keeps a visit from being served whole. */
export interface Lack {
  readonly partId: PartId
  readonly missing: number
  /** Who has the pieces it could have had: visits of the day, what is worth most first. */
  readonly servedInstead: readonly { readonly visitId: VisitId; readonly quantity: number }[]
}

/** A visit that cannot be served whole. Nothing is pulled for it, unless that was asked for. */
export interface LosingVisit {
  readonly visitId: VisitId
  readonly vanId: VanId
  readonly stop: number
  readonly worth: number
  readonly lacks: readonly Lack[]
  /** Pieces that it has of what there is, because that was asked for. */
  readonly pulledAllTheSame: number
  /** Pieces that it could have if that were asked for. */
  readonly couldHave: number
}

export interface PickList {
  readonly fittedOn: CalendarDate
  readonly vans: readonly VanPull[]
  /** By van and stop. */
  readonly losers: readonly LosingVisit[]
  /** False when there was too much to weigh: the visits served are then the best set that was found. */
  readonly proved: boolean
}

/** What a visit needs in all: its own parts and what every visit uses, one entry a part and a right to stand in for it. */
export function needsOfVisit(visit: Pick<PullVisit, 'needs'>, parts: readonly EveryVisit[]): VisitNeed[] {
  const free = new Map<PartId, number>()
  const own = new Map<PartId, number>()
  for (const { partId, quantity, ownPartOnly } of visit.needs) {
    const wanted = ownPartOnly ? own : free
    wanted.set(partId, (wanted.get(partId) ?? 0) + quantity)
  }
  for (const part of usedAtEveryVisit(parts))
    free.set(part.partId, (free.get(part.partId) ?? 0) + part.perVisitQuantity)
  return [
    ...[...own].map(([partId, quantity]) => ({ partId, quantity, ownPartOnly: true })),
    ...[...free].map(([partId, quantity]) => ({ partId, quantity })),
  ].filter((need) => need.quantity > 0)
}

type EveryVisit = Pick<PullPart, 'partId' | 'perVisitQuantity'>
const everyVisit = new WeakMap<readonly EveryVisit[], readonly EveryVisit[]>()

/** Few of a thousand parts are used at every visit: they are looked for once a list, not once a visit. */
function usedAtEveryVisit(parts: readonly EveryVisit[]): readonly EveryVisit[] {
  const known = everyVisit.get(parts)
  if (known) return known
  const found = parts.filter((part) => part.perVisitQuantity > 0)
  everyVisit.set(parts, found)
  return found
}

/** Whether a lot may be fitted on that day at all: not recalled, not expired by then. */
export function isFittable(
  lot: { readonly expiresOn: CalendarDate | null; readonly recalled: boolean },
  fittedOn: CalendarDate,
): boolean {
  return !lot.recalled && (lot.expiresOn === null || lot.expiresOn >= fittedOn)
}

/** Pieces on a list of lines. */
export function piecesOf(lines: readonly { readonly quantity: number }[]): number {
  return lines.reduce((sum, line) => sum + line.quantity, 0)
}
