import { describe, expect, test } from 'vitest'
import type { PullDay } from '../../core/stock/pull-contract.ts'
import type { RecallBooked, RecalledLot, RecallSheetFacts, RecallVisits } from '../../core/stock/recall-contract.ts'
import { recallVisitsWork } from '../../core/stock/recall-visits-work.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { aLotToRecall, RECALL } from '../builders/a-recall.ts'
import { aBookedVisit, aHousehold, aPlace, aVan, held } from '../builders/a-warehouse.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'

const code = (answer: { json: unknown }) => (answer.json as { data?: { code?: string } }).data?.code
const sentence = (answer: { json: unknown }) => (answer.json as { sentence?: string }).sentence

async function sheetOf(office: AnOffice, lotId: number): Promise<RecallSheetFacts> {
  return (await office.ask('recall/lot', { lotId })).json as RecallSheetFacts
}

async function bookAll(office: AnOffice, lotId: number, from: string | null = null): Promise<RecallBooked> {
  const { json } = await office.ask('work/start', { name: 'recall-visits', input: { lotId, from } })
  const { workId } = json as { workId: string }
  for (;;) {
    const ended = (await office.ask('work/progress', { workId })).json as { state: string; outcome: unknown }
    if (ended.state !== 'running') return ended.outcome as RecallBooked
    await new Promise((resolve) => setImmediate(resolve))
  }
}

describe.each(databases)('a recall on $name', ({ open }) => {
  test('STK-70 STK-71 STK-72 STK-73 STK-74 the lot is quarantined at once, told piece by piece, and comes back', async () => {
    const office = await anOffice(await open())
    const { tx, bin, van, lotId, home } = await aLotToRecall(office)
    await home({ name: 'Ashgrove, Ida', town: 'Saltgrass' })
    await home({ name: 'Holt, Per', town: 'Orrin Falls', noMail: true, stages: 2 })
    expect(code(await office.ask('recall/recallLot', { lotId, why: '', notice: '' }))).toBe('STOCK_REASON_MISSING')
    expect(code(await office.ask('recall/quarantine', { lotId }))).toBe('LOT_NOT_RECALLED')
    const recalled = await office.ask('recall/recallLot', { lotId, ...RECALL })
    expect(sentence(recalled)).toBe(
      'Lot K-77 of Carbon block is recalled. 17 pieces went to quarantine: 14 from A-02-1, 3 from Van 1.',
    )
    expect(await held(tx)).toEqual({ 'A-02-1': 12, quarantine: 17 })
    expect(code(await office.ask('recall/recallLot', { lotId, ...RECALL }))).toBe('STOCK_LOT_UNCHANGED')
    const sheet = await sheetOf(office, lotId)
    expect(sheet).toMatchObject({ ...RECALL, recalledOn: '2026-12-01', noLongerFitted: 0 })
    expect(sheet.figures).toEqual({
      ...{ received: 20, found: 0, inBins: 0, onVans: 0, quarantined: 17, inTransit: 0 },
      ...{ fitted: 3, scrapped: 0, toSupplier: 0, missing: 0 },
    })
    expect(sheet.vans).toEqual([
      { van: 'Van 1', technician: 'Ilse Rademaker', phone: '555-0130', aboard: 0, setAside: 3 },
    ])
    expect(sheet.homes.map((each) => [each.town, each.household, each.pieces, each.noLetter, each.fittedOn])).toEqual([
      ['Orrin Falls', 'Holt, Per', 2, 'asked for no mail', '2026-05-12'],
      ['Saltgrass', 'Ashgrove, Ida', 1, null, '2026-05-12'],
    ])
    const stages = await tx.selectFrom('stages').select(['due_on', 'due_rule']).execute()
    expect(stages).toEqual(Array(3).fill({ due_on: '2026-12-01', due_rule: 'recall' }))
    const lots = (await office.ask('recall/lots')).json as RecalledLot[]
    expect(lots).toMatchObject([{ lot: 'K-77', quarantined: 17, homes: 2, ...RECALL }])

    // Nothing of it goes back on a shelf; what is counted there all the same is sent after the rest.
    const back = { lotId, placeId: van.placeId, way: 'from-household', quantity: 1, note: '' }
    expect(code(await office.ask('stock/giveBack', back))).toBe('LOT_RECALLED')
    await office.ask('stock/count', { lotId, placeId: bin, seen: 0, counted: 1, note: 'behind the others' })
    expect((await sheetOf(office, lotId)).places.map((each) => [each.place, each.pieces])).toEqual([
      ['A-02-1', 1],
      ['quarantine', 17],
    ])
    expect(sentence(await office.ask('recall/quarantine', { lotId }))).toBe(
      'Lot K-77 of Carbon block: 1 piece went to quarantine: 1 from A-02-1.',
    )
    expect(sentence(await office.ask('recall/quarantine', { lotId }))).toBe(
      'Nothing of lot K-77 lies in a bin or on a van.',
    )

    const freed = await office.ask('recall/freeLot', { lotId, why: 'the notice was withdrawn' })
    expect(sentence(freed)).toBe('Lot K-77 of Carbon block is fit for use again. 18 pieces went back from quarantine.')
    expect(await held(tx)).toEqual({ 'A-02-1': 27, 'Van 1': 3 })
    expect((await sheetOf(office, lotId)).figures).toMatchObject({ received: 20, found: 1, inBins: 15, onVans: 3 })
    expect(code(await office.ask('recall/freeLot', { lotId, why: '' }))).toBe('STOCK_LOT_UNCHANGED')
    expect((await office.ask('recall/lots')).json).toEqual([])
    const dues = await tx.selectFrom('stages').select('due_rule').execute()
    expect(dues.some((stage) => stage.due_rule === 'recall')).toBe(false)
  })

  test('STK-73 what was thrown away since does not come back, nor anything to a place that is out of use', async () => {
    const office = await anOffice(await open())
    const { tx, bin, lotId } = await aLotToRecall(office)
    const other = await aPlace(tx, 'B-01-1', 20)
    await office.ask('stock/move', { lotId, fromPlaceId: bin, toPlaceId: other, quantity: 4, note: '' })
    await office.ask('recall/recallLot', { lotId, ...RECALL })
    const { placeId } = (await sheetOf(office, lotId)).places[0] ?? { placeId: 0 }
    await office.ask('stock/scrap', { lotId, placeId, quantity: 15, note: 'cut up' })
    await tx
      .updateTable('places')
      .set({ closed_on: calendarDate('2026-12-01') })
      .where('id', '=', other)
      .execute()
    const freed = sentence(await office.ask('recall/freeLot', { lotId, why: 'withdrawn' }))
    expect(freed).toContain('is fit for use again. 3 pieces went back from quarantine.')
    expect(freed).toContain('2 of B-01-1 stay in quarantine')
    expect(freed).toContain('left quarantine meanwhile')
    const sheet = await sheetOf(office, lotId)
    expect(sheet.figures).toMatchObject({ received: 20, quarantined: 2, scrapped: 15, onVans: 3 })
  })

  test('STK-70 pulls give the lot back, open and on the van already, and plan those visits again', async () => {
    const office = await anOffice(await open())
    const { tx, partId, van, lotId, good } = await aLotToRecall(office)
    await tx
      .updateTable('lots')
      .set({ expires_on: calendarDate('2028-01-31') })
      .where('id', '=', lotId)
      .execute()
    await tx
      .updateTable('lots')
      .set({ expires_on: calendarDate('2029-01-31') })
      .where('id', '=', good)
      .execute()
    const siteId = await aHousehold(tx, 'Abernathy-Vance, Corinne')
    const second = await aVan(tx, 'Van 2', 'Bram T.')
    const on = '2026-12-02'
    await aBookedVisit(tx, { siteId, technicianId: van.technicianId, on, needs: [[partId, 5]] })
    await aBookedVisit(tx, { siteId, technicianId: second.technicianId, on, needs: [[partId, 4]] })
    const dayOf = async () => (await office.ask('pull/day', { on })).json as PullDay
    await office.ask('pull/begin', { on, vanIds: [van.vanId, second.vanId] })
    const mine = (await dayOf()).vans.find((each) => each.van === 'Van 1')
    for (const line of mine?.lines ?? [])
      await office.ask('pull/tick', { pullId: mine?.pullId, lineId: line.lineId, pulled: line.quantity })
    await office.ask('pull/confirm', { pullId: mine?.pullId })
    const recalled = sentence(await office.ask('recall/recallLot', { lotId, ...RECALL }))
    expect(recalled).toContain('20 pieces went to quarantine: 15 from A-02-1, 5 from Van 1.')
    expect(recalled).toContain('Pulls gave back 9 pieces: 5 of Van 1, 4 of Van 2.')
    expect(recalled).toContain('Promised in place of it: 4 of lot K-78, A-02-1.')
    const [first, other] = (await dayOf()).vans
    expect(first).toMatchObject({ van: 'Van 1', state: 'ready', more: 5 })
    expect(other).toMatchObject({ van: 'Van 2', state: 'open', more: 0, lines: [{ lot: 'K-78', quantity: 4 }] })
    const totes = await tx.selectFrom('pull_line_stops').select('quantity').execute()
    expect(totes).toEqual([{ quantity: 4 }])
  })

  test('STK-75 STK-76 STK-77 STK-78 one press books what is missing, adds to what is booked, and doubles nothing', async () => {
    const office = await anOffice(await open())
    const { tx, van, lotId, good, partId, home } = await aLotToRecall(office)
    const [first] = [await home({ name: 'Ashgrove, Ida', town: 'Saltgrass' })]
    await home({ name: 'Holt, Per', town: 'Saltgrass', stages: 2 })
    const booked = await home({ name: 'Quill, Ama', town: 'Orrin Falls' })
    await home({ name: 'Vane, Tor', town: 'Orrin Falls', monthsAway: '1,2,12' })
    const visitId = await aBookedVisit(tx, {
      ...{ siteId: booked.siteId, technicianId: van.technicianId, on: '2026-12-09', needs: [] },
    })
    expect(code(await office.ask('recall/visits', { lotId, from: null }))).toBe('LOT_NOT_RECALLED')
    await office.ask('recall/recallLot', { lotId, ...RECALL })
    const proposed = (await office.ask('recall/visits', { lotId, from: null })).json as RecallVisits
    expect(proposed).toMatchObject({
      ...{ from: '2026-12-05', visits: 2, until: '2026-12-07' },
      days: [{ on: '2026-12-07', technician: 'Ilse Rademaker', visits: 2, towns: 'Saltgrass' }],
      added: [{ household: 'Quill, Ama', on: '2026-12-09' }],
      left: [{ household: 'Vane, Tor', phone: '555-0142' }],
      parts: [{ number: 'CB-10', needed: 4, usable: 12 }],
    })
    const came = await bookAll(office, lotId)
    expect(came).toMatchObject({ booked: 2, added: 1, notComeTo: 0 })
    expect(came.left).toMatchObject([{ household: 'Vane, Tor', why: 'The coming weeks have no room for it.' }])
    const visits = await tx
      .selectFrom('visits')
      .select(['site_id', 'visit_on', 'window_from', 'promised', 'call_free', 'planned_minutes', 'note', 'state'])
      .orderBy('id')
      .execute()
    expect(visits.map((visit) => [visit.visit_on, visit.window_from, visit.promised, visit.call_free])).toEqual([
      ['2026-12-09', 480, 1, 0],
      ['2026-12-07', 480, 1, 1],
      ['2026-12-07', 480, 1, 1],
    ])
    // 20 minutes for the call, 8 for each change: the office's defaults.
    expect(visits.map((visit) => visit.planned_minutes)).toEqual([48, 28, 36])
    expect(visits.every((visit) => visit.note.includes('K-77'))).toBe(true)
    const tasks = await tx
      .selectFrom('visit_tasks')
      .select(['visit_id', 'kind', 'stage_id', 'part_id', 'free_of_charge'])
      .execute()
    expect(tasks).toHaveLength(4)
    expect(tasks.every((task) => task.kind === 'change' && task.free_of_charge === 1 && task.part_id === partId)).toBe(
      true,
    )
    const sheet = await sheetOf(office, lotId)
    expect(sheet.homes.map((each) => [each.household, each.visit?.on ?? null, each.visit?.changes ?? null])).toEqual([
      ['Quill, Ama', '2026-12-09', true],
      ['Vane, Tor', null, null],
      ['Ashgrove, Ida', '2026-12-07', true],
      ['Holt, Per', '2026-12-07', true],
    ])
    expect(await bookAll(office, lotId)).toMatchObject({ booked: 0, added: 0, left: [{ household: 'Vane, Tor' }] })
    expect(await tx.selectFrom('visits').select('id').execute()).toHaveLength(3)

    // Moved to another day, the change is still free, and the price on the phone has nothing of it.
    const own = await tx
      .selectFrom('visits')
      .select(['id', 'version'])
      .where('site_id', '=', first.siteId)
      .executeTakeFirstOrThrow()
    const wanted = {
      ...{ visitId: own.id, siteId: first.siteId, technicianId: van.technicianId, on: '2026-12-08' },
      ...{ windowFrom: 480, windowUntil: 600, ownMinutes: null, note: '', promised: true },
      tasks: [{ kind: 'change', stageId: first.stageIds[0], description: '', minutes: 0 }],
    }
    expect((await office.ask('visits/check', wanted)).json).toMatchObject({ price: { grossCents: 0 } })
    const moved = { ...wanted, version: own.version, why: '', setAside: [], daySeen: null }
    expect((await office.ask('visits/move', moved)).status).toBe(200)
    expect(
      await tx.selectFrom('visit_tasks').select('free_of_charge').where('visit_id', '=', own.id).execute(),
    ).toEqual([{ free_of_charge: 1 }])
    expect(visitId).toBeGreaterThan(0)
    expect(good).toBeGreaterThan(0)
  })

  test('STK-77 stopped half way, what is booked stays, and the next press books the rest', async () => {
    const office = await anOffice(await open())
    const { tx, lotId, home } = await aLotToRecall(office)
    for (let n = 1; n <= 10; n += 1) await home({ name: `Home ${n}`, town: 'Saltgrass' })
    await office.ask('recall/recallLot', { lotId, ...RECALL })
    let asked = 0
    const desk = { ...office.desk(), progress: async () => ++asked < 2 }
    expect(await recallVisitsWork.run(desk, { lotId, from: null })).toMatchObject({
      ok: true,
      value: { booked: 8, added: 0, left: [], notComeTo: 2 },
    })
    expect(await bookAll(office, lotId)).toMatchObject({ booked: 2, added: 0, left: [], notComeTo: 0 })
    const sites = await tx.selectFrom('visits').select('site_id').where('state', '=', 'booked').execute()
    expect(new Set(sites.map((visit) => visit.site_id)).size).toBe(10)
    expect(sites).toHaveLength(10)
  })

  test('STK-77 a home that cannot be booked is named with the reason, and the others are booked', async () => {
    const office = await anOffice(await open())
    const { tx, van, lotId, home } = await aLotToRecall(office)
    const booked = await home({ name: 'Quill, Ama', town: 'Orrin Falls' })
    await home({ name: 'Ashgrove, Ida', town: 'Saltgrass' })
    await aBookedVisit(tx, { siteId: booked.siteId, technicianId: van.technicianId, on: '2026-12-09', needs: [] })
    await tx
      .insertInto('days_off')
      .values({
        ...{ office_id: 1 as never, technician_id: van.technicianId, reason: 'at a course' },
        ...{ from_on: calendarDate('2026-12-09'), until_on: calendarDate('2026-12-09') },
      })
      .execute()
    await office.ask('recall/recallLot', { lotId, ...RECALL })
    const came = await bookAll(office, lotId)
    expect(came).toMatchObject({ booked: 1, added: 0, notComeTo: 0 })
    expect(came.left).toHaveLength(1)
    expect(came.left[0]).toMatchObject({ household: 'Quill, Ama', phone: '555-0142' })
    expect(came.left[0]?.why).toContain('at a course')
  })
})
