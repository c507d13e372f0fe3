import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { exampleHousehold } from '../../core/letters/example-household.ts'
import type { LetterRunFacts } from '../../core/letters/letter-page.ts'
import { writeLetters } from '../../core/letters/letter-paper.ts'
import {
  composeRecallLetter,
  type RecallHousehold,
  type RecallNews,
  recallLetterPage,
} from '../../core/letters/recall-letter.ts'
import { readRecallSender, recallSenderText } from '../../core/letters/recall-sender.ts'
import { readRecallWording, recallWordingFileName } from '../../core/letters/recall-wording.ts'
import type { WordingEnglish } from '../../core/letters/wording-file.ts'
import { DEFAULT_SETTINGS, type OfficeSettings } from '../../core/settings/office-settings.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { timeOfDay } from '../../core/units/time-of-day.ts'
import { someRunFacts } from '../builders/a-letter-page.ts'
import { DIN, shown, US_10, wholly } from '../judges/envelope-windows.ts'
import { readPdf, wordsOn } from '../judges/read-pdf.ts'

const today = calendarDate('2026-12-01')
const { address } = exampleHousehold(today)
const household: RecallHousehold = {
  ...{ reference: 'BM-0417', salutation: 'Dear Idris Bexhill-Moreno', address, street: '7 Millrace Ct' },
  ...{ stages: [{ kind: 'carbon', label: 'Carbon' }], fittedOn: calendarDate('2026-05-12') },
  visit: { on: calendarDate('2026-12-10'), windowFrom: timeOfDay(480), windowUntil: timeOfDay(600) },
}
const news: RecallNews = {
  ...{ lot: 'K-77', part: 'Carbon block, 10 in', why: 'end caps come loose and fines get past', notice: 'FS-2026-11' },
}
const office = { name: 'Larkmoor Water', phone: '555-0100', email: 'office@larkmoor.example.com' }

function wordingOf(english: WordingEnglish) {
  const name = recallWordingFileName(english)
  const file = new URL(`../../assets/letter-wording/${name}`, import.meta.url)
  return readRecallWording(name, readFileSync(file, 'utf8'))
}

function letterOf(
  own: Partial<RecallHousehold> = {},
  told: Partial<RecallNews> = {},
  settings: Partial<OfficeSettings> = {},
) {
  const whole = { ...DEFAULT_SETTINGS, ...settings }
  const wording = wordingOf(whole.locale === 'en-US' ? 'en-US' : 'en-GB')
  return composeRecallLetter({ ...household, ...own }, { ...news, ...told }, wording, {
    today,
    office,
    settings: whole,
  })
}

async function printed(
  own: Partial<RecallHousehold>,
  facts: Partial<LetterRunFacts>,
  settings: Partial<OfficeSettings>,
) {
  const chunks: Uint8Array[] = []
  const pages = [recallLetterPage(letterOf(own, {}, settings))]
  await writeLetters(pages, someRunFacts(facts), { write: (bytes) => void chunks.push(bytes) })
  return readPdf(Buffer.concat(chunks))
}

test('LET-18 the letter says what was found, whose notice it is, what it costs, what to do until then, and how to answer', () => {
  const letter = letterOf()
  expect(letter.subject).toBe('The carbon filter in your drinking-water unit must be changed: a recall by the supplier')
  expect(letter.body).toContain(
    'The carbon filter at 7 Millrace Ct, fitted on May 12, 2026, came from lot K-77 of Carbon block, 10 in, and the supplier has recalled that lot. End caps come loose and fines get past. Their notice is FS-2026-11.',
  )
  expect(letter.body).toContain('you pay neither the part nor the call')
  expect(letter.body).toContain('We have set aside Thursday, Dec 10, 8:00–10:00 am for you')
  expect(letter.answer).toContain('Call 555-0100 and name BM-0417')
})

// Handbook section 11 of the project: a TDS meter says nothing about germs, lead or other health contaminants, that takes a certified
// laboratory; shut the feed and relieve the pressure first; look for leaks; the first tanks go down the drain.
test('LET-18 the supplier’s notice and the authorities go before us, and no meter or taste is trusted', () => {
  const manners: Partial<OfficeSettings>[] = [{}, { locale: 'en-GB' }, { locale: 'de-DE' }]
  for (const settings of manners) {
    const { body, cautions } = letterOf({}, {}, settings)
    expect(body).toContain('do not drink or cook with water from the tap of this unit')
    expect(body).toContain('unless the supplier’s notice says that you may')
    expect(body).toMatch(/your local water or health authority, says anything else, go by that/)
    expect(cautions).toContain('certify nothing')
    expect(cautions).toMatch(/a meter shows a low figure, tells nothing about germs, lead/)
    expect(cautions).toContain('only a certified laboratory does')
    expect(cautions).toMatch(
      /shut the feed and let the pressure off first.*look for leaks.*first tankfuls go down the drain/,
    )
  }
})

test('LET-18 what nobody knows leaves no gap: no notice, no date, no visit, several pieces', () => {
  const stages = [
    { kind: 'carbon' as const, label: '' },
    { kind: 'carbon' as const, label: '' },
    { kind: 'sediment' as const, label: '' },
  ]
  const letter = letterOf({ stages, fittedOn: null, visit: null, salutation: '' }, { notice: '', why: 'It splits.' })
  expect(letter.salutation).toBe('Dear Idris Bexhill-Moreno')
  expect(letter.subject).toMatch(/^The 2 carbon filters and the sediment filter in your/)
  expect(letter.body).toContain('at 7 Millrace Ct came from lot K-77')
  expect(letter.body).toContain('recalled that lot. It splits.\n')
  expect(letter.body).toContain('We come as soon as we have agreed on a day with you.')
  expect(`${letter.subject}${letter.body}${letter.answer}`).not.toMatch(/[{}]| {2}| \.| ,|\.\./)
})

test('LET-18 a wording with a field that nobody knows is refused with the file and the field', () => {
  const whole = 'Subject:\n{what}\n\nLetter:\n{found}\n\nHow to answer:\nCall {phone}, {reference}.\n'
  const reading = (text: string) => () => readRecallWording('recall.en-US.txt', text)
  expect(reading(whole)().body).toBe('{found}')
  expect(reading(whole.replace('{found}', '{due}'))).toThrow('There is no field called "due".')
  expect(reading(whole.replace('{found}', '{found'))).toThrow(/^assets\/letter-wording\/recall\.en-US\.txt: /)
  expect(reading(whole.replace('{found}', ''))).toThrow('The letter needs its words.')
  for (const english of ['en-US', 'en-GB'] as const) {
    expect(wordingOf(english).answer).toContain('{phone}')
    expect(wordingOf(english).answer).toContain('{reference}')
  }
})

const CASES = [
  { window: US_10, facts: {}, settings: {} },
  {
    window: DIN('DL', 220, 110),
    facts: { pageSize: 'a4', windowEnvelope: 'din-5008-b', locale: 'en-GB' } as const,
    settings: { locale: 'en-GB', currency: 'GBP', pageSize: 'a4', windowEnvelope: 'din-5008-b' } as const,
  },
]

describe.each(CASES)('LET-20 in the window of $window.name', ({ window, facts, settings }) => {
  test('LET-20 the address stands whole wherever the sheet slips, nothing else shows, and the letter is one page', async () => {
    const paper = await printed({}, facts, settings)
    expect(paper.pages).toHaveLength(1)
    const [page] = paper.pages
    const texts = page?.texts ?? []
    const joined = letterOf({}, {}, settings).addressLines.join(' ').replace(/\s+/g, ' ')
    for (const right of [0, window.slipRight])
      for (const down of [0, window.slipDown]) {
        const seen = shown(texts, window, right, down).filter((text) => !text.text.startsWith('Larkmoor Water ·'))
        expect(
          seen
            .map((text) => text.text)
            .join(' ')
            .replace(/\s+/g, ' '),
        ).toBe(joined)
        expect(seen.filter((text) => !wholly(text, window, right, down))).toEqual([])
      }
    expect(wordsOn(page)).toContain('it has been changed already')
    expect(wordsOn(page)).not.toContain('The call ')
    for (const text of texts) expect(text.base).toBeLessThan((page?.height ?? 0) - 20)
  })
})

test('LET-20 what a letter was printed with is kept and read again, whatever stands in it', () => {
  const line = fc.string().map((text) => text.replace(/\s+/g, ' '))
  fc.assert(
    fc.property(
      fc.record({
        pageSize: fc.constantFrom('letter' as const, 'a4' as const),
        windowEnvelope: fc.constantFrom('us-10' as const, 'din-5008-b' as const),
        locale: fc.constantFrom('en-US', 'de-DE'),
        officeName: line,
        senderLine: line,
        particulars: fc.array(line, { maxLength: 4 }),
      }),
      (sender) => {
        expect(readRecallSender(recallSenderText(sender))).toEqual(sender)
      },
    ),
  )
})
