import type { AddressManner } from '../customers/postal-address.ts'
import { postalAddressLines } from '../customers/postal-address.ts'
import { STAGE_KIND_WORDS } from '../installations/stage-kinds.ts'
import type { OfficeSettings } from '../settings/office-settings.ts'
import { addDays, type CalendarDate, laterOf } from '../units/calendar-date.ts'
import { longDate } from '../units/date-words.ts'
import { addCents, type Cents, cents, formatCents, NO_MONEY } from '../units/money.ts'
import { expectedPrice } from '../visits/expected-price.ts'
import { plannedMinutes } from '../visits/planned-minutes.ts'
import { proposeTasks } from '../visits/propose-tasks.ts'
import type { LetterHousehold, LetterOffice, LetterSite, LetterStage } from './letter-facts.ts'
import type { LetterKind } from './letter-kinds.ts'
import type { FrozenLetter } from './letter-page.ts'
import { fillWording, type LetterField, type LetterWording } from './letter-wording.ts'
import { daysListed, dueClause } from './letter-words.ts'
import { shortCautions } from './short-cautions.ts'
import { stillGood, whyDue } from './why-due.ts'

export interface LetterPrice {
  /** Parts, in the order of the stages, the calls with the work, tax on what is taxed. */
  readonly partsCents: Cents
  readonly callCents: Cents
  readonly netCents: Cents
  readonly taxCents: Cents
  readonly totalCents: Cents
}

/** A letter as it is written down and printed: nothing of it is looked up again. */
export interface ComposedLetter {
  readonly kind: LetterKind
  readonly household: LetterHousehold
  readonly dueOn: CalendarDate
  readonly addressLines: readonly string[]
  readonly subject: string
  readonly body: string
  readonly answer: string
  readonly cautions: string
  readonly currency: string
  readonly price: LetterPrice
  /** All stages of the places it speaks of; `due` are the ones it is about. */
  readonly stages: readonly { readonly stage: LetterStage; readonly due: boolean }[]
}

export interface LetterTerms {
  readonly today: CalendarDate
  readonly office: LetterOffice
  readonly settings: OfficeSettings
}

/** Composes a letter: what is due within the grace of the earliest date (or of today, when that is past), why, and what it costs. */
export function composeLetter(
  kind: LetterKind,
  household: LetterHousehold,
  dueOn: CalendarDate,
  wording: LetterWording,
  terms: LetterTerms,
): ComposedLetter {
  const { settings, today } = terms
  const own = household.sites.map((site) => ({ ...site, stages: site.stages.filter((stage) => !stage.recalled) }))
  const parts = own.map((site) => ({ site, due: dueStages(site, laterOf(dueOn, today), settings) }))
  const sites = parts.filter(({ due }) => due.length > 0)
  const due = sites.flatMap((part) => part.due)
  const price = priceOf(sites, household, settings)
  const fields = fieldsOf(sites, household, dueOn, price, terms)
  return {
    kind,
    household,
    dueOn,
    addressLines: postalAddressLines(household.address, addressManner(settings)),
    subject: fillWording(wording.subject, fields),
    body: fillWording(wording.body, fields),
    answer: fillWording(wording.answer, fields),
    cautions: shortCautions(due),
    currency: settings.currency,
    price,
    stages: sites.flatMap(({ site, due: chosen }) =>
      site.stages.map((stage) => ({ stage, due: chosen.includes(stage) })),
    ),
  }
}

export const addressManner = ({ locale }: Pick<OfficeSettings, 'locale'>): AddressManner =>
  locale === 'en-US' ? 'usps' : 'din-5008'

interface DueAtSite {
  readonly site: LetterSite
  readonly due: readonly LetterStage[]
}

function dueStages(site: LetterSite, visitOn: CalendarDate, { graceDays, locale }: OfficeSettings): LetterStage[] {
  const asked = site.stages.map((stage) => ({ ...stage, reason: stage.dueReason }))
  const proposals = proposeTasks(asked, { visitOn, graceDays, locale })
  return site.stages.filter((_, index) => proposals[index]?.proposed)
}

function fieldsOf(
  sites: readonly DueAtSite[],
  household: LetterHousehold,
  dueOn: CalendarDate,
  price: LetterPrice,
  { today, office, settings }: LetterTerms,
): Record<LetterField, string> {
  const { locale, currency, measures } = settings
  const several = sites.length > 1
  const why = sites.map(
    ({ site, due }) => `${several ? `${site.street}, ${site.town}: ` : ''}${whyDue(due, site, { today, measures })}`,
  )
  const good = sites.map(({ site, due }) => stillGood(site, due, today)).filter((words) => words !== '')
  return {
    due: dueClause(
      sites.flatMap(({ due }) => due),
      dueOn,
      today,
    ),
    why: why.join('\n'),
    good: several ? '' : good.join(' '),
    name: household.address.names[0] ?? '',
    reference: household.reference,
    before: longDate(household.writtenBefore ?? addDays(today, -1), locale),
    days: daysInTown(sites, locale),
    minutes: `about ${roundMinutes(minutesOf(sites, settings))}\u00a0minutes`,
    price: formatCents(price.totalCents, currency, locale),
    phone: office.phone,
    email: office.email,
    office: office.name,
    person: settings.personAtDesk,
  }
}

function daysInTown(sites: readonly DueAtSite[], locale: string): string {
  const [first] = sites
  if (sites.length !== 1 || !first || first.site.daysInTown.length === 0) return ''
  return `We are in ${first.site.town} on ${daysListed(first.site.daysInTown.slice(0, 4), locale)}.`
}

const roundMinutes = (minutes: number): number => Math.max(10, Math.round(minutes / 5) * 5)

function tasksOf(due: readonly LetterStage[]) {
  return due.map((stage) => ({
    kind: STAGE_KIND_WORDS[stage.kind].care,
    fitMinutes: stage.fitMinutes,
    ownMinutes: 0,
  }))
}

function minutesOf(sites: readonly DueAtSite[], settings: OfficeSettings): number {
  return sites.reduce((sum, { due }) => sum + plannedMinutes(tasksOf(due), settings), 0)
}

/** As on the phone: the parts of what is changed, labour and the call, a call for each place; tax once on the sum. */
function priceOf(sites: readonly DueAtSite[], household: LetterHousehold, settings: OfficeSettings): LetterPrice {
  const parts = sites
    .flatMap(({ due }) => due)
    .filter((stage) => STAGE_KIND_WORDS[stage.kind].care === 'change')
    .map((stage) => ({
      name: stage.partName,
      priceCents: stage.priceCents ?? NO_MONEY,
      taxFree: stage.taxFree,
      quantity: 1,
    }))
  const price = expectedPrice(parts, minutesOf(sites, settings), {
    callOutCents: cents(settings.callOutCents * sites.length),
    labourCentsPerHour: settings.labourCentsPerHour,
    taxRate: settings.taxRate,
    taxExempt: household.taxExempt,
  })
  const partsCents = addCents(...parts.map((part) => part.priceCents))
  return {
    partsCents,
    callCents: cents(price.netCents - partsCents),
    netCents: price.netCents,
    taxCents: price.taxCents,
    totalCents: price.grossCents,
  }
}

/** The composed letter as it will stand in the books. */
export function frozenLetter(letter: ComposedLetter, writtenOn: CalendarDate): FrozenLetter {
  const { household, addressLines, subject, body, answer, cautions, currency, price } = letter
  const { reference, salutation } = household
  const { netCents, taxCents, totalCents } = price
  return {
    ...{
      reference,
      salutation,
      writtenOn,
      addressLines,
      subject,
      body,
      answer,
      cautions,
      currency,
      netCents,
      taxCents,
      totalCents,
    },
    stages: letter.stages.map(({ stage, due }) => ({
      stageId: stage.stageId,
      kind: stage.kind,
      label: stage.label,
      dueOn: stage.dueOn,
      lifeLeft: stage.lifeLeft,
      daysLate: stage.daysLate,
      reason: stage.dueReason,
      installationId: stage.installationId,
      unit: stage.unit,
      due,
      priceCents: due && STAGE_KIND_WORDS[stage.kind].care === 'change' ? (stage.priceCents ?? NO_MONEY) : NO_MONEY,
    })),
  }
}
