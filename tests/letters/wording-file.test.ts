import { readdirSync, readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { LETTER_KINDS } from '../../core/letters/letter-kinds.ts'
import { checkWording } from '../../core/letters/letter-wording.ts'
import { ourWordings } from '../../core/letters/our-wordings-answers.ts'
import { readWordingFile, wordingFileName } from '../../core/letters/wording-file.ts'

const folder = new URL('../../assets/letter-wording/', import.meta.url)
const files = readdirSync(folder).sort()
const whole = 'Subject:\n{due}\n\nLetter:\n{why}\n\nSecond paragraph.\n\nHow to answer:\nCall {phone}.\n'
const readingOf = (text: string) => () => readWordingFile('first.en-US.txt', text)

test('LET-9 there is a file for every letter in both Englishes and no other, and every field in it is known', () => {
  const wanted = LETTER_KINDS.flatMap((kind) => [wordingFileName(kind, 'en-GB'), wordingFileName(kind, 'en-US')])
  // The letter about a recalled lot is read by itself.
  const reminders = files.filter((file) => !file.startsWith('recall.'))
  expect(reminders).toEqual(wanted.sort())
  for (const file of reminders) {
    const wording = readWordingFile(file, readFileSync(new URL(file, folder), 'utf8'))
    expect(file.startsWith(`${wording.kind}.`)).toBe(true)
    expect(checkWording(wording), file).toEqual({ ok: true, value: undefined })
    for (const part of [wording.subject, wording.body, wording.answer]) expect(part, file).toMatch(/\{\w+\}/)
    // Every letter has to say how to reach the office and by which name.
    expect(wording.answer, file).toContain('{phone}')
    expect(wording.answer, file).toContain('{reference}')
  }
})

test('LET-9 a country that is not the United States gets the English of its post and telephone', () => {
  expect(ourWordings('en-US').first.answer).toContain('Call {phone}')
  expect(ourWordings('en-GB').first.answer).toContain('Ring {phone}')
  expect(ourWordings('de-DE')).toBe(ourWordings('en-GB'))
})

test('LET-9 a wording file is read as it stands: parts under their headings, paragraphs kept, remarks left out', () => {
  expect(readWordingFile('first.en-US.txt', `# a remark\n\n${whole}`)).toEqual({
    kind: 'first',
    subject: '{due}',
    body: '{why}\n\nSecond paragraph.',
    answer: 'Call {phone}.',
  })
  expect(readingOf(whole.replaceAll('\n', '\r\n'))()).toEqual(readingOf(whole)())
})

test('LET-9 a broken wording file is refused with its name and what is wrong', () => {
  const name = /^assets\/letter-wording\/first\.en-US\.txt: /
  expect(readingOf(whole.replace('{why}', '{wyh}'))).toThrow(name)
  expect(readingOf(whole.replace('{why}', '{wyh}'))).toThrow('There is no field called "wyh".')
  expect(readingOf(whole.replace('{why}', '{why'))).toThrow(name)
  expect(readingOf(whole.replace('Letter:', 'Letters:'))).toThrow('nothing is called "Letters"')
  expect(readingOf(whole.replace('How to answer:\nCall {phone}.\n', ''))).toThrow('"How to answer" is missing')
  expect(readingOf(`${whole}Subject:\n{due}\n`)).toThrow('"Subject" is there twice')
  expect(readingOf(`Dear {name}\n${whole}`)).toThrow('words stand before any heading')
  expect(readingOf(whole.replace('{due}', ''))).toThrow('The letter needs a subject.')
  expect(() => readWordingFile('fourth.en-US.txt', whole)).toThrow('there is no letter of this name')
})
