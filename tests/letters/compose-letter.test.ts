import { expect, test } from 'vitest'
import { composeLetter, frozenLetter } from '../../core/letters/compose-letter.ts'
import { exampleHousehold } from '../../core/letters/example-household.ts'
import type { LetterHousehold, LetterStage } from '../../core/letters/letter-facts.ts'
import { LETTER_KINDS } from '../../core/letters/letter-kinds.ts'
import { letterPage } from '../../core/letters/letter-page.ts'
import { checkWording, fillWording, LETTER_FIELD_NAMES } from '../../core/letters/letter-wording.ts'
import { daysListed, dueClause, monthsSpan, partOfMonth } from '../../core/letters/letter-words.ts'
import { ourWordings } from '../../core/letters/our-wordings-answers.ts'
import { shortCautions } from '../../core/letters/short-cautions.ts'
import { stillGood, whyDue } from '../../core/letters/why-due.ts'
import { DEFAULT_SETTINGS } from '../../core/settings/office-settings.ts'
import { addDays, calendarDate } from '../../core/units/calendar-date.ts'
import { siteIdSchema } from '../../core/units/ids.ts'
import { cents, taxRate } from '../../core/units/money.ts'

const OURS = ourWordings('en-US')
const today = calendarDate('2026-11-05')
const dueOn = addDays(today, 28)
const office = { name: 'Larkmoor Water', phone: '555-0100', email: 'office@larkmoor.example.com' }
const terms = { today, office, settings: DEFAULT_SETTINGS }
const household = exampleHousehold(today)
const compose = (changes: Partial<LetterHousehold> = {}, settings = DEFAULT_SETTINGS) =>
  composeLetter('first', { ...household, ...changes }, dueOn, OURS.first, { ...terms, settings })

function siteWith(change: (stage: LetterStage) => LetterStage) {
  const [site] = household.sites
  if (!site) throw new Error('the example has a place')
  return { ...site, stages: site.stages.map(change) }
}

test('LET-7 the subject says what is due and when, in the homeowner’s words', () => {
  expect(compose().subject).toBe('Three filters of your drinking-water unit are due in early December')
  const [site] = household.sites
  const stages = site?.stages ?? []
  const only = (kind: string) => stages.filter((stage) => stage.kind === kind)
  expect(dueClause(only('membrane'), dueOn, today)).toBe(
    'The membrane of your drinking-water unit is due in early December',
  )
  expect(dueClause(only('tank'), dueOn, today)).toBe(
    'The tank of your drinking-water unit is due to be sanitised in early December',
  )
  expect(dueClause([...only('carbon'), ...only('membrane')], calendarDate('2026-10-12'), today)).toBe(
    'The carbon filter and the membrane of your drinking-water unit were due in mid October',
  )
})

test('LET-7 why says how long it has been, for how many people, and what happens after', () => {
  expect(compose().body).toContain(
    'In early December it is a year since we last changed the filters. For two people a year is what they are good for; after that they let through more of the chlorine taste, and the membrane behind them has to work harder.',
  )
  expect(compose().body).toContain('The membrane itself is good until April 2028.')
})

test('LET-7 every rule has its own words', () => {
  const [site] = household.sites
  if (!site) throw new Error('the example has a place')
  const say = (kind: string, change: Partial<LetterStage>) => {
    const due = site.stages.filter((stage) => stage.kind === kind).map((stage) => ({ ...stage, ...change }))
    return whyDue(
      due,
      { ...site, stages: site.stages.map((stage) => due.find((one) => one.stageId === stage.stageId) ?? stage) },
      { today, measures: 'us' },
    )
  }
  expect(say('tank', { dueRule: 'sanitise', dueOn })).toContain('The tank is sanitised')
  expect(say('tank', { dueRule: 'with-membrane', dueOn })).toContain('when the membrane is changed')
  expect(say('membrane', { dueRule: 'feed-water' })).toContain('in hard water like yours')
  expect(say('carbon', { dueRule: 'own-date' })).toContain('We made a note to see to the carbon filter')
  expect(say('carbon', { changedOn: null })).toContain('We do not know when')
  expect(say('carbon', { monthsSet: true })).toContain('A year is the time set for it')
  expect(say('membrane', { dueRule: 'measurement', dueReason: 'holds back 72 of 100, time to replace it at 75' })).toBe(
    'When it was last measured, the membrane held back 72 of 100 parts of what is dissolved in your water. A good one holds back many more.',
  )
  expect(
    say('membrane', { dueRule: 'measurement', dueReason: 'holds back 80 of 100, reaches 75 around Apr 30, 2027' }),
  ).toContain('by all its readings it will soon be too few')
  expect(
    say('membrane', { dueRule: 'measurement', dueReason: 'still holds back 92 of 100; measure again by then' }),
  ).toContain('It is time to measure again')
  expect(say('carbon', { dueRule: 'recall', dueReason: 'lot K-77 was recalled' })).toBe(
    'The carbon filter comes from a batch that was recalled, and should be changed soon.',
  )
  expect(say('carbon', { dueReason: '6 months in use, away June to August, family of six' })).toContain(
    'We count only the months in which you are there: after six months of use it is at the end',
  )
  expect(stillGood(site, site.stages, today)).toBe('')
})

test('LET-7 spans and months are said as people say them', () => {
  expect([1, 6, 12, 18, 24].map(monthsSpan)).toEqual(['a month', 'six months', 'a year', '18 months', 'two years'])
  expect(
    ['2026-12-10', '2026-12-11', '2026-12-21', '2028-01-02'].map((day) => partOfMonth(calendarDate(day), today)),
  ).toEqual(['early December', 'mid December', 'late December', 'early January 2028'])
  const days = [calendarDate('2026-11-30'), calendarDate('2026-12-02'), calendarDate('2026-12-09')]
  expect(daysListed(days, 'en-US')).toBe('November\u00a030 and December\u00a02 and 9')
  expect(daysListed(days, 'en-GB')).toBe('30\u00a0November and 2 and 9\u00a0December')
})

test('LET-8 parts, call and tax are whole cents, tax once on the sum, rounded half away from zero', () => {
  // By hand: 21.00 + 32.40 + 33.00 = 86.40; with the call of 64.00, 150.40; 5.6 % of it is 8.4224, so 8.42.
  expect(compose().price).toEqual({
    partsCents: 8640,
    callCents: 6400,
    netCents: 15040,
    taxCents: 842,
    totalCents: 15882,
  })
  // 8.875 % of 150.40 is 13.348, so 13.35
  expect(compose({}, { ...DEFAULT_SETTINGS, taxRate: taxRate(8875) }).price.taxCents).toBe(1335)
  expect(compose({ taxExempt: true }).price.totalCents).toBe(15040)
})

test('LET-8 two places are two calls', () => {
  const [site] = household.sites
  if (!site) throw new Error('the example has a place')
  const second = { ...site, siteId: siteIdSchema.parse(2), street: '9 Weirside Lane' }
  const both = compose({ sites: [site, second] })
  expect(both.price.callCents).toBe(12_800)
  expect(both.body).toContain('9 Weirside Lane, Tollard Mill: ')
})

test('LET-8 a part without a price is told on the phone, not given away', () => {
  const sites = [siteWith((stage) => (stage.kind === 'carbon' ? { ...stage, priceCents: null } : stage))]
  const { price } = letterPage(frozenLetter(compose({ sites }), today))
  expect(price.unpriced).toBe('Carbon filter')
  expect(price.parts).toBe('Sediment filter, polishing filter')
  expect(price.partsCents).toBe(cents(5400))
})

test('LET-9 every default wording is made of known fields and leaves no gap where one is empty', () => {
  for (const kind of LETTER_KINDS) expect(checkWording(OURS[kind])).toEqual({ ok: true, value: undefined })
  const empty = Object.fromEntries(LETTER_FIELD_NAMES.map((name) => [name, ''])) as Parameters<typeof fillWording>[1]
  expect(fillWording('Call {phone} . {days}\n\n{good}\n\nBye', { ...empty, phone: '555-0100' })).toBe(
    'Call 555-0100.\n\nBye',
  )
  const unknown = checkWording({ ...OURS.first, body: 'Dear {nmae}' })
  expect(unknown.ok ? '' : unknown.problem.sentence).toBe('There is no field called "nmae".')
  expect(checkWording({ ...OURS.first, body: 'Dear {name' }).ok).toBe(false)
  expect(checkWording({ ...OURS.first, body: 'Dear {constructor}' }).ok).toBe(false)
})

test('LET-7 the cautions speak of pressure, the first tankfuls, germs, the code, and of sanitiser when it is used', () => {
  const plain = shortCautions([{ kind: 'carbon' }])
  for (const word of ['pressure', 'first tankfuls', 'germs', 'plumbing code']) expect(plain).toContain(word)
  expect(plain).not.toContain('gloves')
  expect(shortCautions([{ kind: 'tank' }])).toContain('gloves')
})
