import type { StageKind } from '../installations/stage-kinds.ts'
import { listed } from '../installations/stage-train-words.ts'
import { addDays } from '../units/calendar-date.ts'
import { counted, dayAndMonth } from '../units/date-words.ts'
import { compareShares, type Share } from './look-ahead-peak.ts'
import type { LookAhead, Moves, WeekAhead } from './look-ahead-shapes.ts'
import { minutesInWords } from './planned-minutes.ts'

/** "31 h 20"; from a hundred hours on whole hours are exact enough: "1,204 h". */
export function hoursInWords(minutes: number): string {
  if (minutes === 0) return '0 h'
  return minutes < 6000 ? minutesInWords(minutes) : `${Math.round(minutes / 60).toLocaleString('en-US')} h`
}

/** "78 %". */
export function shareInWords({ minutes, hours }: Share): string {
  return `${Math.round((100 * minutes) / hours)} %`
}

/** "the week of Jan 11". */
export function weekName(ahead: LookAhead, at: number, locale: string): string {
  const monday = ahead.weeks[at]?.monday
  return monday === undefined ? '' : at === 0 ? 'this week' : `the week of ${dayAndMonth(monday, locale)}`
}

/** What a week holds, booked and planned, before anything is shifted. */
export const minutesAsPlanned = (week: WeekAhead): number => week.booked.minutes + week.planned.minutes

/** The whole year in sentences: what there is to do, what is late, how full the fullest week is and how even the year can be made. */
export function lookAheadInWords(ahead: LookAhead, locale: string): string[] {
  return [
    ...yearInWords(ahead),
    ...lateInWords(ahead, locale),
    ...peaksInWords(ahead, locale),
    ...homelessInWords(ahead, locale),
    ...adviceInWords(ahead, locale),
    ...missingInWords(ahead),
  ]
}

function yearInWords({ weeks }: LookAhead): string[] {
  const sum = (of: (week: WeekAhead) => number): number => weeks.reduce((total, week) => total + of(week), 0)
  const visits = counted(
    sum((week) => week.planned.visits),
    'visit',
  )
  const booked = sum((week) => week.booked.visits)
  const hours = `${hoursInWords(sum(minutesAsPlanned))} of ${hoursInWords(sum((week) => week.hours))} that there are`
  const andBooked = booked === 0 ? 'none' : booked.toLocaleString('en-US')
  return [`${visits} planned and ${andBooked} booked in ${weeks.length} weeks, drives included: ${hours}.`]
}

function lateInWords(ahead: LookAhead, locale: string): string[] {
  const { late, technicians, weeks } = ahead
  if (late.visits === 0) return []
  const stages = late.stages.length > 0 ? `: ${stagesInWords(late.stages)}` : ''
  const first = `${counted(late.visits, 'visit')} ${late.visits === 1 ? 'is' : 'are'} past the grace already, ${hoursInWords(late.minutes)} of work${stages}.`
  if (technicians === 0) return [first]
  const by = weeks.findIndex(({ monday }) => monday === late.caughtUpBy)
  return by < 0
    ? [first, 'The hours left over do not suffice to catch up within the year.']
    : [first, `In the hours left over, all of it can be done by the end of ${weekName(ahead, by, locale)}.`]
}

function peaksInWords(ahead: LookAhead, locale: string): string[] {
  if (ahead.technicians === 0)
    return [
      'Nobody’s hours are known: write down the technicians and their workdays in Settings, and the weeks can be compared.',
    ]
  if (ahead.peaks === null) return []
  const { least, asPlanned } = ahead.peaks
  const name = weekName(ahead, asPlanned.week, locale)
  const planned =
    asPlanned.hours === 0
      ? `As planned there are visits in ${name}, when nobody works.`
      : `As planned the fullest is ${name}: ${hoursInWords(asPlanned.minutes)} of ${hoursInWords(asPlanned.hours)}, ${shareInWords(asPlanned)}.`
  return [
    planned,
    ...evenedInWords(ahead, locale),
    ...(least.minutes > least.hours ? tooMuchInWords(ahead, locale) : []),
  ]
}

/** The bound, what is reached and the gap, said in the hours of the week that is fullest afterwards. */
function evenedInWords(ahead: LookAhead, locale: string): string[] {
  if (ahead.peaks === null) return []
  const { least, asPlanned, reached } = ahead.peaks
  const bound = (least.minutes * reached.hours) / least.hours
  if (compareShares(least, asPlanned) === 0) return ['No shifting can make the fullest week less full.']
  const below = `No shifting can bring the fullest week below ${shareInWords(least)}: ${hoursInWords(Math.floor(bound))} of ${hoursInWords(reached.hours)}.`
  const gap = Math.ceil(reached.minutes - bound)
  const week = weekName(ahead, reached.week, locale)
  const reaching =
    gap === 0
      ? 'The evened-out line reaches that exactly.'
      : `The evened-out line reaches ${hoursInWords(reached.minutes)}, in ${week}: ${hoursInWords(gap)} more, which is less than one visit.`
  return [below, reaching]
}

function tooMuchInWords({ peaks, weeks }: LookAhead, locale: string): string[] {
  const least = peaks?.least
  const monday = least && weeks[least.from]?.monday
  const until = least && weeks[least.until]?.monday
  if (!least || !monday || !until) return []
  const from = `From ${dayAndMonth(monday, locale)} to ${dayAndMonth(addDays(until, 6), locale)}`
  const missing = hoursInWords(least.minutes - least.hours)
  return [
    `${from}, ${hoursInWords(least.minutes)} of visits have nowhere else to go, and there are ${hoursInWords(least.hours)}: ${missing} are missing. More hours, a booking moved elsewhere or a longer grace would help.`,
  ]
}

function homelessInWords({ weeks }: LookAhead, locale: string): string[] {
  const found = weeks.filter((week) => week.homeless.visits > 0)
  const visits = found.reduce((sum, week) => sum + week.homeless.visits, 0)
  const [first] = found
  if (!first || weeks.every((week) => week.hours === 0)) return []
  return [
    `${counted(visits, 'visit')} can only be in weeks in which nobody works, the first in the week of ${dayAndMonth(first.monday, locale)}.`,
  ]
}

/** At most so many weeks are named, of those for which it is time to think of letters. */
const NAMED = 3
const WEEKS_OF_LETTERS = 13

function adviceInWords(ahead: LookAhead, locale: string): string[] {
  const weeks = ahead.weeks
    .map((week, at) => ({ at, ...movedEarlier(week, at) }))
    .filter(({ at, visits }) => visits > 0 && at < WEEKS_OF_LETTERS)
    .sort((a, b) => b.minutes - a.minutes || a.at - b.at)
    .slice(0, NAMED)
    .sort((a, b) => a.at - b.at)
  if (weeks.length === 0) return []
  const named = weeks.map(({ at, visits }) => `${weekName(ahead, at, locale)} (${counted(visits, 'visit')})`)
  return [`To even out, write earlier for ${listed(named)}, and fill the weeks before with them.`]
}

function missingInWords({ notPlanned, households }: LookAhead): string[] {
  if (notPlanned === 0) return []
  return [
    `${notPlanned.toLocaleString('en-US')} of ${counted(households, 'household')} ${notPlanned === 1 ? 'is' : 'are'} not planned yet and not in this picture.`,
  ]
}

function movedEarlier(week: WeekAhead, at: number): { readonly visits: number; readonly minutes: number } {
  return week.moves
    .filter((move) => move.to < at)
    .reduce((sum, move) => ({ visits: sum.visits + move.visits, minutes: sum.minutes + move.minutes }), {
      visits: 0,
      minutes: 0,
    })
}

const ONE_STAGE: Readonly<Record<StageKind, string>> = {
  sediment: 'sediment filter',
  carbon: 'carbon filter',
  membrane: 'membrane',
  tank: 'tank',
  'post-carbon': 'post carbon filter',
  remineraliser: 'mineral cartridge',
  'uv-lamp': 'ultraviolet lamp',
  softener: 'softener',
  other: 'other stage',
}

/** "52 sediment filters, 49 carbon filters and 1 membrane"; empty without any. */
export function stagesInWords(stages: WeekAhead['stages']): string {
  return listed(stages.map(({ kind, count }) => counted(count, ONE_STAGE[kind])))
}

/** One week in sentences: what it holds, what could be elsewhere, and what evening out makes of it. */
export function weekInWords(ahead: LookAhead, at: number, locale: string): string[] {
  const week = ahead.weeks[at]
  if (!week) return []
  const held = hoursInWords(minutesAsPlanned(week))
  const against = week.hours > 0 ? ` of ${hoursInWords(week.hours)}` : ahead.technicians > 0 ? ', and nobody works' : ''
  const planned = week.planned.visits === 0 ? 'No visit' : counted(week.planned.visits, 'visit')
  const booked = week.booked.visits === 0 ? 'none' : week.booked.visits.toLocaleString('en-US')
  return [
    `${planned} planned, ${booked} booked: ${held}${against}.`,
    week.stages.length > 0 ? `They see to ${stagesInWords(week.stages)}.` : '',
    week.planned.visits > 0 ? roomInWords(week) : '',
    ...movesInWords(ahead, at, locale),
  ].filter((sentence) => sentence !== '')
}

function roomInWords({ planned, earlier, later, bound }: WeekAhead): string {
  const all = hoursInWords(planned.minutes)
  if (bound.minutes === planned.minutes) return `All ${all} planned have to be in this week.`
  const tied =
    bound.minutes === 0 ? 'none has to be in this week' : `${hoursInWords(bound.minutes)} have to be in this week`
  const part = ({ minutes }: Moves): string =>
    minutes === 0 ? 'none' : minutes === planned.minutes ? 'all' : hoursInWords(minutes)
  return `Of ${all} planned, ${part(earlier)} could be earlier and ${part(later)} later; ${tied}.`
}

function movesInWords(ahead: LookAhead, at: number, locale: string): string[] {
  const week = ahead.weeks[at]
  if (!week || ahead.peaks === null) return []
  const comes = ahead.weeks.reduce(
    (sum, other) => sum + other.moves.reduce((own, move) => own + (move.to === at ? move.visits : 0), 0),
    0,
  )
  const goes = week.moves.map(({ to, visits }) => `${visits.toLocaleString('en-US')} to ${weekName(ahead, to, locale)}`)
  if (goes.length === 0 && comes === 0) return ['Evened out, it stays as it is.']
  return [
    goes.length > 0 ? `Evening out moves ${listed(goes)}.` : 'Evening out moves nothing away.',
    `${comes === 0 ? 'Nothing comes' : counted(comes, 'visit').concat(comes === 1 ? ' comes' : ' come')} from other weeks; the week then holds ${hoursInWords(week.evenedMinutes)}.`,
  ]
}
