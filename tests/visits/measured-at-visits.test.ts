import { describe, expect, test } from 'vitest'
import type { VisitReportInput } from '../../core/visits/report-shapes.ts'
import { aPartInStock, aServicedHousehold, aTechnicianWithVan } from '../builders/a-serviced-household.ts'
import { anOffice } from '../builders/an-office.ts'
import { databases, type EachDatabase } from '../data/each-database.ts'

const NOTHING_MEASURED: VisitReportInput['readings'][number]['figures'] = {
  tdsIn: null,
  tdsOut: null,
  flow: null,
  feedPressure: null,
  tankPressure: null,
  temperature: null,
  meter: null,
}

/** A household with a visit today that only measures, and ways to report it, to correct it and to look at the membrane. */
async function aVisitThatMeasures(open: EachDatabase['open']) {
  const office = await anOffice(await open())
  const db = office.database.write
  const { technicianId, vanPlaceId } = await aTechnicianWithVan(db)
  const { partId } = await aPartInStock(db, 'P-2075', 'Membrane, 75 gal/day', vanPlaceId)
  const home = await aServicedHousehold(db, { parts: [{ kind: 'membrane', partId }] })
  const tasks = [{ kind: 'measure', stageId: null, description: 'measure TDS in and out', minutes: 10 }]
  const booked = await office.ask('visits/book', {
    ...{ siteId: home.siteId, technicianId, on: '2026-12-01', windowFrom: 480, windowUntil: 600, tasks },
    ...{ ownMinutes: null, note: '', promised: false, setAside: [], daySeen: null },
  })
  const { visitId } = booked.json as { visitId: number }
  const seen = async () => {
    const { json } = await office.ask('visits/one', { visitId })
    return (json as { visit: { version: number; tasks: { taskId: number }[]; readings: object[] } }).visit
  }
  const report = async (tdsOut: number | null, why?: string) => {
    const { version, tasks: planned } = await seen()
    const figures = tdsOut === null ? NOTHING_MEASURED : { ...NOTHING_MEASURED, tdsIn: 400, tdsOut }
    const done = { done: true, quantity: 1, minutes: 10, freeOfCharge: false, partId: null, lotId: null }
    const input = {
      ...{ visitId, version, outcome: 'done', because: '', doneOn: '2026-12-01', callFree: false, remarks: '' },
      tasks: planned.map(({ taskId }) => ({
        ...done,
        ...{ taskId, kind: 'measure', stageId: null, description: 'measure TDS in and out', fromPlaceId: null },
      })),
      readings: [{ installationId: home.installationId, figures, note: '', confirmed: false }],
      ...{ leakChecked: true, leakCheckedFull: true },
    }
    return why === undefined ? office.ask('visits/record', input) : office.ask('visits/correct', { ...input, why })
  }
  const readings = () => db.selectFrom('readings').select(['id', 'tds_out_mg_l', 'struck_on']).orderBy('id').execute()
  const membraneDue = async () => {
    const row = await db.selectFrom('stages').select(['due_on', 'due_rule']).executeTakeFirstOrThrow()
    return `${row.due_on} ${row.due_rule}`
  }
  return { office, report, readings, membraneDue, seen }
}

describe.each(databases)('readings of visits on $name', ({ open }) => {
  test('DUE-24 what a recorded visit measures sets the date in the same breath, and a correction sets it again', async () => {
    const { report, membraneDue } = await aVisitThatMeasures(open)
    expect((await report(110)).status).toBe(200)
    expect(await membraneDue()).toBe('2026-12-01 measurement')
    expect((await report(40, 'read in the wrong line')).status).toBe(200)
    expect(await membraneDue()).toMatch(/feed-water$/)
  })

  test('DUE-31 a reading of a visit that was struck out stays struck when the report is corrected', async () => {
    const { office, report, readings, membraneDue, seen } = await aVisitThatMeasures(open)
    await report(110)
    const [reading] = await readings()
    await office.ask('due/strikeReading', { readingId: reading?.id, reason: 'the meter was not rinsed' })
    expect(await membraneDue()).toMatch(/feed-water$/)
    expect((await seen()).readings).toEqual([])
    expect((await report(null, 'remarks were missing')).status).toBe(200)
    expect(await readings()).toEqual([{ id: reading?.id, tds_out_mg_l: 110, struck_on: '2026-12-01' }])
    expect(await membraneDue()).toMatch(/feed-water$/)
  })
})
