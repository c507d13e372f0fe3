import type { PartId, VisitId } from '../units/ids.ts'
import {
  isFittable,
  needsOfVisit,
  type PickList,
  type PickListInput,
  type PullLine,
  type StockAtPlace,
  type VanPull,
} from './pull-shapes.ts'

/**
 * The judge of a pick list: every complaint in words, none when the list is lawful. Shares nothing with the planner but the
 * meaning of a need and of a fittable lot, so it also judges lists made in other ways. Whether the visits served are worth most is not judged
 * here: the tests hold that against a solver and against every set.
 */
export function checkPickList(input: PickListInput, list: PickList): string[] {
  return [
    ...checkConservation(input, list),
    ...checkLots(input, list),
    ...checkStandingIn(input, list),
    ...checkCapacity(input, list),
    ...checkTotes(input, list),
    ...checkWalk(list),
    ...checkOrderOfSupply(input, list),
    ...checkWholeVisits(input, list),
    ...checkTopUp(input, list),
    ...checkRoom(input, list),
  ]
}

const linesOfVan = (van: VanPull): PullLine[] => [...van.lines, ...van.aboard]
const every = (list: PickList): PullLine[] => list.vans.flatMap(linesOfVan)
const placeAndLot = (at: { readonly placeId: number; readonly lotId: number }): string => `${at.placeId}/${at.lotId}`
const visitAndPart = (visitId: VisitId, partId: PartId): string => `${visitId}/${partId}`

function sums<Key>(rows: readonly (readonly [Key, number])[]): Map<Key, number> {
  const found = new Map<Key, number>()
  for (const [key, quantity] of rows) found.set(key, (found.get(key) ?? 0) + quantity)
  return found
}

function grouped<Key, Row>(rows: readonly Row[], keyOf: (row: Row) => Key): Map<Key, Row[]> {
  const groups = new Map<Key, Row[]>()
  for (const row of rows) {
    const group = groups.get(keyOf(row))
    if (group) group.push(row)
    else groups.set(keyOf(row), [row])
  }
  return groups
}

/** Supply + shortage = demand, for every visit and part; and nothing is supplied that nobody asked for. */
function checkConservation(input: PickListInput, list: PickList): string[] {
  const needs = input.visits.flatMap((visit) =>
    needsOfVisit(visit, input.parts).map((need) => [visitAndPart(visit.visitId, need.partId), need.quantity] as const),
  )
  const supplied = every(list).flatMap((line) =>
    line.totes.map((tote) => [visitAndPart(tote.visitId, line.insteadOf ?? line.partId), -tote.quantity] as const),
  )
  const short = list.vans.flatMap((van) =>
    van.shortages.map((each) => [visitAndPart(each.visitId, each.partId), -each.quantity] as const),
  )
  return [...sums([...needs, ...supplied, ...short])]
    .filter(([, left]) => left !== 0)
    .map(([key, left]) => `Visit and part ${key}: demand is not supply + shortage (${left} off).`)
}

/** Lots that may be fitted that day, from a place in reach of the van. */
function checkLots(input: PickListInput, list: PickList): string[] {
  const at = new Map(input.stock.map((stock) => [placeAndLot(stock), stock]))
  const complaints: string[] = []
  for (const van of list.vans)
    for (const line of linesOfVan(van)) {
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
    }
  return complaints
}

/** A part stands in only where the dealer allows it, and never for a stage that takes its own part only. */
function checkStandingIn(input: PickListInput, list: PickList): string[] {
  const allowed = new Map(input.parts.map((part) => [part.partId, new Set(part.substitutes)]))
  const free = sums(
    input.visits.flatMap((visit) =>
      needsOfVisit(visit, input.parts).map(
        (need) => [visitAndPart(visit.visitId, need.partId), need.ownPartOnly ? 0 : need.quantity] as const,
      ),
    ),
  )
  const complaints: string[] = []
  for (const line of every(list)) {
    if (line.insteadOf === null) continue
    if (!allowed.get(line.insteadOf)?.has(line.partId))
      complaints.push(`Part ${line.partId} may not stand in for part ${line.insteadOf}.`)
    for (const tote of line.totes) {
      const key = visitAndPart(tote.visitId, line.insteadOf)
      free.set(key, (free.get(key) ?? 0) - tote.quantity)
    }
  }
  for (const [key, left] of free)
    if (left < 0) complaints.push(`Visit and part ${key}: a stage that takes its own part only got another.`)
  return complaints
}

/** No lot is promised twice, across all vans and what was promised before. */
function checkCapacity(input: PickListInput, list: PickList): string[] {
  const used = sums(every(list).map((line) => [placeAndLot(line), line.quantity] as const))
  return input.stock.flatMap((stock) => {
    const promised = used.get(placeAndLot(stock)) ?? 0
    const over = promised - (stock.onHand - stock.promised)
    return promised > 0 && over > 0 ? [`Place and lot ${placeAndLot(stock)}: ${over} promised that are not there.`] : []
  })
}

/** A line is the sum of its totes, each a whole number above zero, at the stop of the visit it names, on that visit's van. */
function checkTotes(input: PickListInput, list: PickList): string[] {
  const visits = new Map(input.visits.map((visit) => [visit.visitId, visit]))
  const complaints: string[] = []
  for (const van of list.vans) {
    for (const line of linesOfVan(van)) {
      const sum = line.totes.reduce((total, tote) => total + tote.quantity, 0)
      if (line.forPar ? line.totes.length > 0 || line.quantity <= 0 : sum !== line.quantity)
        complaints.push(`Line of lot ${line.lotId}: ${line.quantity} is not the sum of its totes.`)
    }
    const toStops = linesOfVan(van)
      .flatMap((line) => line.totes)
      .concat(van.shortages)
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
    const reaches = van.lines.map((line) => `${placeAndLot(line)}/${line.insteadOf}/${line.forPar}`)
    if (new Set(reaches).size !== van.lines.length) complaints.push(`Van ${van.vanId}: a lot is listed twice.`)
  }
  return complaints
}

/** What lies there unpromised when the given lines are taken, of lots that may be fitted. */
function spareAfter(input: PickListInput, lines: readonly PullLine[]): StockAtPlace[] {
  const used = sums(lines.map((line) => [placeAndLot(line), line.quantity] as const))
  return input.stock.flatMap((stock) => {
    const onHand = stock.onHand - stock.promised - (used.get(placeAndLot(stock)) ?? 0)
    return onHand > 0 && isFittable(stock, input.fittedOn) ? [{ ...stock, onHand, promised: 0 }] : []
  })
}

/**
 * Order of supply: while a piece that could serve lies unpromised in reach, nothing later in the order may be used: van, then warehouse by
 * first expiry, then what stands in, in the dealer's order. What tops a van up comes after all visits, by first expiry too.
 */
function checkOrderOfSupply(input: PickListInput, list: PickList): string[] {
  const at = new Map(input.stock.map((stock) => [placeAndLot(stock), stock]))
  const ranks = new Map(input.parts.map((part) => [part.partId, part.substitutes]))
  const byPart = (stock: readonly StockAtPlace[]) => grouped(stock, (each) => each.partId)
  const forVisits = byPart(
    spareAfter(
      input,
      every(list).filter((line) => !line.forPar),
    ),
  )
  const forVans = byPart(spareAfter(input, every(list)))
  const complaints: string[] = []
  for (const van of list.vans)
    for (const line of linesOfVan(van)) {
      const spare = (partId: PartId) =>
        ((line.forPar ? forVans : forVisits).get(partId) ?? []).filter(
          (stock) => stock.vanId === null || (!line.forPar && stock.vanId === van.vanId),
        )
      const source = at.get(placeAndLot(line))
      if (source && spare(line.partId).some((stock) => isBefore(stock, source)))
        complaints.push(`Van ${van.vanId}: lot ${line.lotId} is used while an earlier one lies unused.`)
      if (line.insteadOf === null) continue
      const others = ranks.get(line.insteadOf) ?? []
      for (const better of [line.insteadOf, ...others.slice(0, Math.max(0, others.indexOf(line.partId)))])
        if (spare(better).length > 0)
          complaints.push(`Van ${van.vanId}: part ${line.partId} stands in while part ${better} lies unused.`)
    }
  return complaints
}

function isBefore(a: StockAtPlace, b: StockAtPlace): boolean {
  if ((a.vanId === null) !== (b.vanId === null)) return a.vanId !== null
  return (a.expiresOn ?? '9999-12-31') < (b.expiresOn ?? '9999-12-31')
}

/**
 * Whole visits: who is short of anything holds nothing, unless that was asked for; then nothing that could serve it lies unused. Nobody is left
 * out whom the pieces that no visit has could serve whole, and who is short is among the losers with what is missing.
 */
function checkWholeVisits(input: PickListInput, list: PickList): string[] {
  const spare = spareAfter(
    input,
    every(list).filter((line) => !line.forPar),
  )
  const holding = new Set(every(list).flatMap((line) => line.totes.map((tote) => tote.visitId)))
  const shortages = grouped(
    list.vans.flatMap((van) => van.shortages),
    (each) => each.visitId,
  )
  const losers = new Map(list.losers.map((loser) => [loser.visitId, loser]))
  const complaints: string[] = []
  for (const visit of input.visits) {
    const { visitId, vanId } = visit
    const short = shortages.get(visitId) ?? []
    if (short.length > 0 !== losers.has(visitId))
      complaints.push(`Visit ${visitId} is wrongly told about what is short.`)
    if (short.length === 0) continue
    if (!(losers.get(visitId)?.lacks ?? []).some((lack) => lack.missing > 0))
      complaints.push(`Visit ${visitId} goes without, and nothing is missing.`)
    const inReach = spare.filter((stock) => stock.vanId === null || stock.vanId === vanId)
    const needs = needsOfVisit(visit, input.parts).map(({ partId, quantity, ownPartOnly }) => {
      const others = ownPartOnly ? [] : (input.parts.find((part) => part.partId === partId)?.substitutes ?? [])
      return { partId, quantity, serving: [partId, ...others] }
    })
    if (input.evenIfShort.includes(visitId)) {
      for (const { partId } of short)
        if (inReach.some((stock) => stock.partId === partId))
          complaints.push(`Visit ${visitId}: short of part ${partId} while a piece lies unused.`)
    } else if (holding.has(visitId)) complaints.push(`Visit ${visitId} is half served.`)
    else if (canBeServed(needs, sums(inReach.map((stock) => [stock.partId, stock.onHand] as const))))
      complaints.push(`Visit ${visitId} goes without though all it needs lies there.`)
  }
  return complaints
}

/** Whether needs can be met from pieces by part, trying every way. */
function canBeServed(
  needs: readonly { readonly quantity: number; readonly serving: readonly PartId[] }[],
  spare: ReadonlyMap<PartId, number>,
): boolean {
  const there = (parts: readonly PartId[]) => parts.reduce((sum, part) => sum + (spare.get(part) ?? 0), 0)
  if (needs.some((need) => there(need.serving) < need.quantity)) return false
  const [first, ...others] = needs
  if (!first) return true
  if (first.quantity === 0) return canBeServed(others, spare)
  return first.serving.some((part, index) => {
    const left = spare.get(part) ?? 0
    if (left === 0) return false
    // A piece less of this part, and for this need from here on no part before it.
    const rest = { quantity: first.quantity - 1, serving: first.serving.slice(index) }
    return canBeServed([rest, ...others], new Map(spare).set(part, left - 1))
  })
}

/** What tops a van up: no more than its par, nothing that a visit goes without. */
function checkTopUp(input: PickListInput, list: PickList): string[] {
  const complaints: string[] = []
  const left = sums(
    spareAfter(input, every(list)).flatMap((stock) => (stock.vanId === null ? [[stock.partId, stock.onHand]] : [])),
  )
  const wanted = wantedByVisits(input, list)
  for (const van of list.vans) {
    const onVan = { ...input, stock: input.stock.filter((stock) => stock.vanId === van.vanId) }
    const aboard = sums(spareAfter(onVan, van.aboard).map((stock) => [stock.partId, stock.onHand] as const))
    const rules = input.vans.find((each) => each.vanId === van.vanId)
    const got = sums(van.lines.flatMap((line) => (line.forPar ? [[line.partId, line.quantity]] : [])))
    for (const [partId, quantity] of got) {
      const par = rules?.pars.find((each) => each.partId === partId)?.quantity ?? 0
      const coming = rules?.coming.find((each) => each.partId === partId)?.quantity ?? 0
      if (quantity + coming + (aboard.get(partId) ?? 0) > par)
        complaints.push(`Van ${van.vanId}: more of part ${partId} than it always carries.`)
      if ((left.get(partId) ?? 0) < (wanted.get(partId) ?? 0))
        complaints.push(`Van ${van.vanId}: part ${partId} tops it up while a visit goes without.`)
    }
  }
  return complaints
}

/** Pieces of each part that visits go without and that could serve them. */
function wantedByVisits(input: PickListInput, list: PickList): Map<PartId, number> {
  const wanted: [PartId, number][] = []
  for (const each of list.vans.flatMap((van) => van.shortages)) {
    wanted.push([each.partId, each.quantity])
    const visit = input.visits.find(({ visitId }) => visitId === each.visitId)
    const isFree =
      visit && needsOfVisit(visit, input.parts).some((need) => need.partId === each.partId && !need.ownPartOnly)
    const part = input.parts.find(({ partId }) => partId === each.partId)
    if (isFree) for (const other of part?.substitutes ?? []) wanted.push([other, Math.min(1, each.missing)])
  }
  return sums(wanted)
}

/** A van's room is reckoned right, and nothing measured tops it up beyond it. */
function checkRoom(input: PickListInput, list: PickList): string[] {
  const sizes = new Map(input.parts.map((part) => [part.partId, part.spaceMillilitres ?? 0]))
  const takes = (lines: readonly PullLine[]) =>
    lines.reduce((sum, line) => sum + line.quantity * (sizes.get(line.partId) ?? 0), 0)
  return list.vans.flatMap((van) => {
    const rules = input.vans.find((each) => each.vanId === van.vanId)
    if (!rules || rules.roomMillilitres === null)
      return van.room === null ? [] : [`Van ${van.vanId} was never measured.`]
    const taken = rules.takenMillilitres + takes(van.lines)
    if (van.room?.taken !== taken || van.room.has !== rules.roomMillilitres)
      return [`Van ${van.vanId}: ${taken} of its room are taken, not ${van.room?.taken}.`]
    const isOver = taken > rules.roomMillilitres && takes(van.lines.filter((line) => line.forPar)) > 0
    return isOver ? [`Van ${van.vanId} is topped up beyond its room.`] : []
  })
}
