import { describe, expect, test } from 'vitest'
import {
  hardnessUnitNamed,
  hardnessUnitOfColumn,
  readHardness,
  readMonths,
  readNumber,
  readPeople,
  readTds,
  readYesNo,
} from '../../core/imports/read-measures.ts'
import { readPostalCode, settleTown, splitAddress } from '../../core/imports/read-where.ts'
import { looksLikeBusiness, readEmails, readName, readPhones } from '../../core/imports/read-who.ts'
import { tidyCell } from '../../core/imports/row-cells.ts'

const NO_NAME = { name: '', firstName: '', lastName: '', company: '', contact: '' }

describe('the cells of a list', () => {
  test.each([
    ['1,234.5', 1234.5],
    ['1.234,5', 1234.5],
    ['7,5', 7.5],
    ['1,500', 1500],
    ['0.125', 0.125],
    ['about 12 gpg', 12],
    ['3 to 5', null],
    ['', null],
  ])('the number in %j is %s', (cell, value) => {
    expect(readNumber(cell)).toBe(value)
  })

  test('IMP-21 hardness in grains, mg/L and German degrees', () => {
    // 1 grain a US gallon is 17.11806 mg/L (definitions of grain and gallon); customary 17.1.
    expect(readHardness('10', 'gpg')).toBe(171.2)
    expect(readHardness('10 gpg', 'mg/L')).toBe(171.2)
    expect(readHardness('200 ppm', 'gpg')).toBe(200)
    // 1 degree German hardness is 17.848 mg/L as CaCO3 (DIN 38409-6, from memory).
    expect(readHardness('10 °dH', 'gpg')).toBe(178.5)
    expect(readHardness('hard', 'gpg')).toBeNull()
    expect(hardnessUnitNamed('Hardness (gpg)')).toBe('gpg')
    expect(hardnessUnitOfColumn('Hardness', ['8', '140'], 'us')).toBe('mg/L')
    expect(hardnessUnitOfColumn('Hardness', ['8', '14'], 'us')).toBe('gpg')
  })

  test('people, dissolved solids, months, yes and no', () => {
    expect(['4', '4+', '2 adults, 2 kids', '3-4', '0', 'many', '2.5'].map(readPeople)).toEqual([
      4,
      4,
      4,
      4,
      null,
      null,
      null,
    ])
    expect(['412 ppm', '-1'].map(readTds)).toEqual([412, null])
    expect(['6', '6 mo', '2 years', 'semi-annual', 'Annually', '26 weeks', '0', 'often'].map(readMonths)).toEqual([
      6,
      6,
      24,
      6,
      12,
      6,
      null,
      null,
    ])
    expect(['Yes', 'x', 'N', 'opted out', 'perhaps'].map(readYesNo)).toEqual([true, true, false, true, null])
  })

  test('names come from whatever cells there are', () => {
    expect(readName({ ...NO_NAME, name: 'Abernathy-Vance, Corinne' })?.name).toEqual({
      kind: 'person',
      family: 'Abernathy-Vance',
      given: 'Corinne',
    })
    expect(readName({ ...NO_NAME, firstName: 'Corinne', lastName: 'Abernathy-Vance' })?.name).toMatchObject({
      family: 'Abernathy-Vance',
    })
    expect(readName({ ...NO_NAME, name: 'Mr. & Mrs. Bram Hallowell' })?.name).toMatchObject({
      given: 'Bram',
      family: 'Hallowell',
    })
    expect(readName({ ...NO_NAME, name: 'Fenwick Pottery School' })?.name).toEqual({
      kind: 'business',
      name: 'Fenwick Pottery School',
    })
    expect(readName({ ...NO_NAME, company: 'Ashgrove Dental', name: 'Ida Holt' })).toMatchObject({
      name: { kind: 'business' },
      contact: 'Ida Holt',
    })
    expect(readName(NO_NAME)).toBeNull()
    expect(looksLikeBusiness('Kettering Row, no. 4')).toBe(true)
  })

  test('IMP-10 telephones and e-mails, several in one cell, and what is none', () => {
    expect(readPhones('555-0142 / (555) 555-0143 x12')).toEqual({ good: ['555-0142', '(555) 555-0143 x12'], bad: [] })
    expect(readPhones('call office')).toEqual({ good: [], bad: ['call office'] })
    expect(readEmails('mailto:ida@example.com; Bo <bo@example.com>, bo@')).toEqual({
      good: ['ida@example.com', 'bo@example.com'],
      bad: ['bo@'],
    })
  })

  test.each([
    ['18 Weirside Lane, Tollard Mill, XX 00142', ['18 Weirside Lane', '', 'Tollard Mill', 'XX', '00142']],
    [
      '18 Weirside Lane\nApt 2\nTollard Mill XX 00142-1234',
      ['18 Weirside Lane', 'Apt 2', 'Tollard Mill', 'XX', '00142-1234'],
    ],
    ['18 Weirside Lane, Tollard Mill, XX, 00142, USA', ['18 Weirside Lane', '', 'Tollard Mill', 'XX', '00142']],
    ['Mühlweg 4, 00142 Tollard Mill', ['Mühlweg 4', '', 'Tollard Mill', '', '00142']],
    ['Weirside', ['Weirside', '', '', '', '']],
  ])('a whole address in one cell: %j', (cell, [line1, line2, town, region, postalCode]) => {
    expect(splitAddress(cell)).toMatchObject({ line1, line2, town, region, postalCode })
  })

  test('a town cell may hold the state and the code', () => {
    const address = { line1: 'x', line2: '', town: 'Tollard Mill, XX 00142', region: '', postalCode: '', country: '' }
    expect(settleTown(address)).toMatchObject({ town: 'Tollard Mill', region: 'XX', postalCode: '00142' })
  })

  // USPS Publication 28, ZIP+4 (from memory): five digits, or nine with a hyphen.
  test('IMP-11 a postal code gets back the zeros that a spreadsheet took', () => {
    expect(readPostalCode('142', true)).toEqual({ code: '00142', zerosRestored: true, fits: true })
    expect(readPostalCode('1421234', true)).toEqual({ code: '00142-1234', zerosRestored: true, fits: true })
    expect(readPostalCode('00142', true)).toEqual({ code: '00142', zerosRestored: false, fits: true })
    expect(readPostalCode('AB1 2CD', true).fits).toBe(false)
    expect(readPostalCode('142', false).code).toBe('142')
  })

  test('cells are tidied: text marks, no-break spaces, line ends', () => {
    expect(tidyCell(" '02134 ")).toBe('02134')
    expect(tidyCell('a\u00a0\u00a0b\r\nc')).toBe('a b\nc')
  })
})
