import fc from 'fast-check'
import { expect, test } from 'vitest'
import { draftLines, labourFor, workDone } from '../../core/invoices/draft-invoice.ts'
import { lineNet } from '../../core/invoices/invoice-lines.ts'
import { invoiceTotals } from '../../core/invoices/invoice-totals.ts'
import { asksForTheSame, comesFromVisit, redraft } from '../../core/invoices/redraft.ts'
import { partIdSchema, visitTaskIdSchema } from '../../core/units/ids.ts'
import { cents, taxRate } from '../../core/units/money.ts'
import { minutes } from '../../core/units/time-of-day.ts'
import { aLine, aTask, aVisitToBill, charges } from '../builders/a-draft.ts'

const membrane = aTask({
  taskId: visitTaskIdSchema.parse(2),
  description: 'Membrane changed',
  part: {
    partId: partIdSchema.parse(12),
    number: 'P-2075',
    name: 'Membrane, 75 gal/day',
    price: cents(8640),
    taxFree: false,
  },
})
const sanitised = aTask({
  taskId: visitTaskIdSchema.parse(3),
  kind: 'sanitise',
  description: 'Tank sanitised',
  part: null,
  minutes: minutes(25),
})
const shown = (lines: ReturnType<typeof draftLines>) =>
  lines.map((line) => [line.description, lineNet(line, 2), line.category, line.rate])

test('INV-5 a recorded visit is billed as its call and every part that was fitted, in the order of the work', () => {
  expect(shown(draftLines(aVisitToBill([aTask(), membrane, sanitised]), charges()))).toEqual([
    ['Call at Tollard Mill, November 24, 2026', 6400, 'standard', 5600],
    ['Sediment filter, 10 in, 5 µm, P-1005', 1800, 'standard', 5600],
    ['Membrane, 75 gal/day, P-2075', 8640, 'standard', 5600],
  ])
})

test('INV-5 labour is one line: the minutes of all the work at the charge of an hour, rounded once', () => {
  const lines = draftLines(aVisitToBill([aTask(), membrane, sanitised]), charges({ labourPerHour: cents(6500) }))
  expect(shown(lines).at(-1)).toEqual(['Labour, 41 minutes at $65.00 an hour', 4442, 'standard', 5600]) // 41/60 x 65 = 44.4167
  expect(labourFor(30, cents(6501))).toBe(3251) // 32.505
})

test('INV-5 an office that charges no call has no line for one', () => {
  expect(draftLines(aVisitToBill([]), charges({ callOut: cents(0) }))).toEqual([])
})

test('INV-6 what is given under warranty stands on the bill with its price taken off, and its minutes are not charged', () => {
  const free = { ...membrane, free: true, pieces: 2 }
  const lines = draftLines(aVisitToBill([aTask(), free]), charges({ labourPerHour: cents(6000) }))
  expect(shown(lines)[2]).toEqual(['Membrane, 75 gal/day, P-2075, free of charge', 0, 'standard', 5600])
  expect(lines[2]?.allowance).toBe(17280)
  expect(shown(lines).at(-1)?.[0]).toBe('Labour, 8 minutes at $60.00 an hour')
  expect(workDone([aTask(), free, sanitised])).toEqual([
    'Sediment filter changed',
    'Membrane changed (free of charge)',
    'Tank sanitised',
  ])
})

test('INV-7 an exempt customer pays no tax on any line', () => {
  const lines = draftLines(aVisitToBill([aTask(), membrane]), charges({ taxExempt: true }))
  expect(new Set(lines.map((line) => `${line.category} ${line.rate}`))).toEqual(new Set(['exempt 0']))
  expect(invoiceTotals({ lines, documentAmounts: [], minorDigits: 2 })).toMatchObject({ tax: 0, due: 16840 })
})

test('INV-7 a part that is free of tax, and an office without tax, are zero-rated', () => {
  const untaxed = aTask({
    part: { partId: partIdSchema.parse(13), number: 'P-9', name: 'Test kit', price: cents(500), taxFree: true },
  })
  const lines = draftLines(aVisitToBill([aTask(), untaxed]), charges())
  expect(shown(lines).map(([, , category]) => category)).toEqual(['standard', 'standard', 'zero'])
  expect(draftLines(aVisitToBill(), charges({ taxRate: taxRate(0) })).every((line) => line.category === 'zero')).toBe(
    true,
  )
})

test('INV-5 whatever was fitted, the bill is the call, the parts and the labour to the cent', () => {
  const anyTask = fc
    .record({ price: fc.nat(1_000_000), count: fc.integer({ min: 1, max: 20 }), time: fc.nat(240), free: fc.boolean() })
    .map(({ price, count, time, free }) =>
      aTask({
        part: { partId: partIdSchema.parse(1), number: 'P', name: 'Part', price: cents(price), taxFree: false },
        pieces: count,
        minutes: minutes(time),
        free,
      }),
    )
  fc.assert(
    fc.property(fc.array(anyTask, { maxLength: 12 }), fc.nat(20_000), fc.nat(50_000), (tasks, perHour, callOut) => {
      const lines = draftLines(aVisitToBill(tasks), charges({ labourPerHour: cents(perHour), callOut: cents(callOut) }))
      const paid = tasks.filter((task) => !task.free)
      const parts = paid.reduce((sum, task) => sum + (task.part?.price ?? 0) * task.pieces, 0)
      const labour = labourFor(
        paid.reduce((sum, task) => sum + task.minutes, 0),
        cents(perHour),
      )
      expect(lines.reduce((sum, line) => sum + lineNet(line, 2), 0)).toBe(parts + labour + callOut)
    }),
  )
})

test('INV-8 a corrected visit renews its own lines of the draft and leaves those written by hand', () => {
  const before = [
    ...draftLines(aVisitToBill([aTask()]), charges({ labourPerHour: cents(6000) })),
    aLine({ description: 'Extra key' }),
  ]
  const after = redraft(before, draftLines(aVisitToBill([membrane]), charges()))
  expect(after.map((line) => line.description)).toEqual([
    'Call at Tollard Mill, November 24, 2026',
    'Membrane, 75 gal/day, P-2075',
    'Extra key',
  ])
  expect(after.map(comesFromVisit)).toEqual([true, true, false])
})

test('INV-8 two bills ask for the same when only the order or the origin of their lines differs', () => {
  const lines = draftLines(aVisitToBill([aTask(), membrane]), charges())
  const other = [...lines].reverse().map((line) => ({ ...line, visitTaskId: null }))
  expect(asksForTheSame(lines, other)).toBe(true)
  expect(asksForTheSame(lines, lines.slice(1))).toBe(false)
})
