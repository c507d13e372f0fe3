import { expect, test } from 'vitest'
import { postalAddressLines } from '../../core/customers/postal-address.ts'

const address = {
  names: ['Idris Bexhill-Moreno'],
  street: '7 Millrace Ct.',
  unit: 'Apt 2',
  town: 'Tollard Mill',
  region: 'XX',
  postalCode: '00142-0417',
}

test('LET-16 in the United States: capitals, no punctuation but the ZIP+4 hyphen, the unit at the end, two spaces before the ZIP', () => {
  // USPS Publication 28, sections 212 (capitals), 213 (unit), 222 (punctuation), 224 (two spaces preferred)
  expect(postalAddressLines(address, 'usps')).toEqual([
    'IDRIS BEXHILL-MORENO',
    '7 MILLRACE CT APT 2',
    'TOLLARD MILL XX\u00a0\u00a000142-0417',
  ])
})

test('LET-16 a delivery line that would be too long has its unit above it', () => {
  const long = { ...address, street: '12345 North Upper Weirside Boulevard' }
  expect(postalAddressLines(long, 'usps')).toEqual([
    'IDRIS BEXHILL-MORENO',
    'APT 2',
    '12345 NORTH UPPER WEIRSIDE BOULEVARD',
    'TOLLARD MILL XX\u00a0\u00a000142-0417',
  ])
})

test('LET-16 elsewhere: as written, the postal code before the town, letters of every language kept', () => {
  const abroad = {
    ...address,
    names: ['Łucja Müller', 'c/o Property Office'],
    region: '',
    unit: '',
    postalCode: '00142',
  }
  expect(postalAddressLines(abroad, 'din-5008')).toEqual([
    'Łucja Müller',
    'c/o Property Office',
    '7 Millrace Ct.',
    '00142 Tollard Mill',
  ])
})
