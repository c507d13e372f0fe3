import { isWorkday } from './demo-calendar.ts'
import type { DemoMovement, DemoOffice, DemoPull } from './demo-records.ts'

/** Judge: what of a demo office's pulls and counts does not agree with its movements and visits; empty when all does. */
export function checkDemoWarehouse(office: DemoOffice): string[] {
  return [
    ...office.pulls.flatMap((pull, place) => pullComplaints(office, pull, place)),
    ...unpulledComplaints(office),
    ...countComplaints(office),
  ]
}

const key = (lot: number, quantity: number) => `${lot} x ${quantity}`

function pullComplaints(office: DemoOffice, pull: DemoPull, place: number): string[] {
  const complaints: string[] = []
  const say = (what: string) => complaints.push(`pull ${place} ${what}`)
  if (!isWorkday(pull.loadedOn) || pull.loadedOn >= pull.visitsOn) say('was not loaded on a working day before')
  if (pull.visitsOn > office.today) say('is confirmed for a day that is to come')
  if (pull.by === '') say('was loaded by nobody')
  const moved = office.movements.filter((movement) => movement.pull === place)
  const said = pull.lines.map(({ lot, stops }) =>
    key(
      lot,
      stops.reduce((sum, stop) => sum + stop.quantity, 0),
    ),
  )
  if (
    moved
      .map(({ lot, quantity }) => key(lot, quantity))
      .toSorted()
      .join() !== said.toSorted().join()
  )
    say('moved other pieces than its lines say')
  if (moved.some(({ on, from, to }) => on !== pull.loadedOn || from !== 'bin' || to !== pull.technician))
    say('moved pieces on another day or elsewhere')
  for (const { lot, stops } of pull.lines)
    for (const { visit, quantity } of stops) {
      const stop = office.visits[visit]
      const used = [...(stop?.fittings ?? []), ...(stop?.consumables ?? [])].filter((each) => each.lot === lot)
      if (stop?.on !== pull.visitsOn || stop.technician !== pull.technician)
        say(`serves a visit of another day: ${visit}`)
      if (used.filter((each) => !each.fromBin).length !== quantity) say(`gave visit ${visit} what it did not fit`)
    }
  for (const { visit, part } of pull.shortages) {
    const missed = office.visits[visit]?.fittings.find((fitting) => fitting.part === part)
    if (!missed?.fromBin) say(`lets visit ${visit} go without a part that it got`)
    if (inBins(office, part, pull.loadedOn) > 0) say(`lets visit ${visit} go without a part that was there`)
  }
  return complaints
}

/** Pieces of a part in bins at the end of a day. */
function inBins(office: DemoOffice, part: number, on: number): number {
  const isOfPart = ({ lot }: DemoMovement) => office.lots[lot]?.part === part
  return sumInBins(office.movements.filter((movement) => movement.on <= on && isOfPart(movement)))
}

function sumInBins(movements: readonly DemoMovement[]): number {
  return movements.reduce(
    (sum, { from, to, quantity }) => sum + (to === 'bin' ? quantity : 0) - (from === 'bin' ? quantity : 0),
    0,
  )
}

/** From the first pull on there is one for every van that was out, and only one. */
function unpulledComplaints(office: DemoOffice): string[] {
  const first = Math.min(...office.pulls.map((pull) => pull.visitsOn))
  const pulled = office.pulls.map((pull) => `${pull.visitsOn}/${pull.technician}`)
  const out = office.visits.filter(({ outcome, on }) => outcome === 'done' && on >= first)
  const missing = out.filter(({ on, technician }) => !pulled.includes(`${on}/${technician}`))
  return [
    ...missing.map(({ on, technician }) => `van ${technician} was out on ${on} and never loaded`),
    ...(new Set(pulled).size === pulled.length ? [] : ['a van was loaded twice for a day']),
  ]
}

/** Counts stand against what the movements come to; an approved difference is one of them, one that waits is none. */
function countComplaints(office: DemoOffice): string[] {
  return office.counts.flatMap((count, place) =>
    count.lines.flatMap(({ lot, booksSaid, counted }) => {
      const own = office.movements.filter((movement) => movement.lot === lot)
      const others = own.filter(({ on, count: round }) => on <= count.on && round !== place)
      const booked = sumInBins(own.filter(({ count: round }) => round === place))
      const difference = count.state === 'approved' ? counted - booksSaid : 0
      return [
        ...(sumInBins(others) === booksSaid ? [] : [`count ${place} says other books than the movements: lot ${lot}`]),
        ...(booked === difference ? [] : [`count ${place} booked another difference than was counted: lot ${lot}`]),
        ...(counted < 0 || count.on >= office.today ? [`count ${place} cannot have been: lot ${lot}`] : []),
      ]
    }),
  )
}
