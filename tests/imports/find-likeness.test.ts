import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { findLikenesses, type KnownHousehold } from '../../core/imports/find-likeness.ts'
import { joinListed, matchingUnit, pairStages } from '../../core/imports/join-listed.ts'
import {
  addressKey,
  nameKey,
  nameLikeness,
  nameWords,
  normalEmail,
  normalPhone,
  normalPostalCode,
  normalStreet,
  plainLetters,
  plainWords,
  withinOneLetter,
} from '../../core/imports/normal-forms.ts'
import { planImport } from '../../core/imports/plan-import.ts'
import { toTheEnd } from '../../core/imports/steps.ts'
import { customerIdSchema, siteIdSchema } from '../../core/units/ids.ts'
import { aJudgedList, US_OFFICE } from '../builders/a-list.ts'

const KNOWN: KnownHousehold = {
  siteId: siteIdSchema.parse(7),
  customerId: customerIdSchema.parse(5),
  reference: 'A-1',
  letterName: 'Corinne Abernathy-Vance',
  sortName: 'Abernathy-Vance, Corinne',
  phones: ['(555) 555-0142'],
  emails: ['corinne@example.com'],
  line1: '18 Weirside Lane',
  line2: '',
  town: 'Tollard Mill',
  postalCode: '00142',
}

const HEAD = 'Account no,Name,Phone,Email,Street,Town,Zip\n'
const likenessOf = (row: string) => aJudgedList(`${HEAD}${row}\n`, {}, US_OFFICE, [KNOWN]).households[0]?.likeness

describe('who looks like whom', () => {
  test.each([
    [',Corinne Abernathy Vance,,,18 WEIRSIDE LN.,Tollard Mill,00142', 'same address, same name', 'same-household'],
    [',C. Abernathy-Vance,,,18 Weirside Lane,Tollard Mill,00142', 'same address, similar name', 'same-household'],
    [',Corine Abernathy-Vance,555-555-0142,,,,', 'same telephone, similar name', 'same-household'],
    [
      ',Corinne Abernathy-Vance,,CORINNE@example.com,7 Harbor Steps,Pell Harbor,00143',
      'same e-mail, same name, another address',
      'same-customer',
    ],
    ['A-1,Ida Holt,,,7 Harbor Steps,Pell Harbor,00143', 'same customer number, another address', 'same-customer'],
    [',Ida Holt,,,18 Weirside Lane,Tollard Mill,00142', 'same address', 'new'],
    [
      ',Corinne Abernathy-Vance,,,7 Other Street,Tollard Mill,00142',
      'same name, same postal code, another address',
      'new',
    ],
  ])('IMP-12 %j: %s', (row, because, advice) => {
    expect(likenessOf(row)).toMatchObject({
      because,
      advice,
      called: 'Abernathy-Vance, Corinne',
      whom: { in: 'books', siteId: 7 },
    })
  })

  test('IMP-12 a stranger looks like nobody', () => {
    expect(likenessOf(',Ida Holt,555-0150,ida@example.com,2 Mill Row,Nether Quay,00144')).toBeNull()
  })

  test('IMP-12 within the list the earlier one is named by its line', () => {
    const judged = aJudgedList(
      `${HEAD},Ida Holt,555-555-0150,,2 Mill Row,Nether Quay,00144\n,Ida Holt,(555) 555-0150,,,,\n`,
    )
    expect(judged.households[1]?.likeness).toMatchObject({ called: 'Holt, Ida, line 2', advice: 'same-household' })
    const plan = planImport(judged.households, {}, new Set())
    expect(plan.fresh.map(({ household }) => household.lines)).toEqual([[2, 3]])
  })

  test('IMP-20 one that looked like a household left out is new', () => {
    const judged = aJudgedList(
      `${HEAD},Ida Holt,555-555-0150,,2 Mill Row,Nether Quay,00144\n,Ida Holt,555-555-0150,,,,\n`,
    )
    expect(planImport(judged.households, { 2: 'leave-out' }, new Set())).toMatchObject({
      tally: { created: 1, completed: 0, furtherAddresses: 0, leftOut: 1 },
      fresh: [{ customer: { kind: 'new' } }],
    })
  })

  test('IMP-16 every household of a list looks like itself in the books', () => {
    const word = fc.stringMatching(/^[A-Z][a-z]{4,9}$/)
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.tuple(word, word, fc.integer({ min: 1, max: 99 })), {
          minLength: 1,
          maxLength: 8,
          selector: ([, family]) => family,
        }),
        (people) => {
          const text =
            HEAD +
            people
              .map(([given, family, house]) => `,"${family}, ${given}",,,${house} Mill Row,Saltgrass,00145`)
              .join('\n')
          const { households } = aJudgedList(text)
          const books = households.map(
            ({ household }, index): KnownHousehold => ({
              ...KNOWN,
              siteId: siteIdSchema.parse(index + 1),
              reference: `R-${index}`,
              letterName: household.names.letterName,
              sortName: household.names.sortName,
              phones: [],
              emails: [],
              line1: household.address.line1,
              town: 'Saltgrass',
              postalCode: '00145',
            }),
          )
          const listed = households.map(({ household }) => household)
          const found = toTheEnd(findLikenesses(listed, books))
          expect(found.map((likeness) => likeness?.advice)).toEqual(households.map(() => 'same-household'))
        },
      ),
    )
  })

  test('two households of a list join without losing a word', () => {
    const [first, second] = aJudgedList(
      `${HEAD.trim()},Notes,Sediment changed,Carbon changed\n,Ida Holt,555-555-0150,,2 Mill Row,Nether Quay,00144,gate,2026-01-02,\n,Bo Lund,555-555-0151,bo@example.com,3 Mill Row,Nether Quay,00144,dog,2026-03-04,2026-03-04\n`,
    ).households.map(({ household }) => household)
    if (!first || !second) throw new Error('two are needed')
    const joined = joinListed(first, second)
    expect(joined).toMatchObject({
      phones: ['555-555-0150', '555-555-0151'],
      emails: ['bo@example.com'],
      note: 'gate\ndog',
      lines: [2, 3],
    })
    expect(joined.units[0]?.stages.map(({ kind, changedOn }) => [kind, changedOn])).toEqual([
      ['sediment', '2026-03-04'],
      ['carbon', '2026-03-04'],
    ])
    expect(pairStages([], joined.units[0]?.stages ?? []).added).toHaveLength(2)
    expect(matchingUnit([{ name: '' }], 'Kitchen')).toBe(0)
  })
})

describe('normal forms', () => {
  // USPS Publication 28, appendices B and C: STREET ST, LANE LN, NORTH N, APARTMENT APT (from memory).
  test('IMP-12 streets, telephones, e-mails and codes', () => {
    expect(normalStreet('18 North Weirside Lane, Apt. 2')).toBe(normalStreet('18 N WEIRSIDE LN #2'))
    expect(normalStreet('Mühlenstraße 4')).toBe(normalStreet('Muhlenstr. 4'))
    expect(addressKey('18 Weirside Ln', 'x', '00142-1234')).toBe(addressKey('18 Weirside Lane', 'y', '00142'))
    expect(normalPhone('+1 (555) 555-0142 ext. 3')).toBe('5555550142')
    expect(normalPhone('42')).toBe('')
    expect(normalEmail(' Ida@Example.com ')).toBe('ida@example.com')
    expect(normalPostalCode('00142-1234')).toBe('00142')
  })

  test('IMP-12 names', () => {
    expect(nameWords('Dr. Corinne Abernathy-Vance')).toEqual(['abernathy', 'corinne', 'vance'])
    expect(nameKey('Holt, Ida')).toBe(nameKey('Mrs. Ida Holt'))
    expect(nameLikeness(nameWords('Ida Holt'), nameWords('Ida Lund'))).toBe(0.5)
    expect(nameLikeness(nameWords('I. Holt'), nameWords('Ida Holt'))).toBe(1)
    expect([
      withinOneLetter('corinne', 'corine'),
      withinOneLetter('holt', 'hotl'),
      withinOneLetter('holt', 'bold'),
    ]).toEqual([true, true, false])
    expect(plainLetters('Łäß')).toContain('ass')
    expect(plainWords("O'Neil-Ek")).toEqual(['oneil', 'ek'])
  })
})
