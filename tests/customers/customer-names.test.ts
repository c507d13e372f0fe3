import { expect, test } from 'vitest'
import { keptNamesOf, readPersonName } from '../../core/customers/customer-names.ts'

test.each([
  ['Corinne Abernathy-Vance', 'Corinne', 'Abernathy-Vance'],
  ['Abernathy-Vance,  Corinne', 'Corinne', 'Abernathy-Vance'],
  ['Ludo van der Meer', 'Ludo', 'van der Meer'],
  ['Anna Maria Holt', 'Anna Maria', 'Holt'],
  ['P. & F. Drummond-Adeyemi', 'P. & F.', 'Drummond-Adeyemi'],
  ['Van Holt', 'Van', 'Holt'],
  ['Galbraith', '', 'Galbraith'],
  ['  ', '', ''],
])('CUST-3 "%s" is read as given and family name', (text, given, family) => {
  expect(readPersonName(text)).toEqual({ kind: 'person', given, family })
})

test('CUST-3 a person is listed by the family name and written to by the whole name', () => {
  expect(keptNamesOf({ kind: 'person', given: 'Corinne', family: ' Abernathy-Vance ' })).toEqual({
    sortName: 'Abernathy-Vance, Corinne',
    letterName: 'Corinne Abernathy-Vance',
    salutation: 'Dear Corinne Abernathy-Vance',
  })
  expect(keptNamesOf({ kind: 'person', given: '', family: 'Galbraith' })).toEqual({
    sortName: 'Galbraith',
    letterName: 'Galbraith',
    salutation: 'Dear Galbraith',
  })
  expect(keptNamesOf({ kind: 'person', given: 'Ottoline', family: '' }).sortName).toBe('Ottoline')
})

test('CUST-3 a firm has one name, and its article does not sort it', () => {
  expect(keptNamesOf({ kind: 'business', name: 'The Fenwick Pottery School' })).toEqual({
    sortName: 'Fenwick Pottery School, The',
    letterName: 'The Fenwick Pottery School',
    salutation: 'To The Fenwick Pottery School',
  })
  expect(keptNamesOf({ kind: 'business', name: 'Theatre Row' }).sortName).toBe('Theatre Row')
})
