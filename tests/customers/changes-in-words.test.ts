import { expect, test } from 'vitest'
import { changedFields, changesInWords } from '../../core/customers/changes-in-words.ts'
import { rebased } from '../../core/customers/rebase.ts'

const words = { phone: 'telephone', people: 'people', noMail: 'no mail' }
const seen = { phone: '555-0142', people: 6 as number | null, noMail: false }

test('CUST-4 what changed is said field by field, with what was there before', () => {
  expect(changesInWords(seen, seen, words)).toBeNull()
  expect(changesInWords(seen, { phone: '', people: null, noMail: true }, words)).toBe(
    'telephone: blank (it was 555-0142); people: blank (it was 6); no mail: yes (it was no)',
  )
  expect(changedFields(seen, { ...seen, people: 2 })).toEqual(['people'])
})

test('CUST-4 what was typed is carried over to the record as it stands now', () => {
  const mine = { ...seen, people: 2 }
  const now = { ...seen, phone: '555-0177', noMail: true }
  expect(rebased(seen, mine, now)).toEqual({ phone: '555-0177', people: 2, noMail: true })
})
