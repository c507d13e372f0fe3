import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { checkImportPlan, type PlanToCheck } from '../../core/imports/check-import-plan.ts'
import { CHOICES, type Choice, type KnownHousehold } from '../../core/imports/find-likeness.ts'
import type { ListHousehold } from '../../core/imports/group-rows.ts'
import { type ImportPlan, planImport } from '../../core/imports/plan-import.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { customerIdSchema, siteIdSchema } from '../../core/units/ids.ts'
import { aJudgedList, anOpenedList, US_OFFICE } from '../builders/a-list.ts'

const BOOKS: readonly KnownHousehold[] = ['Ida Holt', 'Bo Lund'].map((name, index) => ({
  siteId: siteIdSchema.parse(index + 7),
  customerId: customerIdSchema.parse(index + 5),
  reference: `B-${index + 1}`,
  letterName: name,
  sortName: name.split(' ').reverse().join(', '),
  phones: [`555-010${index}`],
  emails: [],
  line1: `${index + 1} Mill Row`,
  line2: '',
  town: 'Saltgrass',
  postalCode: '00145',
}))
const NUMBERS = new Set(['b-1', 'b-2'])

/** A list planned against the books, with all that the judge needs. */
function planned(text: string, chosen: Readonly<Record<string, Choice>> = {}): PlanToCheck {
  const judged = aJudgedList(text, {}, US_OFFICE, BOOKS)
  const plan = planImport(judged.households, chosen, NUMBERS)
  return { sheet: anOpenedList(text).sheet, judged, chosen, numbersInBooks: NUMBERS, plan }
}

const HEAD = 'Acct no,Customer,Phone,Street,Town,Zip,People,Hardness (gpg),Stage,Last changed,Months'
const quoted = (cell: string): string => (/[",\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell)

/** A row of a stage-a-row list: few names and addresses, so that rows repeat and look alike; blanks, and cells that are wrong. */
const aRow = fc
  .tuple(
    fc.constantFrom('', '', 'A-1', 'A-2', 'B-1', 'B-2', 'a-1'),
    fc.constantFrom('', 'Ida Holt', 'Holt, Ida', 'Bo Lund', 'Bo Lunde', 'Oda Ek', 'Lodz Bakery'),
    fc.constantFrom('', '555-0100', '555-0101', '555-0150; 555-0151', 'call office'),
    fc.constantFrom('', '1 Mill Row', '2 Mill Row', '2 MILL ROW', '9 Harbor Steps'),
    fc.constantFrom('', 'Saltgrass', 'Pell Harbor'),
    fc.constantFrom('', '00145', '145', 'none of your business'),
    fc.constantFrom('', '4', '2 adults, 2 kids', '3-4', 'many', '0'),
    fc.constantFrom('', '12', '8.5 gpg', '18 °dH', '1,250 ppm', 'hard'),
    fc.constantFrom('', 'Sediment', 'Carbon', 'Carbon', 'Carbon 2', 'Membrane', 'Post filter', 'Tank', 'Gizmo'),
    fc.constantFrom('', '5/9/2026', '5/10/2026', '11/23/2023', '2025-01-31', 'Nov 2025', '45992', 'soon', '5/9/2027'),
    fc.constantFrom('', '6', '1 year', 'annual', '26 weeks', 'often'),
  )
  .map((cells) => cells.map(quoted).join(','))

/** A list with a column a stage. */
const aWideRow = fc
  .tuple(
    fc.constantFrom('', 'A-1', 'B-1'),
    fc.constantFrom('Ida Holt', 'Bo Lund', 'Oda Ek', ''),
    fc.constantFrom('1 Mill Row', '2 Mill Row', ''),
    fc.constantFrom('', '5/9/2026', 'n/a', 'soon'),
    fc.constantFrom('', '5/9/2026', 'yes'),
    fc.constantFrom('', '5/10/2026'),
    fc.constantFrom('', '11/23/2023', '1/15/2020'),
    fc.constantFrom('', '1/2/2026', '1/14/2025'),
  )
  .map((cells) => cells.map(quoted).join(','))
const WIDE =
  'Acct no,Name,Street,Sediment changed,Carbon 1 changed,Carbon 2 changed,Membrane changed,All filters changed'

const choices = fc.dictionary(
  fc.integer({ min: 2, max: 14 }).map(String),
  fc.constantFrom<Choice>(...CHOICES),
) as fc.Arbitrary<Record<string, Choice>>

describe('IMP-23 what is written follows from the rows', () => {
  test.each([
    ['a stage a row', HEAD, aRow, '1,First Household,555-0190,1 Weir Walk,Saltgrass,00145,2,7,Sediment,5/14/2026,6'],
    ['a column a stage', WIDE, aWideRow, ',First Household,1 Weir Walk,5/14/2026,5/14/2026,,5/14/2024,'],
  ])('IMP-23 whatever the list and the choices, the judge finds nothing to say: %s', (_, head, row, first) => {
    fc.assert(
      fc.property(fc.array(row, { maxLength: 12 }), choices, (rows, chosen) => {
        expect(checkImportPlan(planned([head, first, ...rows].join('\n'), chosen))).toEqual([])
      }),
      { numRuns: 400 },
    )
  })

  test('IMP-23 a customer number that somebody else has is kept in the note', () => {
    const text =
      'Acct no,Name,Street,Town,Zip\nA-1,Oda Ek,3 Mill Row,Saltgrass,00145\nA-1,Eva Lie,4 Quay Street,Pell Harbor,00143\n'
    const { plan } = planned(text, { 3: 'new' })
    expect(plan.fresh.map(({ household }) => [household.reference, household.note])).toEqual([
      ['A-1', ''],
      ['', 'Customer number in the list: A-1, which another customer has'],
    ])
  })
})

const LIST = [
  HEAD,
  'A-1,Oda Ek,555-0160,3 Quay Street,Pell Harbor,00143,4,12,Sediment,5/9/2026,6',
  ',,,,,,,,Carbon,5/9/2026,',
  ',,,,,,,,Membrane,11/23/2023,',
  'A-2,Oda Ek,555-0160,9 Harbor Steps,Orrin Falls,00146,,,Carbon,5/14/2026,',
  'A-3,Ida Holt,555-0100,1 Mill Row,Saltgrass,00145,,,Sediment,5/14/2026,',
  'A-4,Eva Lie,555-0170,7 Weir Walk,Nether Quay,00144,,,Sediment,soon,',
  'A-5,Una Dahl,555-0171,8 Weir Walk,Nether Quay,00144,,,Sediment,5/14/2026,',
].join('\n')
const LAWFUL = planned(LIST, { 8: 'leave-out' })

/** The lawful plan with its first household, or all of it, changed by hand. */
const withFirst = (change: (household: ListHousehold) => ListHousehold): Partial<ImportPlan> => ({
  fresh: LAWFUL.plan.fresh.map((one, at) => (at === 0 ? { ...one, household: change(one.household) } : one)),
})
const withStages = (
  change: (stages: ListHousehold['units'][number]['stages']) => ListHousehold['units'][number]['stages'],
): Partial<ImportPlan> =>
  withFirst((household) => ({
    ...household,
    units: household.units.map((unit) => ({ ...unit, stages: change(unit.stages) })),
  }))
const [ofEk, ofEksOther] = LAWFUL.plan.fresh
const [atHolt] = LAWFUL.plan.joined

describe('IMP-23 a plan that breaks a rule is caught', () => {
  test('IMP-23 the plan itself is lawful', () => {
    expect(checkImportPlan(LAWFUL)).toEqual([])
    expect(LAWFUL.plan.tally).toEqual({ created: 1, completed: 1, furtherAddresses: 1, leftOut: 1 })
    if (!ofEk || !ofEksOther || !atHolt) throw new Error('three are planned')
  })

  const notPlanned = planned(LIST).plan.fresh.find(({ household }) => household.lines[0] === 8)
  test.each<[string, Partial<ImportPlan>, string]>([
    [
      'a household that is not planned',
      { fresh: LAWFUL.plan.fresh.slice(0, 1) },
      'Line 5 was accepted and is not planned.',
    ],
    [
      'one that is planned twice',
      { fresh: [...LAWFUL.plan.fresh, ...LAWFUL.plan.fresh.slice(0, 1)] },
      'Line 2 is planned twice.',
    ],
    [
      'rows torn apart',
      {
        ...withFirst((one) => ({ ...one, lines: [2, 3] })),
        joined: LAWFUL.plan.joined.map((one) => ({ ...one, household: { ...one.household, lines: [6, 4] } })),
      },
      'The rows of line 2 are torn apart.',
    ],
    [
      'a refused row that is planned',
      withFirst((one) => ({ ...one, lines: [...one.lines, 7] })),
      'Line 7 was refused and is planned.',
    ],
    [
      'one that was left out',
      { fresh: [...LAWFUL.plan.fresh, ...(notPlanned ? [notPlanned] : [])] },
      'Line 8 was left out and is planned.',
    ],
    [
      'a line out of nowhere',
      withFirst((one) => ({ ...one, lines: [...one.lines, 99] })),
      'Line 99 was never accepted.',
    ],
    [
      'a stage that is lost',
      withStages((stages) => stages.slice(1)),
      'sediment is planned 0 times, and 1 are told apart.',
    ],
    [
      'a stage that is doubled',
      withStages((stages) => stages.flatMap((stage) => [stage, stage])),
      'carbon is planned 2 times, told of 1 times.',
    ],
    [
      'stages out of order',
      withStages((stages) => [...stages].reverse()),
      'carbon is planned behind what it stands ahead of.',
    ],
    [
      'a date that no row tells',
      withStages((stages) => stages.map((stage) => ({ ...stage, changedOn: calendarDate('2026-05-10') }))),
      '2026-05-10 stands in no cell of line 2.',
    ],
    [
      'a date that is dropped',
      withStages((stages) => stages.map((stage) => ({ ...stage, changedOn: null }))),
      'The membrane of line 4 is planned without its date.',
    ],
    ['a unit that is lost', withFirst((one) => ({ ...one, units: [] })), 'The unit of line 2 is not planned.'],
    ['people that nobody counted', withFirst((one) => ({ ...one, people: 44 })), '44 stands in no cell of line 2.'],
    [
      'hardness that nobody measured',
      withFirst((one) => ({ ...one, hardness: 206.4 })),
      '206.4 stands in no cell of line 2.',
    ],
    [
      'a customer number of the books',
      withFirst((one) => ({ ...one, reference: 'B-2' })),
      'Line 2 has customer number B-2 of the books.',
    ],
    [
      'two with one number',
      {
        fresh: LAWFUL.plan.fresh.map((one) => ({
          household: { ...one.household, reference: 'A-1' },
          customer: { kind: 'new' },
        })),
      },
      'Lines 2 and 5 have one customer number, A-1.',
    ],
    [
      'a further address made a new customer',
      { fresh: LAWFUL.plan.fresh.map((one) => ({ ...one, customer: { kind: 'new' } })) },
      'Line 5 should be a further address of Ek, Oda, line 2 and is not.',
    ],
    [
      'the same household taken for another',
      { joined: LAWFUL.plan.joined.map((one) => ({ ...one, siteId: siteIdSchema.parse(8) })) },
      'Line 6 should be the same household as Holt, Ida and is not.',
    ],
    [
      'a new one put under a customer',
      {
        fresh: LAWFUL.plan.fresh.map((one) => ({
          ...one,
          customer: { kind: 'books', customerId: customerIdSchema.parse(5) },
        })),
      },
      'Line 2 should be new and is not.',
    ],
    [
      'a count that is off',
      { tally: { ...LAWFUL.plan.tally, created: 2 } },
      '2 households are said to be created, where there are 1.',
    ],
    [
      'a household that is not counted',
      { tally: { ...LAWFUL.plan.tally, completed: 0 } },
      '3 households are counted in all, where there are 4.',
    ],
  ])('IMP-23 %s', (_, change, complaint) => {
    expect(checkImportPlan({ ...LAWFUL, plan: { ...LAWFUL.plan, ...change } })).toContain(complaint)
  })
})
