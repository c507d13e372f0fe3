import { expect, test } from 'vitest'
import type { StageKind } from '../../core/installations/stage-kinds.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { installationIdSchema, stageIdSchema } from '../../core/units/ids.ts'
import { cents, taxRate } from '../../core/units/money.ts'
import { expectedPrice } from '../../core/visits/expected-price.ts'
import { minutesInWords, plannedMinutes } from '../../core/visits/planned-minutes.ts'
import { proposeTasks, type StageAtSite } from '../../core/visits/propose-tasks.ts'

const stage = (id: number, kind: StageKind, dueOn: string | null, unit = 1): StageAtSite => ({
  stageId: stageIdSchema.parse(id),
  installationId: installationIdSchema.parse(unit),
  kind,
  label: kind,
  dueOn: dueOn === null ? null : calendarDate(dueOn),
  reason: '6 months, family of six',
})
const day = { visitOn: calendarDate('2026-12-02'), graceDays: 30, locale: 'en-US' }

test('VIS-10 what is due by the visit, or falls due within the grace after it, is proposed; the rest says when', () => {
  const found = proposeTasks(
    [
      stage(1, 'sediment', '2026-11-09'),
      stage(2, 'carbon', '2026-12-02'),
      stage(3, 'remineraliser', '2027-01-01'),
      stage(4, 'post-carbon', '2027-01-02'),
      stage(5, 'uv-lamp', null),
    ],
    day,
  )
  expect(found.map(({ proposed, why }) => `${proposed ? 'yes' : 'no'}: ${why}`)).toEqual([
    'yes: due Nov 9, 2026, 3 weeks late by then',
    'yes: due Dec 2, 2026, on that day',
    'yes: due Jan 1, 2027, 4 weeks after the visit',
    'no: due Jan 2, 2027, 4 weeks after the visit',
    'no: no date known: look at it',
  ])
})

test('VIS-10 the tank is sanitised with the membrane of its own unit, not with that of another', () => {
  const found = proposeTasks(
    [
      stage(1, 'membrane', '2026-12-01'),
      stage(2, 'tank', '2027-09-01'),
      stage(3, 'tank', '2027-09-01', 2),
      stage(4, 'membrane', '2028-09-01', 2),
    ],
    day,
  )
  expect(found.map(({ care, proposed }) => `${care} ${proposed}`)).toEqual([
    'change true',
    'sanitise true',
    'sanitise false',
    'change false',
  ])
  expect(found[1]?.why).toBe('because the membrane is changed')
})

test('VIS-11 the minutes of a visit are built up from the call and its tasks', () => {
  const pace = { callMinutes: 20, stageMinutes: 8, sanitiseMinutes: 25 }
  const change = { kind: 'change', fitMinutes: null, ownMinutes: 0 } as const
  expect(plannedMinutes([change, change, change], pace)).toBe(44)
  expect(
    plannedMinutes(
      [
        { ...change, fitMinutes: 15 },
        { kind: 'sanitise', fitMinutes: null, ownMinutes: 0 },
        { kind: 'other', fitMinutes: null, ownMinutes: 10 },
        { kind: 'measure', fitMinutes: null, ownMinutes: 0 },
      ],
      pace,
    ),
  ).toBe(70)
  expect([44, 60, 125].map(minutesInWords)).toEqual(['44 min', '1 h', '2 h 05'])
})

test('VIS-12 the price on the phone is parts, labour, call and tax', () => {
  const terms = { callOutCents: cents(6400), labourCentsPerHour: cents(0), taxRate: taxRate(5600), taxExempt: false }
  const part = (name: string, price: number) => ({ name, priceCents: cents(price), taxFree: false, quantity: 1 })
  // Our own worked example: 86.40 of parts and 64.00 for the call; 5.6 % of 150.40 is 8.4224.
  const price = expectedPrice(
    [part('Sediment filter', 1880), part('Carbon block', 2960), part('Post carbon', 3800)],
    44,
    terms,
  )
  expect(price.lines.map(({ what, netCents }) => `${what} ${netCents}`)).toEqual([
    'Sediment filter 1880',
    'Carbon block 2960',
    'Post carbon 3800',
    'The call 6400',
  ])
  expect([price.netCents, price.taxCents, price.grossCents]).toEqual([15_040, 842, 15_882])
  expect(
    expectedPrice([], 45, { ...terms, labourCentsPerHour: cents(9000) }).lines.map((line) => line.netCents),
  ).toEqual([6750, 6400])
})

test('VIS-12 tax is rounded half away from zero on the sum, as in the EN 16931 examples; exempt customers and tax-free parts pay none', () => {
  // 365.125 of tax becomes 365.13: example 2 of the EN 16931 UBL examples (1460.50 at 25 %).
  const terms = { callOutCents: cents(0), labourCentsPerHour: cents(0), taxRate: taxRate(25_000), taxExempt: false }
  const one = { name: 'Membrane', priceCents: cents(146_050), taxFree: false, quantity: 1 }
  expect(expectedPrice([one], 0, terms).taxCents).toBe(36_513)
  expect(expectedPrice([one], 0, { ...terms, taxExempt: true }).taxCents).toBe(0)
  expect(expectedPrice([{ ...one, taxFree: true, quantity: 2 }], 0, terms)).toMatchObject({
    lines: [{ what: '2 × Membrane', netCents: 292_100 }],
    taxCents: 0,
  })
})
