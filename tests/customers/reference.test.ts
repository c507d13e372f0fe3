import { expect, test } from 'vitest'
import { referenceFor } from '../../core/customers/reference.ts'

test.each([
  ['Bexhill-Moreno, Idris', 417, 'BM-0417'],
  ['Galbraith, Ottoline', 7, 'GA-0007'],
  ['Łódź Works', 12345, 'LW-12345'],
  ['O', 1, 'O-0001'],
  ['—', 2, 'C-0002'],
])('CUST-6 %s with the number %i is %s', (name, number, reference) => {
  expect(referenceFor(name, number)).toBe(reference)
})
