import { type PostalAddress, postalAddressLines } from '../customers/postal-address.ts'
import type { StageKind } from '../installations/stage-kinds.ts'
import { listed } from '../installations/stage-train-words.ts'
import type { OfficeSettings } from '../settings/office-settings.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import { longDate, weekdayAndDate } from '../units/date-words.ts'
import { formatWindow, type TimeOfDay } from '../units/time-of-day.ts'
import { addressManner } from './compose-letter.ts'
import type { LetterOffice } from './letter-facts.ts'
import type { LetterPage, SlipAnswers } from './letter-page.ts'
import { fillWording } from './letter-wording.ts'
import { capital, stageName } from './letter-words.ts'
import type { RecallField, RecallWording } from './recall-wording.ts'

/** What was recalled and why, as the letters say it. */
export interface RecallNews {
  readonly lot: string
  readonly part: string
  /** As the office wrote it down. */
  readonly why: string
  /** The supplier's reference; empty for none. */
  readonly notice: string
}

/** A home that holds some of the lot, and whom to write to about it. */
export interface RecallHousehold {
  readonly reference: string
  readonly salutation: string
  readonly address: PostalAddress
  readonly street: string
  readonly stages: readonly { readonly kind: StageKind; readonly label: string }[]
  readonly fittedOn: CalendarDate | null
  /** The booked visit that changes it. */
  readonly visit: {
    readonly on: CalendarDate
    readonly windowFrom: TimeOfDay
    readonly windowUntil: TimeOfDay
  } | null
}

/** A recall letter with every word as it is printed and kept. */
export interface RecallLetter {
  readonly reference: string
  readonly writtenOn: CalendarDate
  readonly addressLines: readonly string[]
  readonly salutation: string
  readonly subject: string
  readonly body: string
  readonly answer: string
  readonly cautions: string
}

export interface RecallTerms {
  readonly today: CalendarDate
  readonly office: LetterOffice
  readonly settings: OfficeSettings
}

/** Composes the letter to one home: what was found, that the change costs nothing, what to do meanwhile, and how to answer. */
export function composeRecallLetter(
  household: RecallHousehold,
  news: RecallNews,
  wording: RecallWording,
  { today, office, settings }: RecallTerms,
): RecallLetter {
  const name = household.address.names[0] ?? ''
  const fields: Record<RecallField, string> = {
    what: whatWasRecalled(household.stages),
    part: news.part,
    lot: news.lot,
    found: asSentence(news.why),
    notice: news.notice === '' ? '' : asSentence(`Their notice is ${news.notice}`),
    home: household.street,
    fitted: household.fittedOn === null ? '' : `, fitted on ${longDate(household.fittedOn, settings.locale)},`,
    visit: visitSentence(household, settings.locale),
    name,
    reference: household.reference,
    phone: office.phone,
    email: office.email,
    office: office.name,
    person: settings.personAtDesk,
  }
  return {
    reference: household.reference,
    writtenOn: today,
    addressLines: postalAddressLines(household.address, addressManner(settings)),
    salutation: household.salutation === '' ? `Dear ${name}` : household.salutation,
    subject: fillWording(wording.subject, fields),
    body: fillWording(wording.body, fields),
    answer: fillWording(wording.answer, fields),
    cautions: RECALL_CAUTIONS,
  }
}

/** The usual cautions, shortened; the notice and the authorities come before us. */
export const RECALL_CAUTIONS =
  'We pass on what the supplier tells us and certify nothing. That water looks and tastes as always, or that a meter shows a low figure, tells nothing about germs, lead or other harmful substances: only a certified laboratory does. Whoever feels unwell asks a doctor. If you do open the unit yourself: shut the feed and let the pressure off first, keep water away from plugs, look for leaks afterwards, and let the first tankfuls go down the drain.'

const RECALL_ANSWERS: SlipAnswers = [
  ['come on ________________', 'call me in the morning / evening'],
  ['it has been changed already', 'we have moved'],
]

/** A letter as a page: no train and no price, and a slip of its own. */
export function recallLetterPage(letter: RecallLetter): LetterPage {
  return {
    ...letter,
    currency: '',
    trains: [],
    price: null,
    slipName: letter.salutation.replace(/^(Dear|To) /, ''),
    slipAnswers: RECALL_ANSWERS,
  }
}

/** "The carbon filter", "The sediment filter and the carbon filter", "The two carbon filters". */
function whatWasRecalled(stages: RecallHousehold['stages']): string {
  const counts = new Map<string, number>()
  for (const stage of stages) counts.set(stageName(stage), (counts.get(stageName(stage)) ?? 0) + 1)
  return capital(
    listed([...counts].map(([name, count]) => (count === 1 ? name : `${name.replace(/^the /, `the ${count} `)}s`))),
  )
}

function visitSentence({ visit }: RecallHousehold, locale: string): string {
  if (visit === null) return 'We come as soon as we have agreed on a day with you.'
  const when = `${weekdayAndDate(visit.on, locale)}, ${formatWindow(visit.windowFrom, visit.windowUntil, locale)}`
  return `We have set aside ${when} for you; if that does not suit, tell us and we find another day.`
}

/** As it was typed, begun with a capital and ended with a full stop. */
function asSentence(text: string): string {
  const plain = capital(text.trim())
  return plain === '' || /[.!?]$/.test(plain) ? plain : `${plain}.`
}
