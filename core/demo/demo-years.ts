import { dueDatesOf } from '../due/due-dates.ts'
import type { DueDefaults, InstallationFacts } from '../due/due-facts.ts'
import { type DayNumber, dateOfDayNumber, dayNumberOf, weekdayOf } from '../units/calendar-date.ts'
import { stageIdSchema } from '../units/ids.ts'
import { gallonsToMillilitres, hardness } from '../units/measures.ts'
import type { Chance } from './chance.ts'
import { type DemoCalendar, MINUTES_A_VISIT, nextWorkday } from './demo-calendar.ts'
import { demoReading } from './demo-readings.ts'
import type { DemoFitting, DemoHousehold, DemoLetter, DemoVisit } from './demo-records.ts'
import { SCENARIO } from './scenario.ts'

/** How a household answers its letters: days from the due date to the visit. */
interface Temper {
  readonly weight: number
  readonly least: number
  readonly most: number
}
const TEMPERS: readonly Temper[] = [
  { weight: 55, least: -12, most: 9 },
  { weight: 33, least: -2, most: 24 },
  { weight: 12, least: 12, most: 58 },
]
/** Letters lay on the desk for these last days: the office has some to write. */
const DESK_FULL_DAYS = 9
const BOOKED_AHEAD = 16
/** What a visit sees to while it is there; a letter speaks of less. */
const SEEN_TO_WITHIN = 100
const WRITTEN_OF_WITHIN = 45

interface Due {
  readonly stage: number
  readonly day: DayNumber
  readonly reason: string
  readonly rule: string
}

/** What the years brought to one household: letters and visits in the order they happened, up to today and a little beyond. */
export interface HouseholdYears {
  readonly visits: DemoVisit[]
  readonly letters: DemoLetter[]
}

export interface YearsAround {
  readonly chance: Chance
  readonly calendar: DemoCalendar
  readonly defaults: DueDefaults
  readonly today: DayNumber
}

export function yearsOf(place: number, household: DemoHousehold, around: YearsAround): HouseholdYears {
  const { chance, today } = around
  const temper = chance.pickWeighted(TEMPERS, (kind) => kind.weight)
  const changedOn = household.stages.map(() => household.since)
  const years: HouseholdYears = { visits: [], letters: [] }
  const until = household.movedOn ?? today
  for (let visitNumber = 0; visitNumber < 40; visitNumber += 1) {
    const dues = duesOf(household, changedOn, around.defaults)
    const first = dues[0]
    if (!first || first.day > until + 70) break
    const wished = first.day + chance.between(temper.least, temper.most)
    const visitOn = findDay(household, Math.max(wished, (years.visits.at(-1)?.on ?? 0) + 20), around)
    const bookedOn = Math.min(visitOn - chance.between(3, 14), Math.max(first.day - 20, visitOn - BOOKED_AHEAD))
    const isHistory = visitOn < today
    const isBooked = !isHistory && bookedOn < today && visitOn <= today + BOOKED_AHEAD
    writeLetters(place, household, dues, changedOn, isHistory || isBooked ? bookedOn : today, around, years)
    if (household.movedOn !== null && visitOn >= household.movedOn) break
    if (!isHistory && !isBooked) break
    const chosen = dues.filter((due) => due.day <= visitOn + SEEN_TO_WITHIN)
    const done = isHistory ? record(place, household, visitOn, bookedOn, chosen, changedOn, around, years) : false
    if (isBooked) years.visits.push(aVisit(place, household, visitOn, bookedOn, chosen, 'booked', around))
    if (!isHistory) break
    if (done) for (const due of chosen) changedOn[due.stage] = visitOn
  }
  return years
}

/** Due dates by the office's own rules, earliest first. */
function duesOf(household: DemoHousehold, changedOn: readonly DayNumber[], defaults: DueDefaults): Due[] {
  const facts: InstallationFacts = {
    people: household.people,
    hardness: hardness(household.hardness),
    fittedOn: dateOfDayNumber(household.since),
    ownMonths: null,
    recoveryPercent: null,
    drunkPerDay: null,
    monthsAway: [],
    readings: [],
    stages: household.stages.map((stage, index) => {
      const gallons = stage.part === null ? 0 : (SCENARIO.parts[stage.part]?.ratedGallons ?? 0)
      return {
        stageId: stageIdSchema.parse(index + 1),
        kind: stage.kind,
        changedOn: dateOfDayNumber(changedOn[index] ?? household.since),
        ownMonths: null,
        ratedMillilitres: gallons > 0 ? gallonsToMillilitres(gallons) : null,
        ownDueOn: null,
        ownDueNote: '',
        recall: null,
      }
    }),
  }
  return dueDatesOf(facts, defaults)
    .flatMap((due, stage) =>
      due.dueOn ? [{ stage, day: dayNumberOf(due.dueOn), reason: due.reason, rule: due.rule }] : [],
    )
    .sort((a, b) => a.day - b.day || a.stage - b.stage)
}

function findDay(household: DemoHousehold, earliest: DayNumber, { calendar, today }: YearsAround): DayNumber {
  const town = SCENARIO.towns[household.town]
  const weekday = household.town + 1
  const nearFuture = earliest >= today && earliest <= today + 6
  if (nearFuture)
    return calendar.find(town?.technician ?? 0, weekdayOf(dateOfDayNumber(nextWorkday(today))), nextWorkday(today), 0)
  return calendar.find(town?.technician ?? 0, weekday, earliest, 6)
}

/** Runs go out on Mondays: the first a month before, the second after two weeks of silence, the final after six. */
function writeLetters(
  place: number,
  household: DemoHousehold,
  dues: readonly Due[],
  changedOn: readonly DayNumber[],
  answeredOn: DayNumber,
  { today }: YearsAround,
  years: HouseholdYears,
): void {
  const first = dues[0]
  if (!first || household.noMail) return
  const gone = household.movedOn ?? today
  const stages = household.stages.map((_, stage) => {
    const due = dues.find((candidate) => candidate.stage === stage)
    const dueOn = due?.day ?? first.day + 365
    return {
      stage,
      dueOn,
      due: dueOn <= first.day + WRITTEN_OF_WITHIN,
      reason: due?.reason ?? '',
      rule: due?.rule ?? '',
      changedOn: changedOn[stage] ?? household.since,
    }
  })
  const run = mondayOnOrAfter(first.day - 30)
  for (const [kind, on] of [
    ['first', run],
    ['second', mondayOnOrAfter(run + 14)],
    ['final', mondayOnOrAfter(run + 42)],
  ] as const) {
    if (on >= answeredOn || on > today - DESK_FULL_DAYS || on >= gone || on <= household.since) return
    years.letters.push({ household: place, kind, writtenOn: on, dueOn: first.day, stages })
  }
}

function mondayOnOrAfter(day: DayNumber): DayNumber {
  let monday = day
  while (weekdayOf(dateOfDayNumber(monday)) !== 1) monday += 1
  return monday
}

/** A past visit: mostly done, sometimes in vain. True when the stages were changed. */
function record(
  place: number,
  household: DemoHousehold,
  on: DayNumber,
  bookedOn: DayNumber,
  chosen: readonly Due[],
  changedOn: readonly DayNumber[],
  around: YearsAround,
  years: HouseholdYears,
): boolean {
  const inVain = around.chance.happens(0.02)
  const visit = aVisit(place, household, on, bookedOn, chosen, inVain ? 'could-not' : 'done', around)
  const reading = inVain ? null : demoReading(around.chance, household, changedOn, on)
  years.visits.push({ ...visit, reading, reason: inVain ? around.chance.pick(SCENARIO.couldNot) : '' })
  return !inVain
}

function aVisit(
  household: number,
  record: DemoHousehold,
  on: DayNumber,
  bookedOn: DayNumber,
  chosen: readonly Due[],
  outcome: DemoVisit['outcome'],
  { chance, calendar }: YearsAround,
): DemoVisit {
  const technician = SCENARIO.towns[record.town]?.technician ?? 0
  const windowFrom = 8 * 60 + calendar.take(technician, on) * MINUTES_A_VISIT
  const fittings: DemoFitting[] = chosen.map((due) => ({
    stage: due.stage,
    part: record.stages[due.stage]?.part ?? null,
    lot: null,
  }))
  const consumables = SCENARIO.parts.flatMap((part, index) =>
    part.perVisit > 0 ? [{ stage: -1, part: index, lot: null }] : [],
  )
  const minutes = fittings.reduce(
    (sum, fitting) => sum + (fitting.part === null ? 25 : (SCENARIO.parts[fitting.part]?.minutes ?? 8)),
    20,
  )
  return {
    household,
    technician,
    on,
    windowFrom,
    windowUntil: Math.min(windowFrom + 120, 17 * 60),
    minutes,
    bookedOn,
    outcome,
    reason: '',
    fittings,
    consumables,
    reading: null,
    remarks: chance.happens(0.08)
      ? chance.pick([
          'housing O-ring renewed',
          'tap dripped a little, tightened',
          'cupboard floor was damp, dried, no leak found',
          'household asks for a call before the next visit',
        ])
      : '',
    promised: chance.happens(0.1),
  }
}
