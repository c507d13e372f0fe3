import { monthsAwayInWords, readMonthsAway } from '../customers/months-away.ts'
import { partsOf } from '../units/calendar-date.ts'
import { longDate, monthName, weekdayAndDate } from '../units/date-words.ts'
import { hardnessText, type MeasureSystem, tdsText } from '../units/measures.ts'
import { hardnessClassOf } from '../water/hardness-classes.ts'
import type { HouseholdSheet } from './due-contract.ts'
import { peopleInWords } from './due-words.ts'

interface Manner {
  readonly measures: MeasureSystem
  readonly largeHouseholdPeople: number
}

/** Where they live, how they are reached, how many they are and what water they have: a line of particulars each. */
export function householdParticulars(
  { customer, site }: Pick<HouseholdSheet, 'customer' | 'site'>,
  { measures, largeHouseholdPeople }: Manner,
): string[] {
  const away = monthsAwayInWords(readMonthsAway(site.monthsAway))
  const lines = [
    [site.line1, site.line2, site.town].filter((part) => part !== '').join(', '),
    [customer.phone, customer.phoneNote].filter((part) => part !== '').join(', '),
    customer.email,
    site.people === null ? 'household size not known' : peopleInWords(site.people, largeHouseholdPeople),
    away === '' ? '' : `away ${away}`,
    site.hardness === null
      ? 'hardness not known'
      : `feed ${hardnessText(site.hardness, measures)}, ${hardnessClassOf(site.hardness)}`,
    site.feedTds === null ? '' : `${tdsText(site.feedTds)} dissolved`,
  ]
  return lines.filter((line) => line !== '')
}

/** What one has to know before anything else: closed, moved, no mail, booked. A sentence each; mostly none. */
export function householdStanding(
  household: Pick<HouseholdSheet, 'closedOn' | 'movedOn' | 'bookedOn' | 'customer'>,
  locale: string,
): string[] {
  const { closedOn, movedOn, bookedOn, customer } = household
  return [
    closedOn === null ? '' : `This household is closed since ${longDate(closedOn, locale)}.`,
    movedOn === null ? '' : `They moved away on ${longDate(movedOn, locale)}; no letter goes there.`,
    customer.noMail ? 'They asked for no mail.' : '',
    bookedOn === null ? '' : `A visit is booked for ${weekdayAndDate(bookedOn, locale)}.`,
  ].filter((sentence) => sentence !== '')
}

/** "The unit under the kitchen sink, since May 2021". */
export function unitTitle({ name, fittedOn }: HouseholdSheet['units'][number]['fields']): string {
  const title = `${name.charAt(0).toUpperCase()}${name.slice(1)}`
  if (fittedOn === null) return title
  const { month, year } = partsOf(fittedOn)
  return `${title}, since ${monthName(month).slice(0, 3)} ${year}`
}
