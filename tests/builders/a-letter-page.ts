import { composeLetter, frozenLetter } from '../../core/letters/compose-letter.ts'
import { exampleHousehold } from '../../core/letters/example-household.ts'
import type { LetterHousehold } from '../../core/letters/letter-facts.ts'
import type { LetterKind } from '../../core/letters/letter-kinds.ts'
import { type LetterRunFacts, letterPage, type PricedLetterPage } from '../../core/letters/letter-page.ts'
import { ourWordings } from '../../core/letters/our-wordings-answers.ts'
import { DEFAULT_SETTINGS, type OfficeSettings } from '../../core/settings/office-settings.ts'
import { addDays, calendarDate } from '../../core/units/calendar-date.ts'

const today = calendarDate('2026-11-05')
const office = { name: 'Larkmoor Water', phone: '555-0100', email: 'office@larkmoor.example.com' }

/** A letter of the example household, as it is printed; `settings` and parts of the household may differ. */
export function aLetterPage(
  settings: Partial<OfficeSettings> = {},
  changes: Partial<LetterHousehold> = {},
  kind: LetterKind = 'first',
): PricedLetterPage {
  const whole = { ...DEFAULT_SETTINGS, ...settings }
  const household = { ...exampleHousehold(today), ...changes }
  const letter = composeLetter(kind, household, addDays(today, 28), ourWordings(whole.locale)[kind], {
    today,
    office,
    settings: whole,
  })
  return letterPage(frozenLetter(letter, today))
}

export function someRunFacts(changes: Partial<LetterRunFacts> = {}): LetterRunFacts {
  return {
    title: 'Letters of November 5',
    officeName: 'Larkmoor Water',
    particulars: ['4 Sluice Yard, Tollard Mill', '555-0100', 'office@larkmoor.example.com'],
    senderLine: 'Larkmoor Water · 4 Sluice Yard · 00142 Tollard Mill',
    locale: 'en-US',
    pageSize: 'letter',
    windowEnvelope: 'us-10',
    printedOn: today,
    madeAt: '2026-11-05T10:00:00.000Z',
    ...changes,
  }
}
