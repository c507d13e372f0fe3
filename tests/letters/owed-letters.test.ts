import fc from 'fast-check'
import { expect, test } from 'vitest'
import { checkOwedLetters } from '../../core/letters/check-owed-letters.ts'
import { type LetterPace, type MailedCustomer, owedLetters } from '../../core/letters/owed-letters.ts'
import { comparePostal } from '../../core/letters/postal-order.ts'
import { addDays, calendarDate } from '../../core/units/calendar-date.ts'
import { customerIdSchema, siteIdSchema } from '../../core/units/ids.ts'

const today = calendarDate('2026-11-25')
// common practice, no source: a month ahead, two weeks, six weeks
const pace: LetterPace = { firstLetterLeadDays: 30, secondLetterAfterDays: 14, finalLetterAfterDays: 42 }

function aCustomer(changes: Partial<MailedCustomer> = {}, dueOn: string | null = '2026-12-10'): MailedCustomer {
  return {
    customerId: customerIdSchema.parse(1),
    noMail: false,
    moved: false,
    closed: false,
    unaddressed: false,
    letters: [],
    sites: [
      {
        siteId: siteIdSchema.parse(1),
        closed: false,
        dueOn: dueOn === null ? null : calendarDate(dueOn),
        booked: false,
        visitedOn: null,
      },
    ],
    ...changes,
  }
}

const kindOf = (customer: MailedCustomer, on = today) => owedLetters([customer], pace, on).owed[0]?.kind ?? null
const written = (...letters: readonly (readonly ['first' | 'second' | 'final', string])[]) => ({
  letters: letters.map(([kind, on]) => ({ kind, writtenOn: calendarDate(on) })),
})

test('LET-1 a first letter is owed thirty days before the earliest due date, not thirty-one', () => {
  expect(kindOf(aCustomer({}, '2026-12-25'))).toBe('first')
  expect(kindOf(aCustomer({}, '2026-12-26'))).toBeNull()
  expect(kindOf(aCustomer({}, null))).toBeNull()
})

test('LET-2 a second letter follows after two weeks of silence, the final one after six', () => {
  expect(kindOf(aCustomer(written(['first', '2026-11-12'])))).toBeNull()
  expect(kindOf(aCustomer(written(['first', '2026-11-11'])))).toBe('second')
  expect(kindOf(aCustomer(written(['first', '2026-10-15'], ['second', '2026-10-29'])))).toBeNull()
  expect(kindOf(aCustomer(written(['first', '2026-10-14'], ['second', '2026-10-28'])))).toBe('final')
  // the second went out late: the final one keeps its four weeks after it
  expect(kindOf(aCustomer(written(['first', '2026-10-14'], ['second', '2026-11-10'])))).toBeNull()
  expect(
    kindOf(aCustomer(written(['first', '2026-10-01'], ['second', '2026-10-15'], ['final', '2026-11-12']))),
  ).toBeNull()
})

test('LET-3 nobody who has booked, moved, closed, or asked for no mail gets a letter', () => {
  const [site] = aCustomer().sites
  if (!site) throw new Error('a customer has a place')
  expect(kindOf(aCustomer({ noMail: true }))).toBeNull()
  expect(kindOf(aCustomer({ moved: true }))).toBeNull()
  expect(kindOf(aCustomer({ closed: true }))).toBeNull()
  expect(kindOf(aCustomer({ sites: [{ ...site, booked: true }] }))).toBeNull()
  expect(kindOf(aCustomer({ sites: [{ ...site, closed: true }] }))).toBeNull()
})

test('LET-4 several places make one letter, by the earliest of their dates', () => {
  const [site] = aCustomer().sites
  if (!site) throw new Error('a customer has a place')
  const later = { ...site, siteId: siteIdSchema.parse(2), dueOn: calendarDate('2026-12-01') }
  const { owed } = owedLetters([aCustomer({ sites: [site, later] })], pace, today)
  expect(owed.map((letter) => letter.dueOn)).toEqual(['2026-12-01'])
})

test('LET-5 a recorded visit begins the count again, and an old letter counts no more', () => {
  const [site] = aCustomer().sites
  if (!site) throw new Error('a customer has a place')
  const visited = { sites: [{ ...site, visitedOn: calendarDate('2026-11-20') }] }
  expect(kindOf(aCustomer({ ...visited, ...written(['first', '2026-11-01']) }))).toBe('first')
  expect(kindOf(aCustomer({ ...visited, ...written(['first', '2026-11-21']) }))).toBeNull()
  expect(kindOf(aCustomer(written(['final', '2025-11-21'])))).toBe('first')
})

test('LET-6 what the post could not deliver is held back and said', () => {
  const found = owedLetters([aCustomer({ unaddressed: true })], pace, today)
  expect(found.owed).toEqual([])
  expect(found.unaddressed).toHaveLength(1)
})

const dayNear = fc.integer({ min: -90, max: 90 }).map((days) => addDays(today, days))
const customers = fc.array(
  fc.record({
    noMail: fc.boolean(),
    moved: fc.boolean(),
    closed: fc.boolean(),
    unaddressed: fc.boolean(),
    letters: fc.array(fc.record({ kind: fc.constantFrom('first', 'second', 'final' as const), writtenOn: dayNear }), {
      maxLength: 4,
    }),
    sites: fc.array(
      fc.record({
        closed: fc.boolean(),
        booked: fc.boolean(),
        dueOn: fc.option(dayNear),
        visitedOn: fc.option(dayNear),
      }),
      { maxLength: 3 },
    ),
  }),
  { maxLength: 6 },
)

test('LET-1 LET-2 LET-3 LET-4 LET-5 the judge has nothing to say, whatever the office holds', () => {
  fc.assert(
    fc.property(customers, fc.integer({ min: 0, max: 60 }), (rows, lead) => {
      const own = { ...pace, firstLetterLeadDays: lead }
      const mailed = rows.map(
        (row, index): MailedCustomer => ({
          ...row,
          customerId: customerIdSchema.parse(index + 1),
          // Letters of one day would have no order; an office does not write twice a day.
          letters: row.letters.filter(
            (letter, at) => row.letters.findIndex((one) => one.writtenOn === letter.writtenOn) === at,
          ),
          sites: row.sites.map((site, at) => ({ ...site, siteId: siteIdSchema.parse(index * 10 + at + 1) })),
        }),
      )
      expect(checkOwedLetters(mailed, owedLetters(mailed, own, today), own, today)).toEqual([])
    }),
    { numRuns: 500 },
  )
})

test('LET-3 the judge says so when a letter goes to someone who moved', () => {
  const customer = aCustomer()
  const wrong = owedLetters([customer], pace, today)
  expect(checkOwedLetters([{ ...customer, moved: true }], wrong, pace, today)).toHaveLength(1)
})

test('LET-10 the post is walked by code, town, street and number', () => {
  const place = (postalCode: string, town: string, street: string) => ({ postalCode, town, street })
  const walked = [
    place('00142', 'Tollard Mill', '18 Weirside Lane'),
    place('00101', 'Pell Harbor', '3 Quay St'),
    place('00142', 'Tollard Mill', '7 Weirside Lane'),
    place('00142', 'Tollard Mill', 'Weirside Lane 12'),
    place('00142', 'Tollard Mill', '9 Łock Row'),
  ].sort(comparePostal)
  expect(walked.map((one) => one.street)).toEqual([
    '3 Quay St',
    '9 Łock Row',
    '7 Weirside Lane',
    'Weirside Lane 12',
    '18 Weirside Lane',
  ])
})

test('LET-17 ahead of its time a first letter is owed as far ahead as it still counts later, and no second one', () => {
  const ahead = (customer: MailedCustomer, until: string) =>
    owedLetters([customer], pace, today, calendarDate(until)).owed[0] ?? null
  expect(ahead(aCustomer({}, '2027-01-17'), '2027-01-17')).toMatchObject({ kind: 'first', owedSince: today })
  expect(ahead(aCustomer({}, '2027-01-18'), '2027-01-17')).toBeNull()
  // 30 and 42 days ahead a letter counts as the one about this due date; a day earlier it would be written a second time.
  expect(ahead(aCustomer({}, '2027-02-05'), '2027-12-31')?.kind).toBe('first')
  expect(ahead(aCustomer({}, '2027-02-06'), '2027-12-31')).toBeNull()
  expect(ahead(aCustomer(written(['first', '2026-11-01']), '2027-01-05'), '2027-01-10')).toBeNull()
  // Written early, it is the first letter once the lead has come: the second follows.
  expect(kindOf(aCustomer(written(['first', '2026-11-25']), '2027-02-05'), calendarDate('2027-01-06'))).toBe('second')
  expect(ahead(aCustomer({}, '2026-12-10'), '2027-01-17')).toEqual(owedLetters([aCustomer()], pace, today).owed[0])
})
