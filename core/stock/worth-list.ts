import type { Cents } from '../units/money.ts'
import type { ExpiringLot, PartWorth, PlaceWorth, Worth } from './worth-shapes.ts'

type Cell = string | number | null

/** A row before it is spread over the columns: what is not said of its kind stays blank. */
type Told = Partial<Record<(typeof COLUMNS)[number][0], Cell>>

const COLUMNS = [
  ['what', 'What'],
  ['name', 'Name'],
  ['number', 'Number'],
  ['lot', 'Lot'],
  ['expires', 'Expires'],
  ['pieces', 'Pieces'],
  ['value', 'Value'],
  ['inBins', 'In bins'],
  ['onVans', 'On vans'],
  ['elsewhere', 'Set aside or on the way'],
  ['lost', 'May not be fitted any more'],
  ['usable', 'Usable pieces'],
  ['usedOn', 'Last used'],
  ['restDays', 'Days at rest'],
  ['aDay', 'Expected a day'],
  ['coverDays', 'Enough for days'],
  ['asked', 'Asked for by visits'],
  ['served', 'Of these served'],
  ['willBeUsed', 'Used by its date'],
  ['atRisk', 'Likely left, value'],
] as const

/** The whole page of worth as one list: a row a part, a place and an expiring lot, said in the first column; amounts in whole units of money. */
export function worthList(worth: Worth, minorDigits: number): { readonly headers: string[]; readonly lines: Cell[][] } {
  const money = (amount: Cents): number => amount / 10 ** minorDigits
  const told = [
    inAll(worth, money),
    ...worth.parts.map((part) => partTold(part, money)),
    ...worth.places.map((place) => placeTold(place, money)),
    ...worth.expiring.map((lot) => lotTold(lot, money)),
  ]
  return {
    headers: COLUMNS.map(([, header]) => header),
    lines: told.map((row) => COLUMNS.map(([id]) => row[id] ?? null)),
  }
}

type Money = (amount: Cents) => number

function inAll(worth: Worth, money: Money): Told {
  return {
    what: 'in all',
    name: worth.on,
    pieces: worth.parts.reduce((sum, part) => sum + part.pieces, 0),
    value: money(worth.value),
    inBins: money(worth.inBins),
    onVans: money(worth.onVans),
    elsewhere: money(worth.elsewhere),
    lost: money(worth.lost),
    asked: worth.fill.piecesAsked,
    served: worth.fill.piecesServed,
    atRisk: worth.isToday ? money(worth.atRisk) : null,
  }
}

const partTold = (part: PartWorth, money: Money): Told => ({
  what: 'part',
  name: part.name,
  number: part.number,
  pieces: part.pieces,
  value: money(part.value),
  inBins: money(part.inBins),
  onVans: money(part.onVans),
  elsewhere: money(part.elsewhere),
  lost: money(part.lost),
  usable: part.usable,
  usedOn: part.usedOn,
  restDays: part.restDays,
  aDay: part.aDay === null ? null : Math.round(part.aDay * 1000) / 1000,
  coverDays: part.coverDays,
  asked: part.asked,
  served: part.served,
})

const placeTold = (place: PlaceWorth, money: Money): Told => ({
  what: place.kind === 'transit' ? 'on the way' : place.kind,
  name: place.name,
  pieces: place.pieces,
  value: money(place.value),
})

const lotTold = (lot: ExpiringLot, money: Money): Told => ({
  what: 'expiring lot',
  name: lot.name,
  number: lot.number,
  lot: lot.lot,
  expires: lot.expiresOn,
  pieces: lot.pieces,
  value: money(lot.value),
  willBeUsed: lot.willBeUsed,
  atRisk: money(lot.atRisk),
})
