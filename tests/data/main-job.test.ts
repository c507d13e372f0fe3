import { setTimeout as pause } from 'node:timers/promises'
import { describe, expect, test } from 'vitest'
import type { OpenDatabase } from '../../core/database/handles.ts'
import { openOffice } from '../../core/office.ts'
import { addDays, type CalendarDate, calendarDate } from '../../core/units/calendar-date.ts'
import { minutes, timeOfDay } from '../../core/units/time-of-day.ts'
import type { VisitReportInput } from '../../core/visits/report-shapes.ts'
import { clientOf } from '../../electron/day/day-summary.ts'
import { databases } from './each-database.ts'

const monday = calendarDate('2026-11-30')

/** An office whose days go by, asked only through its door. */
async function anOfficeOfDays(database: OpenDatabase) {
  let today: CalendarDate = monday
  const broke: string[] = []
  const opened = await openOffice({
    database,
    clock: { today: () => today, now: () => `${today}T12:00:00.000Z` },
    log: (line) => broke.push(line),
    threads: 'same',
    checkAnswers: true,
  })
  if (!opened.ok) throw new Error(opened.problem.sentence)
  const ask = clientOf(opened.value)
  const work = async (name: string, input: unknown) => {
    const { workId } = await ask.work.start({ name, input })
    for (;;) {
      const state = await ask.work.progress({ workId })
      if (state.state !== 'running') return state
      await pause(5)
    }
  }
  return { ask, work, office: opened.value, broke, dayGoesBy: (to: CalendarDate) => (today = to) }
}

describe.each(databases)('the whole job on $name', ({ open }) => {
  test('DAY-1 from a due stage to a letter, a visit, a pulled part and an invoice', async () => {
    const { ask, work, office, broke, dayGoesBy } = await anOfficeOfDays(await open())
    expect(await work('demo', { households: 150 })).toMatchObject({ state: 'done' })

    // The letters of the week.
    const { rows: owed } = await ask.letters.owed()
    expect(owed.length).toBeGreaterThan(0)
    const written = await work('write-letters', { kinds: ['first', 'second', 'final'], customerIds: null })
    expect(written).toMatchObject({ state: 'done', outcome: { letters: owed.length } })
    expect((await ask.letters.owed()).rows).toEqual([])

    // One of those households calls: a visit on Wednesday.
    const household = owed[0]
    if (!household) throw new Error('nobody is owed a letter')
    const form = await ask.visits.bookingForm({ siteId: household.siteId })
    const stage = form.units[0]?.stages.find((one) => one.part !== null)
    const wednesday = addDays(monday, 2)
    const technician = form.technicians[0]
    if (!stage?.part || !technician) throw new Error('no stage with a part, or nobody to send')
    const wanted = {
      siteId: household.siteId,
      technicianId: technician.technicianId,
      on: wednesday,
      windowFrom: timeOfDay(15 * 60),
      windowUntil: timeOfDay(17 * 60),
      tasks: [{ kind: 'change' as const, stageId: stage.stageId, description: '', minutes: minutes(0) }],
      ownMinutes: null,
      note: '',
      promised: true,
    }
    const { objections, daySeen } = await ask.visits.check({ ...wanted, visitId: null })
    expect(objections.filter((one) => one.weight === 'refusal')).toEqual([])
    const setAside = objections.map((one) => one.code)
    const { visitId } = await ask.visits.book({ ...wanted, setAside, daySeen })

    // The afternoon before: the warehouse pulls and puts aboard.
    dayGoesBy(addDays(monday, 1))
    const plan = await ask.pull.day({ on: wednesday })
    const van = plan.vans.find((one) =>
      [...one.lines, ...one.aboard].some((line) => line.totes.some((tote) => tote.visitId === visitId)),
    )
    if (!van) throw new Error('no van carries the part')
    if (van.lines.length > 0) {
      const [pull] = await ask.pull.begin({ on: wednesday, vanIds: [van.vanId] })
      if (!pull) throw new Error('no pull was begun')
      for (const line of (await ask.pull.day({ on: wednesday })).vans.find((one) => one.vanId === van.vanId)?.lines ??
        [])
        if (line.lineId !== null)
          await ask.pull.tick({ pullId: pull.pullId, lineId: line.lineId, pulled: line.quantity })
      expect(await ask.pull.confirm({ pullId: pull.pullId })).toMatchObject({ released: 0 })
      await expect(ask.pull.confirm({ pullId: pull.pullId })).rejects.toMatchObject({ code: 'REFUSED' })
    }

    // Wednesday: changed, measured, checked for leaks.
    dayGoesBy(wednesday)
    const { visit, lots } = await ask.visits.one({ visitId })
    const lot = lots.find((one) => one.partId === stage.part?.partId && one.onVan)
    if (!lot) throw new Error('the part is not on the van')
    const report: VisitReportInput = {
      visitId,
      version: visit.version,
      outcome: 'done',
      because: '',
      doneOn: wednesday,
      callFree: false,
      tasks: visit.tasks.map((task) => ({
        taskId: task.taskId,
        kind: task.kind,
        stageId: task.stageId,
        description: task.description,
        done: true,
        partId: task.part?.partId ?? null,
        lotId: task.part ? lot.lotId : null,
        fromPlaceId: task.part ? lot.placeId : null,
        quantity: 1,
        minutes: task.minutes,
        freeOfCharge: false,
      })),
      readings: [],
      leakChecked: true,
      leakCheckedFull: true,
      remarks: '',
    }
    await ask.visits.record(report)

    // The clock of the stage starts again, the part has left the van, and a draft stands ready.
    const after = (await ask.visits.bookingForm({ siteId: household.siteId })).units.flatMap((unit) => unit.stages)
    const changed = after.find((one) => one.stageId === stage.stageId)
    expect(changed?.dueOn !== null && changed?.dueOn !== undefined && changed.dueOn > addDays(wednesday, 100)).toBe(
      true,
    )
    const stillThere = (await ask.visits.one({ visitId })).lots.find(
      (one) => one.lotId === lot.lotId && one.placeId === lot.placeId,
    )
    expect(stillThere?.quantity ?? 0).toBe(lot.quantity - 1)
    const draft = (await ask.invoices.list({ pile: 'drafts' })).rows.find((row) => row.suppliedOn === wednesday)
    if (!draft) throw new Error('no draft stands ready')
    const { issued } = await ask.invoices.issue({ invoiceIds: [draft.invoiceId] })
    const sheet = await ask.invoices.open({ invoiceId: draft.invoiceId })
    expect(sheet).toMatchObject({ state: 'issued', number: issued[0]?.number, issuedOn: wednesday })
    expect(sheet.lines.map((line) => line.partId)).toContain(stage.part.partId)
    await expect(ask.invoices.issue({ invoiceIds: [draft.invoiceId] })).rejects.toMatchObject({ code: 'REFUSED' })
    expect(broke).toEqual([])
    await office.close()
  }, 120_000)
})
