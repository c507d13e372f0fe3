import type { PartId, VisitId } from '../units/ids.ts'
import {
  isFittable,
  needsOfVisit,
  type PickList,
  type PickListInput,
  type PullLine,
  type StockAtPlace,
} from './pull-shapes.ts'

/**
 * The judge of a pick list: every complaint in words, none when the list is lawful. Shares nothing with the planner but the
 * meaning of a need and of a fittable lot, so it also judges lists made in other ways.
 */
export function checkPickList(input: PickListInput, list: PickList): string[] {
  return [
    ...checkConservation(input, list),
    ...checkLots(input, list),
    ...checkCapacity(input, list),
    ...checkTotes(input, list),
    ...checkWalk(list),
    ...checkNothingLeftLying(input, list),
  ]
}

const every = (list: PickList): PullLine[] => list.vans.flatMap((van) => [...van.lines, ...van.aboard])
const placeAndLot = (at: { readonly placeId: number; readonly lotId: number }): string => `${at.placeId}/${at.lotId}`
const visitAndPart = (visitId: VisitId, partId: PartId): string => `${visitId}/${partId}`

/** Supply + shortage = demand, for every visit and part; and nothing is supplied that nobody asked for. */
function checkConservation(input: PickListInput, list: PickList): string[] {
  const balance = new Map<string, number>()
  const add = (key: string, quantity: number) => balance.set(key, (balance.get(key) ?? 0) + quantity)
  for (const visit of input.visits)
    for (const need of needsOfVisit(visit, input.parts)) add(visitAndPart(visit.visitId, need.partId), need.quantity)
  for (const line of every(list))
    for (const tote of line.totes) add(visitAndPart(tote.visitId, line.insteadOf ?? line.partId), -tote.quantity)
  for (const van of list.vans)
    for (const shortage of van.shortages) add(visitAndPart(shortage.visitId, shortage.partId), -shortage.quantity)
  return [...balance]
    .filter(([, left]) => left !== 0)
    .map(([key, left]) => `Visit and part ${key}: demand is not supply + shortage (${left} off).`)
}

/** Lots that may be fitted that day, from a place in reach of the van, standing in only where that is allowed. */
function checkLots(input: PickListInput, list: PickList): string[] {
  const at = new Map(input.stock.map((stock) => [placeAndLot(stock), stock]))
  const allowed = new Map(input.parts.map((part) => [part.partId, new Set(part.substitutes)]))
  const complaints: string[] = []
  for (const van of list.vans)
    for (const line of [...van.lines, ...van.aboard]) {
      const stock = at.get(placeAndLot(line))
      if (!stock || stock.partId !== line.partId) {
        complaints.push(`Lot ${line.lotId} of part ${line.partId} does not lie at place ${line.placeId}.`)
        continue
      }
      if (stock.recalled) complaints.push(`Lot ${line.lotId} is recalled.`)
      if (!isFittable({ ...stock, recalled: false }, input.fittedOn))
        complaints.push(`Lot ${line.lotId} expires before it is fitted.`)
      if (stock.vanId !== null && stock.vanId !== van.vanId) complaints.push(`Lot ${line.lotId} lies on another van.`)
      if (van.lines.includes(line) !== (stock.vanId === null))
        complaints.push(`Lot ${line.lotId} is listed as if it lay elsewhere.`)
      if (line.insteadOf !== null && !allowed.get(line.insteadOf)?.has(line.partId))
        complaints.push(`Part ${line.partId} may not stand in for part ${line.insteadOf}.`)
    }
  return complaints
}

/** No lot is promised twice, across all vans and what was promised before. */
function checkCapacity(input: PickListInput, list: PickList): string[] {
  const left = new Map(input.stock.map((stock) => [placeAndLot(stock), stock.onHand - stock.promised]))
  for (const line of every(list)) left.set(placeAndLot(line), (left.get(placeAndLot(line)) ?? 0) - line.quantity)
  return [...left]
    .filter(([key, count]) => count < 0 && every(list).some((line) => placeAndLot(line) === key))
    .map(([key, count]) => `Place and lot ${key}: ${-count} promised that are not there.`)
}

/** A line is the sum of its totes, each a whole number above zero, at the stop of the visit it names, on that visit's van. */
function checkTotes(input: PickListInput, list: PickList): string[] {
  const visits = new Map(input.visits.map((visit) => [visit.visitId, visit]))
  const complaints: string[] = []
  for (const van of list.vans) {
    for (const line of [...van.lines, ...van.aboard]) {
      const sum = line.totes.reduce((total, tote) => total + tote.quantity, 0)
      if (sum !== line.quantity)
        complaints.push(`Line of lot ${line.lotId}: ${line.quantity} is not the sum of its totes.`)
    }
    const toStops = [...van.lines, ...van.aboard].flatMap((line) => line.totes).concat(van.shortages)
    for (const { visitId, stop, quantity } of toStops) {
      if (!Number.isInteger(quantity) || quantity <= 0)
        complaints.push(`Visit ${visitId}: ${quantity} is no number of pieces.`)
      const visit = visits.get(visitId)
      if (visit?.stop !== stop || visit.vanId !== van.vanId)
        complaints.push(`Visit ${visitId} is not stop ${stop} of van ${van.vanId}.`)
    }
  }
  return complaints
}

/** The walk never turns back, and no lot of a bin is visited twice on one list. */
function checkWalk(list: PickList): string[] {
  const complaints: string[] = []
  for (const van of list.vans) {
    van.lines.forEach((line, index) => {
      const before = van.lines[index - 1]
      if (before && before.walkOrder > line.walkOrder)
        complaints.push(`Van ${van.vanId}: bin ${line.binCode} comes after ${before.binCode}.`)
    })
    const reaches = van.lines.map((line) => `${placeAndLot(line)}/${line.insteadOf}`)
    if (new Set(reaches).size !== van.lines.length) complaints.push(`Van ${van.vanId}: a lot is listed twice.`)
  }
  return complaints
}

/**
 * Order of supply: while a piece that could serve lies unpromised in reach, nothing later in the order may be used:
 * van, then warehouse by first expiry, then a substitute, then a shortage.
 */
function checkNothingLeftLying(input: PickListInput, list: PickList): string[] {
  const used = new Map<string, number>()
  for (const line of every(list)) used.set(placeAndLot(line), (used.get(placeAndLot(line)) ?? 0) + line.quantity)
  const spare = input.stock.filter(
    (stock) =>
      isFittable(stock, input.fittedOn) && stock.onHand - stock.promised - (used.get(placeAndLot(stock)) ?? 0) > 0,
  )
  const at = new Map(input.stock.map((stock) => [placeAndLot(stock), stock]))
  const complaints: string[] = []
  for (const van of list.vans) {
    const inReach = spare.filter((stock) => stock.vanId === null || stock.vanId === van.vanId)
    for (const line of [...van.lines, ...van.aboard]) {
      const source = at.get(placeAndLot(line))
      if (source && inReach.some((stock) => stock.partId === line.partId && isBefore(stock, source)))
        complaints.push(`Van ${van.vanId}: lot ${line.lotId} is used while an earlier one lies unused.`)
      if (line.insteadOf !== null && inReach.some((stock) => stock.partId === line.insteadOf))
        complaints.push(`Van ${van.vanId}: part ${line.partId} stands in while part ${line.insteadOf} lies unused.`)
    }
    for (const shortage of van.shortages) {
      const part = input.parts.find((each) => each.partId === shortage.partId)
      const serving = new Set([shortage.partId, ...(part?.substitutes ?? [])])
      if (inReach.some((stock) => serving.has(stock.partId)))
        complaints.push(`Visit ${shortage.visitId}: short of part ${shortage.partId} while a piece lies unused.`)
    }
  }
  return complaints
}

function isBefore(a: StockAtPlace, b: StockAtPlace): boolean {
  if ((a.vanId === null) !== (b.vanId === null)) return a.vanId !== null
  return (a.expiresOn ?? '9999-12-31') < (b.expiresOn ?? '9999-12-31')
}
