import type { WriteDb } from '../../core/database/handles.ts'
import type { PullDay } from '../../core/stock/pull-contract.ts'
import { aBookedVisit, aHousehold, aLot, aPart, aPlace, aVan } from './a-warehouse.ts'

/** Keys of a small warehouse in which many work at the same time; plain, so that it can be handed to another process. */
export interface CrowdedWarehouse {
  readonly on: string
  readonly partIds: readonly number[]
  readonly lots: readonly { readonly lotId: number; readonly partId: number }[]
  /** Three bins and the places of two vans. */
  readonly placeIds: readonly number[]
  readonly vans: readonly { readonly vanId: number; readonly placeId: number }[]
  /** Booked today, each for one piece of the first part out of its technician's van. */
  readonly visitsToday: readonly { readonly visitId: number; readonly partId: number }[]
}

/** Few pieces, so that everybody is in everybody's way: two parts, four lots of three to five pieces, three bins, two vans with work to do. */
export async function aCrowdedWarehouse(tx: WriteDb): Promise<CrowdedWarehouse> {
  const partIds = [await aPart(tx, 'P-1010'), await aPart(tx, 'P-2075')]
  const bins = [await aPlace(tx, 'A-01', 10), await aPlace(tx, 'A-02', 20), await aPlace(tx, 'B-01', 30)]
  const vans = [await aVan(tx, 'van 1', 'Ilse R.'), await aVan(tx, 'van 2', 'Bram T.')]
  const placeIds = [...bins, ...vans.map((van) => van.placeId)]
  const lots: { lotId: number; partId: number }[] = []
  for (const [at, pieces] of [3, 4, 5, 4].entries()) {
    const partId = partIds[at % 2] ?? (1 as never)
    const placeId = placeIds[at] ?? (1 as never)
    lots.push({ lotId: await aLot(tx, { partId, code: `L-${at}`, placeId, pieces }), partId })
  }
  const siteId = await aHousehold(tx, 'Ashgrove Dental')
  const visitsToday: { visitId: number; partId: number }[] = []
  for (let n = 0; n < 12; n += 1) {
    const van = vans[n % 2]
    const partId = partIds[n % 2] ?? (1 as never)
    const needs = [[partId, 1]] as const
    const visit = { siteId, technicianId: van?.technicianId ?? null, from: 480 + 10 * n, needs }
    const visitId = await aBookedVisit(tx, { ...visit, on: '2026-12-01' })
    visitsToday.push({ visitId, partId })
    if (n < 6) await aBookedVisit(tx, { ...visit, on: '2026-12-02' })
  }
  return { on: '2026-12-02', partIds, lots, placeIds, vans, visitsToday }
}

/** Asks the office through the whole door. */
export type AskOffice = (path: string, input: unknown) => Promise<{ readonly status: number; readonly json: unknown }>

/** What somebody asked for and was told. `note` stands on the movement, so that each is found once or not at all. */
export interface Told {
  readonly what: string
  readonly note: string
  readonly status: number
  /** For a refusal: its code and its sentence; for a yes: the pieces of a pull that was put on a van. */
  readonly code: string
  readonly sentence: string
  readonly pieces: number
  /** Whether the answer says that a movement was written. */
  readonly moved: boolean
}

/** The same numbers for the same seed: chance that can be told again. */
function drawing(seed: number): (below: number) => number {
  let state = (seed * 2_654_435_761 + 1) >>> 0
  return (below) => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0
    return Math.floor((state / 2 ** 32) * below)
  }
}

interface Doing {
  readonly ask: AskOffice
  readonly house: CrowdedWarehouse
  readonly draw: (below: number) => number
  readonly note: string
  readonly told: Told[]
}

async function tell(doing: Doing, what: string, path: string, input: unknown): Promise<unknown> {
  const { status, json } = await doing.ask(path, input)
  const answer = json as {
    movementId?: number | null
    pieces?: number
    data?: { code?: string; sentence?: string }
  } | null
  const { code = '', sentence = '' } = answer?.data ?? {}
  const moved = typeof answer?.movementId === 'number'
  doing.told.push({ what, note: doing.note, status, code, sentence, pieces: answer?.pieces ?? 0, moved })
  return json
}

const pick = <Item>({ draw }: Doing, items: readonly Item[]): Item | undefined => items[draw(items.length)]

async function moveSome(doing: Doing): Promise<void> {
  const { house, draw, note } = doing
  const ends = { fromPlaceId: pick(doing, house.placeIds), toPlaceId: pick(doing, house.placeIds) }
  await tell(doing, 'move', 'stock/move', {
    lotId: pick(doing, house.lots)?.lotId,
    ...ends,
    quantity: 1 + draw(3),
    note,
  })
}

async function sendSome(doing: Doing): Promise<void> {
  const { house, note } = doing
  const lotId = pick(doing, house.lots)?.lotId
  const ends = { fromPlaceId: pick(doing, house.placeIds), boundForPlaceId: pick(doing, house.placeIds) }
  await tell(doing, 'send', 'stock/send', { lotId, ...ends, quantity: 1, note })
}

async function takeIn(doing: Doing): Promise<void> {
  const { json } = await doing.ask('stock/onTheWay', undefined)
  const row = pick(doing, json as { lotId: number; transitPlaceId: number; boundForPlaceId: number | null }[])
  if (!row) return
  const { lotId, transitPlaceId, boundForPlaceId } = row
  const toPlaceId = boundForPlaceId ?? doing.house.placeIds[0]
  const input = { lotId, transitPlaceId, boundForPlaceId, toPlaceId, quantity: 1, note: doing.note }
  await tell(doing, 'arrive', 'stock/arrive', input)
}

async function countOne(doing: Doing): Promise<void> {
  const { house, draw, note } = doing
  const [lotId, placeId] = [pick(doing, house.lots)?.lotId, pick(doing, house.placeIds)]
  // What the books say is guessed as often as known: a count that they overtook is refused.
  await tell(doing, 'count', 'stock/count', { lotId, placeId, seen: draw(4), counted: draw(5), note })
}

async function scrapOne(doing: Doing): Promise<void> {
  const { house, note } = doing
  const [lotId, placeId] = [pick(doing, house.lots)?.lotId, pick(doing, house.placeIds)]
  await tell(doing, 'scrap', 'stock/scrap', { lotId, placeId, quantity: 1, note })
}

async function bringBack(doing: Doing): Promise<void> {
  const { house, note } = doing
  const [lotId, placeId] = [pick(doing, house.lots)?.lotId, pick(doing, house.placeIds)]
  await tell(doing, 'return', 'stock/giveBack', { lotId, placeId, way: 'from-household', quantity: 1, note })
}

async function beginPull(doing: Doing): Promise<void> {
  await tell(doing, 'begin', 'pull/begin', { on: doing.house.on, vanIds: [pick(doing, doing.house.vans)?.vanId] })
}

/** Ticks whatever an open pull asks for, and puts it on its van; others do the same with the same pull. */
async function putAboard(doing: Doing): Promise<void> {
  const { json } = await doing.ask('pull/day', { on: doing.house.on })
  const open = (json as PullDay).vans.filter((van) => van.state === 'open')
  const van = pick(doing, open)
  if (!van) return
  for (const line of van.lines)
    await tell(doing, 'tick', 'pull/tick', { pullId: van.pullId, lineId: line.lineId, pulled: line.quantity })
  await tell(doing, 'confirm', 'pull/confirm', { pullId: van.pullId })
}

async function takeBackPull(doing: Doing): Promise<void> {
  const { json } = await doing.ask('pull/day', { on: doing.house.on })
  const van = (json as PullDay).vans.find((each) => each.state === 'open')
  if (van) await tell(doing, 'take back', 'pull/takeBack', { pullId: van.pullId })
}

/** Records a visit: one piece leaves the technician's van. Nobody records the same one twice. */
async function recordVisit(doing: Doing): Promise<void> {
  const visit = pick(doing, doing.house.visitsToday)
  if (!visit) return
  const fitted = {
    kind: 'change',
    stageId: null,
    description: 'a filter',
    partId: visit.partId,
    lotId: null,
    fromPlaceId: null,
  }
  const task = { ...fitted, taskId: null, done: true, quantity: 1, minutes: 8, freeOfCharge: false }
  const report = { outcome: 'done', because: '', doneOn: '2026-12-01', callFree: false, readings: [], remarks: '' }
  const checked = { leakChecked: true, leakCheckedFull: true }
  await tell(doing, `record ${visit.visitId}`, 'visits/record', {
    ...{ visitId: visit.visitId, version: 1, tasks: [task] },
    ...report,
    ...checked,
  })
}

async function putRightOne(doing: Doing): Promise<void> {
  const { json } = await doing.ask('stock/movements', { partId: pick(doing, doing.house.partIds), before: null })
  const wrong = pick(
    doing,
    (json as { movements: { movementId: number; canBePutRight: boolean }[] }).movements.filter(
      (each) => each.canBePutRight,
    ),
  )
  if (wrong) await tell(doing, 'put right', 'stock/putRight', { movementId: wrong.movementId, note: doing.note })
}

const ACTS = [
  ...[moveSome, moveSome, moveSome, sendSome, takeIn, countOne, countOne, scrapOne, bringBack, bringBack],
  ...[beginPull, putAboard, putAboard, putAboard, takeBackPull, recordVisit, recordVisit, putRightOne],
] as const

/** One session at work: so many things by chance, one after the other, through the whole door. */
export async function aSession(ask: AskOffice, house: CrowdedWarehouse, seed: number, acts: number): Promise<Told[]> {
  const draw = drawing(seed)
  const told: Told[] = []
  for (let n = 0; n < acts; n += 1) {
    const act = ACTS[draw(ACTS.length)] ?? moveSome
    await act({ ask, house, draw, note: `session ${seed}, act ${n}`, told })
  }
  return told
}
