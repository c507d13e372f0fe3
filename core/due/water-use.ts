import type { MonthsAway } from '../customers/months-away.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import { type MeasureSystem, type Millilitres, millilitres, volumeText } from '../units/measures.ts'
import type { DueDefaults, InstallationFacts, UnitReading } from './due-facts.ts'
import { numberInWords, peopleInWords } from './due-words.ts'
import { daysInUseBetween } from './months-in-use.ts'

/** How much is drunk a day where somebody is there, and how that is known. */
export interface WaterUse {
  readonly perDay: Millilitres
  /** The meter beats an entered figure, which beats the people in the house; `usual`: not even those are known. */
  readonly from: 'meter' | 'entered' | 'people' | 'usual'
  /** The two meter readings it comes from. */
  readonly metered: MeteredUse | null
}

export interface MeteredUse {
  readonly perDay: Millilitres
  readonly fromOn: CalendarDate
  readonly untilOn: CalendarDate
}

/** Two meter readings closer together than this say more about a day than about a household: our decision, no source. */
export const FEWEST_METER_DAYS = 14

/** Water drunk a day at a unit. */
export function waterUseOf(installation: InstallationFacts, defaults: DueDefaults): WaterUse {
  const metered = meteredUse(installation.readings, installation.monthsAway)
  if (metered !== null) return { perDay: metered.perDay, from: 'meter', metered }
  if (installation.drunkPerDay !== null) return { perDay: installation.drunkPerDay, from: 'entered', metered: null }
  const people = installation.people ?? defaults.settings.usualPeople
  return {
    perDay: millilitres(people * defaults.settings.dailyMillilitresPerPerson),
    from: installation.people === null ? 'usual' : 'people',
    metered: null,
  }
}

/**
 * Use a day from the last meter reading that counts and the latest one before it that lies at least fourteen days in use earlier; of
 * several on one day the highest. A meter that went back was changed: it counts from there. Null when there is no such pair, or when the
 * meter stood still.
 */
export function meteredUse(readings: readonly UnitReading[], away: MonthsAway): MeteredUse | null {
  const counts = meterCounts(readings)
  const last = counts.at(-1)
  if (!last) return null
  const before = counts.findLast(({ on }) => daysInUseBetween(on, last.on, away) >= FEWEST_METER_DAYS)
  if (!before) return null
  const perDay = Math.round((last.count - before.count) / daysInUseBetween(before.on, last.on, away))
  return perDay > 0 ? { perDay: millilitres(perDay), fromOn: before.on, untilOn: last.on } : null
}

function meterCounts(readings: readonly UnitReading[]): { readonly on: CalendarDate; readonly count: number }[] {
  const byDay = new Map<CalendarDate, number>()
  for (const { takenOn, meter, unlikely } of readings)
    if (meter !== null && !unlikely) byDay.set(takenOn, Math.max(meter, byDay.get(takenOn) ?? 0))
  if (byDay.size < 2) return []
  const counts = [...byDay].map(([on, count]) => ({ on, count })).sort((a, b) => (a.on < b.on ? -1 : 1))
  const restart = counts.findLastIndex(({ count }, at) => count < (counts[at - 1]?.count ?? 0))
  return restart < 0 ? counts : counts.slice(restart)
}

/** "1.2 gal a day by the meter", "2 gal a day as entered", "2.4 gal a day for a household of three". */
export function waterUseInWords(use: WaterUse, people: number | null, defaults: DueDefaults): string {
  const { measures, usualPeople, largeHouseholdPeople } = defaults.settings
  const amount = dailyText(use.perDay, measures)
  switch (use.from) {
    case 'meter':
      return `${amount} a day by the meter`
    case 'entered':
      return `${amount} a day as entered`
    case 'people':
      return `${amount} a day for ${withArticle(peopleInWords(people ?? 0, largeHouseholdPeople))}`
    case 'usual':
      return `${amount} a day, household size not known, taken as ${numberInWords(usualPeople)}`
  }
}

const withArticle = (words: string): string => (/^(house|family)/.test(words) ? `a ${words}` : words)

const dailyText = (volume: Millilitres, measures: MeasureSystem): string => volumeText(volume, measures)
