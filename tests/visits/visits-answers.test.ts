import { describe, expect, test } from 'vitest'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { NOTHING_MEASURED } from '../../core/water/figures.ts'
import { aLot, aPartInStock, aServicedHousehold, aTechnicianWithVan } from '../builders/a-serviced-household.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { databases, type EachDatabase } from '../data/each-database.ts'

type Answer = Record<string, unknown>

async function anOfficeWithWork(open: EachDatabase['open']) {
  const office = await anOffice(await open())
  const db = office.database.write
  const { technicianId, vanPlaceId } = await aTechnicianWithVan(db)
  const sediment = await aPartInStock(db, 'P-1005', 'Sediment filter, 10 in', vanPlaceId)
  const membrane = await aPartInStock(db, 'P-2075', 'Membrane, 75 gal/day', vanPlaceId)
  const home = await aServicedHousehold(db, {
    parts: [
      { kind: 'sediment', partId: sediment.partId },
      { kind: 'membrane', partId: membrane.partId },
      { kind: 'tank', partId: null },
    ],
  })
  return { office, db, technicianId, vanPlaceId, sediment, membrane, home }
}
type Setting = Awaited<ReturnType<typeof anOfficeWithWork>>

function booking({ home, technicianId }: Setting, own: Answer = {}): Answer {
  return {
    siteId: home.siteId,
    technicianId,
    on: '2026-12-01',
    windowFrom: 480,
    windowUntil: 600,
    tasks: [
      { kind: 'change', stageId: home.stageIds[0], description: '', minutes: 0 },
      { kind: 'sanitise', stageId: home.stageIds[2], description: '', minutes: 0 },
    ],
    ownMinutes: null,
    note: '',
    promised: true,
    setAside: [],
    daySeen: null,
    ...own,
  }
}

async function answered(office: AnOffice, path: string, input: unknown): Promise<Answer> {
  const { status, json } = await office.ask(path, input)
  expect(json, path).toBeTypeOf('object')
  return { ...(json as Answer), status }
}

const refusalOf = (answer: Answer) => (answer.data as { code: string; sentence: string } | undefined)?.code

async function booked(setting: Setting, own: Answer = {}): Promise<number> {
  const answer = await answered(setting.office, 'visits/book', booking(setting, own))
  expect(answer.status, JSON.stringify(answer)).toBe(200)
  return answer.visitId as number
}

async function report(setting: Setting, visitId: number, own: Answer = {}, task: Answer = {}): Promise<Answer> {
  const { visit } = (await answered(setting.office, 'visits/one', { visitId })) as {
    visit: { tasks: Answer[]; version: number }
  }
  const [first, second] = visit.tasks
  const plain = { description: '', done: true, quantity: 1, minutes: 8, freeOfCharge: false }
  const stage = { partId: null, lotId: null, fromPlaceId: null }
  return {
    visitId,
    version: visit.version,
    outcome: 'done',
    because: '',
    doneOn: '2026-12-01',
    callFree: false,
    tasks: [
      {
        ...plain,
        taskId: first?.taskId,
        kind: 'change',
        stageId: first?.stageId,
        partId: setting.sediment.partId,
        lotId: setting.sediment.lotId,
        fromPlaceId: setting.vanPlaceId,
        ...task,
      },
      { ...plain, ...stage, taskId: second?.taskId, kind: 'sanitise', stageId: second?.stageId },
    ],
    readings: [
      {
        installationId: setting.home.installationId,
        figures: {
          tdsIn: 412,
          tdsOut: 48,
          flow: null,
          feedPressure: 400,
          tankPressure: 48,
          temperature: 12,
          meter: 5_000_000,
        },
        note: '',
        confirmed: false,
      },
    ],
    leakChecked: true,
    leakCheckedFull: false,
    remarks: '',
    ...own,
  }
}

const clockOf = ({ db, home }: Setting, index: number) =>
  db
    .selectFrom('stages')
    .select(['fitted_on', 'part_id', 'fitted_lot_id', 'fitted_visit_id'])
    .where('id', '=', home.stageIds[index] as never)
    .executeTakeFirstOrThrow()

describe.each(databases)('visits on $name', ({ open }) => {
  test('INV-8 VIS-15 a visit corrected after its invoice went out lays a credit note and a new draft ready, and issues neither', async () => {
    const setting = await anOfficeWithWork(open)
    const visitId = await booked(setting)
    await answered(setting.office, 'visits/record', await report(setting, visitId))
    const billed = async () =>
      ((await setting.office.ask('invoices/ofVisit', { visitId })).json as Answer[]).map(({ kind, state, number }) =>
        `${kind} ${state} ${number}`.trim(),
      )
    expect(await billed()).toEqual(['invoice draft'])
    const { rows } = (await answered(setting.office, 'invoices/list', { pile: 'drafts' })) as { rows: Answer[] }
    await answered(setting.office, 'invoices/issue', { invoiceIds: [rows[0]?.invoiceId] })
    const corrected = await report(setting, visitId, { why: 'the filter was a present' }, { freeOfCharge: true })
    expect((await answered(setting.office, 'visits/correct', corrected)).status).toBe(200)
    expect(await billed()).toEqual(['invoice issued 2026-00001', 'credit-note draft', 'invoice draft'])
    const laid = (await answered(setting.office, 'invoices/list', { pile: 'drafts' })) as { rows: Answer[] }
    const [note, fresh] = laid.rows
    expect(note).toMatchObject({ kind: 'credit-note', corrects: '2026-00001', total: rows[0]?.total })
    expect(Number(fresh?.total)).toBeLessThan(Number(rows[0]?.total))
    // A second correction does not lay a second credit note.
    const again = await report(setting, visitId, { why: 'not a present after all' })
    expect((await answered(setting.office, 'visits/correct', again)).status).toBe(200)
    expect((await billed()).filter((each) => each === 'credit-note draft')).toHaveLength(1)
  })

  test('VIS-11 a booked visit has its tasks, minutes and trace', async () => {
    const setting = await anOfficeWithWork(open)
    const visitId = await booked(setting)
    const { visit, trace, lots } = (await answered(setting.office, 'visits/one', { visitId })) as {
      visit: Answer & { tasks: Answer[] }
      trace: Answer[]
      lots: Answer[]
    }
    expect(visit).toMatchObject({ state: 'booked', plannedMinutes: 53, version: 1 })
    expect(visit.tasks.map((task) => `${task.kind} ${task.label}`)).toEqual(['change Sediment', 'sanitise Tank'])
    expect(trace[0]).toMatchObject({
      sentence: 'Visit booked for Tuesday, Dec 1, 8:00–10:00 am, Ilse Rademaker: change sediment, sanitise tank',
    })
    expect(lots[0]).toMatchObject({ code: 'P-1005-a', onVan: true, quantity: 5 })
  })

  test('VIS-3 VIS-8 what speaks against a booking is said before it is saved, and can be set aside where that is allowed', async () => {
    const setting = await anOfficeWithWork(open)
    await booked(setting)
    const check = await answered(setting.office, 'visits/check', { ...booking(setting), visitId: null })
    expect((check.objections as Answer[]).map(({ code }) => code)).toEqual(['VISIT_HOUSEHOLD_BOOKED'])
    expect(refusalOf(await answered(setting.office, 'visits/book', booking(setting)))).toBe('VISIT_HOUSEHOLD_BOOKED')
    await booked(setting, { setAside: ['VISIT_HOUSEHOLD_BOOKED'] })
    const narrow = { windowUntil: 490, setAside: ['VISIT_HOUSEHOLD_BOOKED', 'VISIT_DOUBLE_BOOKED'] }
    expect(refusalOf(await answered(setting.office, 'visits/book', booking(setting, narrow)))).toBe(
      'VISIT_DOUBLE_BOOKED',
    )
  })

  test('VIS-4 a day off stands, whatever is set aside', async () => {
    const setting = await anOfficeWithWork(open)
    await setting.db
      .insertInto('days_off')
      .values({
        office_id: 1 as never,
        technician_id: setting.technicianId,
        from_on: '2026-12-01' as never,
        until_on: '2026-12-02' as never,
        reason: 'family',
      })
      .execute()
    expect(
      refusalOf(await answered(setting.office, 'visits/book', booking(setting, { setAside: ['VISIT_DAY_OFF'] }))),
    ).toBe('VISIT_DAY_OFF')
  })

  test('VIS-9 of two who book into the same day at once the second is told what changed', async () => {
    const setting = await anOfficeWithWork(open)
    const other = await aServicedHousehold(setting.db, {
      reference: 'BM-0417',
      name: 'Bexhill-Moreno, Idris',
      parts: [{ kind: 'carbon', partId: null }],
    })
    const { daySeen } = await answered(setting.office, 'visits/check', { ...booking(setting), visitId: null })
    const theirs = booking(setting, {
      siteId: other.siteId,
      tasks: [{ kind: 'change', stageId: other.stageIds[0], description: '', minutes: 0 }],
      daySeen,
    })
    const answers = await Promise.all([
      answered(setting.office, 'visits/book', theirs),
      answered(setting.office, 'visits/book', booking(setting, { daySeen })),
    ])
    expect(answers.map(({ status }) => status).toSorted()).toEqual([200, 422])
    const told = answers.find(({ status }) => status === 422)
    expect(refusalOf(told ?? {})).toBe('VISIT_DAY_CHANGED')
    expect((told?.data as Answer | undefined)?.sentence).toMatch(
      /someone else changed Ilse Rademaker, Tuesday, Dec 1: .+ was booked for 8:00–10:00 am/,
    )
  })

  test('VIS-21 VIS-22 a moved visit keeps its trace, a stale move is told what happened, a cancelled one says why', async () => {
    const setting = await anOfficeWithWork(open)
    const visitId = await booked(setting)
    const move = booking(setting, { visitId, version: 1, on: '2026-12-03', why: 'they are away' })
    expect((await answered(setting.office, 'visits/move', move)).version).toBe(2)
    const stale = await answered(setting.office, 'visits/move', move)
    expect(refusalOf(stale)).toBe('RECORD_CHANGED')
    expect((stale.data as Answer).sentence).toContain('Visit is now Thursday, Dec 3')
    expect(refusalOf(await answered(setting.office, 'visits/cancel', { visitId, version: 2, why: '' }))).toBe(
      'VISIT_NEEDS_REASON',
    )
    await answered(setting.office, 'visits/cancel', { visitId, version: 2, why: 'sold the house' })
    const { trace, visit } = (await answered(setting.office, 'visits/one', { visitId })) as {
      trace: Answer[]
      visit: Answer
    }
    expect(visit).toMatchObject({ state: 'cancelled', reason: 'sold the house' })
    expect(trace.map(({ sentence }) => sentence)[0]).toBe(
      'Visit of Thursday, Dec 3, 8:00–10:00 am cancelled: sold the house',
    )
    expect(trace[1]?.details).toBe('Before: Tuesday, Dec 1, 8:00–10:00 am, Ilse Rademaker. they are away')
  })

  test('VIS-14 recording restarts the clocks, keeps readings and lot, and is done once', async () => {
    const setting = await anOfficeWithWork(open)
    const visitId = await booked(setting)
    const told = await report(setting, visitId)
    expect((await answered(setting.office, 'visits/record', told)).version).toBe(2)
    expect(await clockOf(setting, 0)).toEqual({
      fitted_on: '2026-12-01',
      part_id: setting.sediment.partId,
      fitted_lot_id: setting.sediment.lotId,
      fitted_visit_id: visitId,
    })
    expect(await clockOf(setting, 1)).toMatchObject({ fitted_on: '2026-05-08' })
    expect(await clockOf(setting, 2)).toMatchObject({ fitted_on: '2026-12-01' })
    const reading = await setting.db
      .selectFrom('readings')
      .select(['tds_in_mg_l', 'tds_out_mg_l', 'feed_kpa', 'meter_ml', 'unlikely', 'taken_on'])
      .execute()
    expect(reading).toEqual([
      { tds_in_mg_l: 412, tds_out_mg_l: 48, feed_kpa: 400, meter_ml: 5_000_000, unlikely: 0, taken_on: '2026-12-01' },
    ])
    expect(refusalOf(await answered(setting.office, 'visits/record', { ...told, version: 2 }))).toBe('VISIT_NOT_BOOKED')
  })

  test('VIS-15 a correction changes what the first report did and nothing else, and says so in the log', async () => {
    const setting = await anOfficeWithWork(open)
    const other = await aLot(setting.db, setting.sediment.partId, 'P-1005-b', setting.vanPlaceId)
    const before = await clockOf(setting, 0)
    const visitId = await booked(setting)
    await answered(setting.office, 'visits/record', await report(setting, visitId))
    const second = await report(setting, visitId, { why: 'wrong lot noted' }, { lotId: other.lotId })
    expect((await answered(setting.office, 'visits/correct', second)).version).toBe(3)
    expect(await clockOf(setting, 0)).toMatchObject({ fitted_lot_id: other.lotId })
    const undone = await report(setting, visitId, {
      why: 'not done after all',
      outcome: 'could-not',
      because: 'nobody at home',
      readings: [],
    })
    expect((await answered(setting.office, 'visits/correct', undone)).version).toBe(4)
    expect(await clockOf(setting, 0)).toEqual(before)
    expect(await setting.db.selectFrom('readings').select('id').execute()).toEqual([])
    const { trace } = (await answered(setting.office, 'visits/one', { visitId })) as { trace: Answer[] }
    expect(trace[1]).toMatchObject({
      sentence: 'Report of the visit corrected: wrong lot noted',
      details: 'Sediment: lot P-1005-b instead of P-1005-a.',
    })
    expect(trace[0]?.details).toContain('not done after all: nobody at home')
    expect(refusalOf(await answered(setting.office, 'visits/correct', { ...undone, version: 4, why: '' }))).toBe(
      'VISIT_NEEDS_REASON',
    )
  })

  test('VIS-14 VIS-15 what was fitted leaves the van and a draft invoice stands ready; a correction takes both back', async () => {
    const setting = await anOfficeWithWork(open)
    const onVan = async () =>
      (
        await setting.db
          .selectFrom('balances')
          .select('quantity')
          .where('lot_id', '=', setting.sediment.lotId)
          .where('place_id', '=', setting.vanPlaceId)
          .executeTakeFirstOrThrow()
      ).quantity
    const drafts = () => setting.db.selectFrom('invoices').select(['state', 'line_net_cents']).execute()
    const visitId = await booked(setting)
    await answered(setting.office, 'visits/record', await report(setting, visitId))
    expect(await onVan()).toBe(4)
    // Our own worked example: one part of 25.00 and the call of 64.00.
    expect(await drafts()).toEqual([{ state: 'draft', line_net_cents: 8900 }])
    const undone = { why: 'wrong house', outcome: 'could-not', because: 'nobody at home', readings: [] }
    await answered(setting.office, 'visits/correct', await report(setting, visitId, undone))
    expect(await onVan()).toBe(5)
    expect((await drafts()).reduce((sum, draft) => sum + draft.line_net_cents, 0)).toBe(0)
  })

  test('VIS-16 a visit that could not be done needs a reason and leaves the clocks alone', async () => {
    const setting = await anOfficeWithWork(open)
    const visitId = await booked(setting)
    const told = await report(setting, visitId, { outcome: 'could-not' })
    expect(refusalOf(await answered(setting.office, 'visits/record', told))).toBe('VISIT_NEEDS_REASON')
    await answered(setting.office, 'visits/record', { ...told, because: 'valve seized' })
    expect(await clockOf(setting, 0)).toMatchObject({ fitted_on: '2026-05-08' })
    const { visit } = (await answered(setting.office, 'visits/one', { visitId })) as { visit: Answer }
    expect(visit).toMatchObject({ state: 'could-not', reason: 'valve seized' })
  })

  test('VIS-17 VIS-18 impossible readings are refused; unlikely ones are asked about and kept with a mark', async () => {
    const setting = await anOfficeWithWork(open)
    const visitId = await booked(setting)
    const told = await report(setting, visitId)
    const reading = (figures: Answer, confirmed = false) => ({
      ...told,
      readings: [
        {
          installationId: setting.home.installationId,
          figures: {
            tdsIn: null,
            tdsOut: null,
            flow: null,
            feedPressure: null,
            tankPressure: null,
            temperature: null,
            meter: null,
            ...figures,
          },
          note: '',
          confirmed,
        },
      ],
    })
    const odd = { tdsIn: 400, tdsOut: 250 }
    expect(refusalOf(await answered(setting.office, 'visits/record', reading({ tdsIn: 40, tdsOut: 250 })))).toBe(
      'READING_PRODUCT_ABOVE_FEED',
    )
    expect(refusalOf(await answered(setting.office, 'visits/record', reading(odd)))).toBe('READING_UNLIKELY')
    expect((await answered(setting.office, 'visits/record', reading(odd, true))).version).toBe(2)
    expect(await setting.db.selectFrom('readings').select('unlikely').execute()).toEqual([{ unlikely: 1 }])
  })

  test('WAT-20 a meter that would run backwards is refused against what the unit showed before, a new one is not', async () => {
    const setting = await anOfficeWithWork(open)
    await answered(setting.office, 'visits/record', await report(setting, await booked(setting)))
    const again = await report(setting, await booked(setting))
    const reading = (meter: number) => ({
      ...again,
      readings: [
        {
          installationId: setting.home.installationId,
          figures: { ...NOTHING_MEASURED, meter },
          note: '',
          confirmed: false,
        },
      ],
    })
    expect(refusalOf(await answered(setting.office, 'visits/record', reading(4_000_000)))).toBe('READING_METER_BELOW')
    expect((await answered(setting.office, 'visits/record', reading(0))).version).toBe(2)
  })

  test('VIS-14 nothing is recorded for a day that has not come, a strange stage, or a lot of another part', async () => {
    const setting = await anOfficeWithWork(open)
    const visitId = await booked(setting)
    expect(
      refusalOf(
        await answered(setting.office, 'visits/record', await report(setting, visitId, { doneOn: '2026-12-02' })),
      ),
    ).toBe('VISIT_IN_FUTURE')
    expect(
      refusalOf(await answered(setting.office, 'visits/record', await report(setting, visitId, {}, { stageId: 999 }))),
    ).toBe('VISIT_STAGE_ELSEWHERE')
    expect(
      refusalOf(
        await answered(
          setting.office,
          'visits/record',
          await report(setting, visitId, {}, { lotId: setting.membrane.lotId }),
        ),
      ),
    ).toBe('VISIT_LOT_NOT_OF_PART')
  })

  test('VIS-23 who waits: due, no visit booked; with a letter when asked so', async () => {
    const setting = await anOfficeWithWork(open)
    const all = await answered(setting.office, 'visits/waiting', { who: 'all-due' })
    expect(all).toMatchObject({
      count: 1,
      rows: [{ household: 'Abernathy-Vance, Corinne', reason: expect.stringContaining('family of six'), letter: null }],
    })
    expect(await answered(setting.office, 'visits/waiting', { who: 'with-letter' })).toMatchObject({
      count: 0,
      rows: [],
    })
    await booked(setting)
    expect(await answered(setting.office, 'visits/waiting', { who: 'all-due' })).toMatchObject({ count: 0 })
  })

  test('VIS-23 however many wait, they come page by page, each once and none left out', async () => {
    const setting = await anOfficeWithWork(open)
    const { write } = setting.office.database
    const { customer_id } = await write.selectFrom('sites').select('customer_id').executeTakeFirstOrThrow()
    const site = await write
      .selectFrom('sites')
      .selectAll()
      .where('customer_id', '=', customer_id)
      .executeTakeFirstOrThrow()
    const { id: _, ...plain } = site
    // Three days only, so that pages end in the middle of one.
    const rows = Array.from({ length: 450 }, (_each, index) => ({
      ...plain,
      due_on: calendarDate(`2026-11-${String(10 + (index % 3)).padStart(2, '0')}`),
    }))
    for (let from = 0; from < rows.length; from += 50)
      await write
        .insertInto('sites')
        .values(rows.slice(from, from + 50))
        .execute()
    const seen: number[] = []
    const dues: string[] = []
    let after: unknown = null
    do {
      const page = (await answered(setting.office, 'visits/waiting', { who: 'all-due', after })) as {
        count: number
        late: number
        rows: { siteId: number; dueOn: string }[]
        next: unknown
      }
      expect([page.count, page.late]).toEqual([451, 451])
      seen.push(...page.rows.map((row) => row.siteId))
      dues.push(...page.rows.map((row) => row.dueOn))
      after = page.next
    } while (after !== null)
    expect(new Set(seen).size).toBe(451)
    expect(seen).toHaveLength(451)
    expect(dues).toEqual(dues.toSorted())
  })

  test('VIS-5 the week shows who is where, and how much is booked of how much', async () => {
    const setting = await anOfficeWithWork(open)
    await booked(setting)
    const { rows, monday } = (await answered(setting.office, 'visits/week', { on: '2026-12-03' })) as {
      rows: { days: Answer[] }[]
      monday: string
    }
    expect(monday).toBe('2026-11-30')
    expect(rows[0]?.days[1]).toMatchObject({
      minutesTaken: 73,
      minutesThere: 480,
      visits: [{ household: 'Abernathy-Vance, Corinne', what: 'change sediment, sanitise tank' }],
    })
    expect(rows[0]?.days[5]).toMatchObject({ away: 'not a workday', minutesThere: 0 })
  })

  test('VIS-13 free days come through the door', async () => {
    const setting = await anOfficeWithWork(open)
    const { json } = await setting.office.ask('visits/freeDays', { siteId: setting.home.siteId, minutes: 44 })
    expect((json as Answer[])[0]).toMatchObject({ on: '2026-12-02', windowFrom: 480, windowUntil: 600 })
  })

  test('VIS-2 VIS-20 the route of the day and its job cards', async () => {
    const setting = await anOfficeWithWork(open)
    await booked(setting)
    const { json } = await setting.office.ask('routes/day', { on: '2026-12-01', technicianId: null })
    expect(json).toMatchObject([{ notOnMap: 1, leavesAt: 460, stops: [{ stop: 1, arrivesAt: 480, lateMinutes: 0 }] }])
    for (const address of [
      '/papers/visits/2026-12-01.pdf',
      '/papers/job-cards/1.pdf',
      '/papers/routes/2026-12-01.pdf',
    ]) {
      const response = await setting.office.handle(new Request(`http://office${address}`))
      expect(response.status).toBe(200)
      expect(new TextDecoder().decode((await response.arrayBuffer()).slice(0, 5))).toBe('%PDF-')
    }
    expect((await setting.office.handle(new Request('http://office/papers/visits/someday.pdf'))).status).toBe(404)
  })
})
