import { monthsInWords, numberInWords } from '../due/due-words.ts'
import { STAGE_KIND_WORDS, type StageKind } from '../installations/stage-kinds.ts'
import { listed } from '../installations/stage-train-words.ts'
import { type CalendarDate, daysBetween, partsOf } from '../units/calendar-date.ts'
import { mannerOf, monthName } from '../units/date-words.ts'
import type { LetterStage } from './letter-facts.ts'

const FILTERS: readonly StageKind[] = ['sediment', 'carbon', 'post-carbon']
export const isFilter = ({ kind }: { kind: StageKind }): boolean => FILTERS.includes(kind)

/** "early December", "mid December", "late December"; with the year when it is far off or long gone. */
export function partOfMonth(date: CalendarDate, today: CalendarDate): string {
  const { year, month, day } = partsOf(date)
  const part = day <= 10 ? 'early' : day <= 20 ? 'mid' : 'late'
  return `${part} ${monthName(month)}${needsYear(date, today) ? ` ${year}` : ''}`
}

/** "December", with the year when it is not plain: "December 2028". */
export function monthInWords(date: CalendarDate, today: CalendarDate): string {
  const { year, month } = partsOf(date)
  return partsOf(today).year === year ? monthName(month) : `${monthName(month)} ${year}`
}

function needsYear(date: CalendarDate, today: CalendarDate): boolean {
  return partsOf(date).year !== partsOf(today).year && Math.abs(daysBetween(today, date)) > 180
}

/** "a year", "two years", "six months", "a month", "18 months". */
export function monthsSpan(months: number): string {
  if (months === 12) return 'a year'
  if (months > 12 && months % 12 === 0) return `${numberInWords(months / 12)} years`
  return months === 1 ? 'a month' : monthsInWords(months).replace(/^\d+/, (count) => numberInWords(Number(count)))
}

/** A stage in the middle of a homeowner's sentence: "the sediment filter"; one with a name of its own by it. */
export function stageName(stage: { kind: StageKind; label: string }): string {
  const { homeowner, name } = STAGE_KIND_WORDS[stage.kind]
  return stage.kind === 'other' && stage.label !== '' && stage.label !== name
    ? `the ${stage.label.toLowerCase()}`
    : homeowner
}

/** "the filters" when they are all of several, else each by its name, equal ones counted: "the two carbon filters". */
export function stagesNamed(stages: readonly LetterStage[], among: readonly LetterStage[]): string {
  const filters = stages.filter(isFilter)
  const allFilters = filters.length > 1 && filters.length === among.filter(isFilter).length
  const rest = allFilters ? stages.filter((stage) => !isFilter(stage)) : stages
  return listed([...(allFilters ? ['the filters'] : []), ...countedNames(rest)])
}

function countedNames(stages: readonly LetterStage[]): string[] {
  const names = new Map<string, number>()
  for (const stage of stages) names.set(stageName(stage), (names.get(stageName(stage)) ?? 0) + 1)
  return [...names].map(([name, count]) =>
    count === 1 ? name : `${name.replace(/^the /, `the ${numberInWords(count)} `)}s`,
  )
}

/** "Three filters", "The membrane", "Two filters, the membrane and the tank". */
function whatIsDue(stages: readonly LetterStage[]): string {
  const filters = stages.filter(isFilter)
  const others = countedNames(stages.filter((stage) => !isFilter(stage)))
  const ownNames =
    filters.length === 1
      ? countedNames(filters)
      : filters.length > 1
        ? [`${numberInWords(filters.length)} filters`]
        : []
  return capital(listed([...ownNames, ...others]))
}

/**
 * The subject of a letter: "Three filters of your drinking-water unit are due in early December"; "The tank of your drinking-water
 * unit is due to be sanitised in early December"; of a date that is past, "were due".
 */
export function dueClause(stages: readonly LetterStage[], dueOn: CalendarDate, today: CalendarDate): string {
  const units = new Set(stages.map((stage) => stage.installationId)).size
  const ofWhat = units > 1 ? `your ${numberInWords(units)} drinking-water units` : 'your drinking-water unit'
  const onlyTanks = stages.every((stage) => STAGE_KIND_WORDS[stage.kind].care === 'sanitise')
  const past = dueOn < today
  const verb = stages.length === 1 ? (past ? 'was' : 'is') : past ? 'were' : 'are'
  return `${whatIsDue(stages)} of ${ofWhat} ${verb} due${onlyTanks ? ' to be sanitised' : ''} in ${partOfMonth(dueOn, today)}`
}

/** "December 2, 3 and 9", "30 November and 2 December": days in a sentence, month by month; the month stays with its day. */
export function daysListed(days: readonly CalendarDate[], locale: string): string {
  const months = new Map<number, number[]>()
  for (const day of days) {
    const parts = partsOf(day)
    months.set(parts.month, [...(months.get(parts.month) ?? []), parts.day])
  }
  const each = [...months].map(([month, numbers]) => {
    const list = listed(numbers.map(String))
    return mannerOf(locale) === 'en-US' ? `${monthName(month)}\u00a0${list}` : `${list}\u00a0${monthName(month)}`
  })
  return listed(each)
}

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

/** "The unit at 7 Millrace Court", or by its own name: over the train, where a letter speaks of several. */
export const unitHeading = (name: string, street: string): string =>
  name === '' ? `The unit at ${street}` : `${name}, ${street}`
