import fc from 'fast-check'
import { expect, test } from 'vitest'
import { calendarDate } from '../../core/units/calendar-date.ts'
import {
  lotIdSchema,
  partIdSchema,
  placeIdSchema,
  stageIdSchema,
  visitIdSchema,
  visitTaskIdSchema,
} from '../../core/units/ids.ts'
import { checkRecordedVisit } from '../../core/visits/check-recorded-visit.ts'
import { type ReportedTask, recordVisit, type StageBooks, type VisitReport } from '../../core/visits/record-visit.ts'

const visit = (id: number) => visitIdSchema.parse(id)
const lot = (id: number) => lotIdSchema.parse(id)
const van = placeIdSchema.parse(3)

const byHand = { fittedOn: calendarDate('2026-05-08'), partId: partIdSchema.parse(5), lotId: null, visitId: null }
const nothing = { fittedOn: null, partId: null, lotId: null, visitId: null }

const stage = (id: number, own: Partial<StageBooks> = {}): StageBooks => ({
  stageId: stageIdSchema.parse(id),
  kind: 'carbon',
  now: byHand,
  earlier: nothing,
  fittings: [],
  ...own,
})

const change = (id: number, own: Partial<ReportedTask> = {}): ReportedTask => ({
  taskId: visitTaskIdSchema.parse(id),
  kind: 'change',
  done: true,
  stageId: stageIdSchema.parse(id),
  partId: partIdSchema.parse(5),
  lotId: lot(9),
  fromPlaceId: van,
  quantity: 1,
  freeOfCharge: false,
  ...own,
})

const report = (tasks: readonly ReportedTask[], own: Partial<VisitReport> = {}): VisitReport => ({
  visitId: visit(40),
  outcome: 'done',
  doneOn: calendarDate('2026-12-02'),
  callFree: false,
  tasks,
  ...own,
})

test('VIS-14 the clock of a changed stage restarts on the day of the work; what was left alone runs on', () => {
  const effects = recordVisit(report([change(1), change(2, { done: false })]), [stage(1), stage(2)])
  expect(effects.clocks).toEqual([
    { stageId: 1, clock: { fittedOn: '2026-12-02', partId: 5, lotId: 9, visitId: 40 }, earlier: byHand },
  ])
  expect(effects.used).toEqual([{ taskId: 1, partId: 5, lotId: 9, fromPlaceId: 3, quantity: 1 }])
  expect(effects.billableParts).toEqual([{ taskId: 1, partId: 5, quantity: 1 }])
  expect(effects.chargesCall).toBe(true)
})

test('VIS-14 sanitising restarts the clock of the tank and keeps the tank that stands there', () => {
  const tank = stage(3, { kind: 'tank', now: { ...byHand, lotId: lot(2) } })
  const effects = recordVisit(report([change(3, { kind: 'sanitise', partId: null, lotId: null, fromPlaceId: null })]), [
    tank,
  ])
  expect(effects.clocks[0]?.clock).toEqual({ fittedOn: '2026-12-02', partId: 5, lotId: 2, visitId: 40 })
  expect(effects.used).toEqual([])
})

test('VIS-14 a visit recorded late does not turn back a clock that a later visit has set', () => {
  const later = {
    visitId: visit(41),
    stageId: stageIdSchema.parse(1),
    on: calendarDate('2026-12-20'),
    partId: partIdSchema.parse(5),
    lotId: lot(10),
  }
  const now = { fittedOn: later.on, partId: later.partId, lotId: later.lotId, visitId: later.visitId }
  expect(recordVisit(report([change(1)]), [stage(1, { now, earlier: byHand, fittings: [later] })]).clocks).toEqual([])
})

test('VIS-16 a visit that could not be done changes no clock, uses no piece and charges nothing', () => {
  const effects = recordVisit(report([change(1)], { outcome: 'could-not' }), [stage(1)])
  expect(effects).toEqual({ fittings: [], clocks: [], used: [], billableParts: [], chargesCall: false })
})

test('VIS-14 a part given free of charge is used and not charged, and so is a free call', () => {
  const effects = recordVisit(report([change(1, { freeOfCharge: true })], { callFree: true }), [stage(1)])
  expect(effects.used).toHaveLength(1)
  expect(effects.billableParts).toEqual([])
  expect(effects.chargesCall).toBe(false)
})

const someTask = fc.record({
  stage: fc.integer({ min: 1, max: 3 }),
  done: fc.boolean(),
  lot: fc.integer({ min: 1, max: 3 }),
  sanitise: fc.boolean(),
  free: fc.boolean(),
})
const someReport = (id: number) =>
  fc
    .record({ tasks: fc.array(someTask, { maxLength: 4 }), day: fc.integer({ min: 1, max: 28 }), could: fc.boolean() })
    .map(({ tasks, day, could }) =>
      report(
        tasks.map((task, index) =>
          change(task.stage, {
            taskId: visitTaskIdSchema.parse(id * 10 + index),
            kind: task.sanitise ? 'sanitise' : 'change',
            done: task.done,
            lotId: task.sanitise ? null : lot(task.lot),
            partId: task.sanitise ? null : partIdSchema.parse(5),
            freeOfCharge: task.free,
          }),
        ),
        {
          visitId: visit(id),
          doneOn: calendarDate(`2026-12-${String(day).padStart(2, '0')}`),
          outcome: could ? 'done' : 'could-not',
        },
      ),
    )

/** Keeps books as the database does: clocks, what stood there before, and the fittings of every recorded visit. */
function booksAfter(books: readonly StageBooks[], told: VisitReport): StageBooks[] {
  const effects = recordVisit(told, books)
  expect(checkRecordedVisit(told, books, effects)).toEqual([])
  return books.map((one) => {
    const changed = effects.clocks.find((clock) => clock.stageId === one.stageId)
    return {
      ...one,
      now: changed?.clock ?? one.now,
      earlier: changed?.earlier ?? one.earlier,
      fittings: [
        ...one.fittings.filter((fitting) => fitting.visitId !== told.visitId),
        ...effects.fittings.filter((fitting) => fitting.stageId === one.stageId),
      ],
    }
  })
}

const clocksOf = (books: readonly StageBooks[]) => books.map((one) => one.now)

test('VIS-15 a corrected visit leaves the books as though the first report had never been', () => {
  fc.assert(
    fc.property(someReport(40), someReport(40), someReport(41), (first, second, other) => {
      const start = [stage(1), stage(2, { now: nothing }), stage(3)]
      const corrected = booksAfter(booksAfter(booksAfter(start, first), other), second)
      const straight = booksAfter(booksAfter(start, other), second)
      expect(clocksOf(corrected)).toEqual(clocksOf(straight))
    }),
    { numRuns: 300 },
  )
})

test('VIS-15 taking a report back altogether restores exactly what stood there', () => {
  fc.assert(
    fc.property(someReport(40), (first) => {
      const start = [stage(1), stage(2, { now: nothing }), stage(3)]
      expect(clocksOf(booksAfter(booksAfter(start, first), report([])))).toEqual(clocksOf(start))
    }),
  )
})

test('the judge is no rubber stamp: it sees a stopped clock, a lost piece and a charge that should not be', () => {
  const told = report([change(1)])
  const books = [stage(1)]
  const good = recordVisit(told, books)
  expect(checkRecordedVisit(told, books, good)).toEqual([])
  expect(checkRecordedVisit(told, books, { ...good, clocks: [] })).not.toEqual([])
  expect(checkRecordedVisit(told, books, { ...good, used: [] })).not.toEqual([])
  expect(checkRecordedVisit(report([change(1, { freeOfCharge: true })]), books, good)).not.toEqual([])
  expect(checkRecordedVisit({ ...told, callFree: true }, books, good)).not.toEqual([])
  const strange = good.clocks.map((one) => ({ ...one, clock: { ...one.clock, lotId: lot(77) } }))
  expect(checkRecordedVisit(told, books, { ...good, clocks: strange })).not.toEqual([])
  expect(
    checkRecordedVisit(told, books, {
      ...good,
      clocks: good.clocks.map((one) => ({ ...one, stageId: stageIdSchema.parse(99) })),
    }),
  ).not.toEqual([])
})
