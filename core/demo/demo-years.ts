import type { DueDefaults } from '../due/due-facts.ts'
import { type DayNumber, dateOfDayNumber, weekdayOf } from '../units/calendar-date.ts'
import { tds } from '../units/measures.ts'
import { NOTHING_MEASURED } from '../water/figures.ts'
import { judgeReading } from '../water/judge-reading.ts'
import type { Chance } from './chance.ts'
import { type DemoCalendar, MINUTES_A_VISIT, nextWorkday } from './demo-calendar.ts'
import { type DemoDue, type DemoUnitReading, demoDues, unitReading } from './demo-dues.ts'
import type {
  DemoFitting,
  DemoHousehold,
  DemoLetter,
  DemoReading,
  DemoReadingAlone,
  DemoVisit,
} from './demo-records.ts'
import { type DemoWater, demoReading, demoWater, membraneAt } from './demo-water.ts'
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
/** Share of the units that the office fitted itself, and measured. */
const MEASURED_WHEN_FITTED = 0.8

/** What the years brought to one household: letters and visits in the order they happened, up to today and a little beyond. */
export interface HouseholdYears {
  readonly visits: DemoVisit[]
  readonly readings: DemoReadingAlone[]
  readonly letters: DemoLetter[]
}

export interface YearsAround {
  readonly seed: number
  readonly chance: Chance
  readonly calendar: DemoCalendar
  readonly defaults: DueDefaults
  readonly today: DayNumber
}

/** What is known of a household while its years go by. */
interface Known {
  readonly place: number
  readonly household: DemoHousehold
  readonly water: DemoWater
  /** By the place of the stage. */
  readonly changedOn: DayNumber[]
  readonly readings: DemoUnitReading[]
}

export function yearsOf(place: number, household: DemoHousehold, around: YearsAround): HouseholdYears {
  const { chance, today, seed } = around
  const temper = chance.pickWeighted(TEMPERS, (kind) => kind.weight)
  const known: Known = {
    place,
    household,
    water: demoWater(seed, place, household),
    changedOn: household.stages.map(() => household.since),
    readings: [],
  }
  const years: HouseholdYears = { visits: [], readings: [], letters: [] }
  if (chance.happens(MEASURED_WHEN_FITTED)) measureWhenFitted(known, around, years)
  const until = household.movedOn ?? today
  for (let visitNumber = 0; visitNumber < 40; visitNumber += 1) {
    const dues = demoDues(household, known.changedOn, known.readings, around.defaults)
    const first = dues[0]
    if (!first || first.day > until + 70) break
    const wished = first.day + chance.between(temper.least, temper.most)
    const visitOn = findDay(household, Math.max(wished, (years.visits.at(-1)?.on ?? 0) + 20), around)
    const bookedOn = Math.min(visitOn - chance.between(3, 14), Math.max(first.day - 20, visitOn - BOOKED_AHEAD))
    const isHistory = visitOn < today
    const isBooked = !isHistory && bookedOn < today && visitOn <= today + BOOKED_AHEAD
    writeLetters(known, dues, isHistory || isBooked ? bookedOn : today, around, years)
    if (household.movedOn !== null && visitOn >= household.movedOn) break
    if (!isHistory && !isBooked) break
    const chosen = dues.filter((due) => due.day <= visitOn + SEEN_TO_WITHIN).map(({ stage }) => stage)
    if (isHistory) record(known, visitOn, bookedOn, chosen, around, years)
    else years.visits.push(aVisit(place, household, visitOn, bookedOn, chosen, 'booked', around))
    if (!isHistory) break
  }
  return years
}

/** Whoever fits a unit measures what it gives; of units that others fitted nobody knows. */
function measureWhenFitted(
  { place, household, water, readings }: Known,
  { chance }: YearsAround,
  years: HouseholdYears,
) {
  const on = household.since
  const reading = demoReading(chance, household, water, membraneAt(water, 0), on, { note: 'when it was fitted' })
  years.readings.push({ household: place, on, reading })
  readings.push(unitReading(on, reading))
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
  { place, household, changedOn }: Known,
  dues: readonly DemoDue[],
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

/**
 * A past visit: mostly done, sometimes in vain. The technician measures before anything is opened, and changes a membrane that has come down to the
 * office's mark there and then; what is written down is the reading after the work.
 */
function record(
  known: Known,
  on: DayNumber,
  bookedOn: DayNumber,
  due: readonly number[],
  around: YearsAround,
  years: HouseholdYears,
): void {
  const { place, household, water, changedOn } = known
  const { chance, defaults } = around
  if (chance.happens(0.02)) {
    const visit = aVisit(place, household, on, bookedOn, due, 'could-not', around)
    years.visits.push({ ...visit, reason: chance.pick(SCENARIO.couldNot) })
    return
  }
  const membrane = household.stages.findIndex(({ kind }) => kind === 'membrane')
  const ageBefore = on - (changedOn[membrane] ?? household.since)
  const before = membraneAt(water, ageBefore).heldBack + chance.noise(0.7)
  const isWorn = before <= defaults.settings.replaceRejectionPercent && !due.includes(membrane)
  const seenTo = isWorn ? withMembrane(household, due) : due
  for (const stage of seenTo) changedOn[stage] = on
  const age = on - (changedOn[membrane] ?? household.since)
  const taken = demoReading(chance, household, water, membraneAt(water, age), on, {
    note: seenTo.includes(membrane) ? `held back ${Math.floor(before)} of 100 before the membrane was changed` : '',
  })
  const earlier = seenTo.includes(membrane) ? undefined : known.readings.at(-1)
  const reading = { ...taken, unlikely: isAsked(taken, earlier) }
  known.readings.push(unitReading(on, reading))
  const visit = aVisit(place, household, on, bookedOn, seenTo, 'done', around)
  years.visits.push({ ...visit, readings: [reading] })
}

/** Whether the program asks about what was measured, so that it is kept with a mark: after long neglect the step can be a big one. */
function isAsked({ tdsIn, tdsOut }: DemoReading, earlier: DemoUnitReading | undefined): boolean {
  const figures = { ...NOTHING_MEASURED, tdsIn: tds(tdsIn), tdsOut: tds(tdsOut) }
  return judgeReading(figures, { rejection: earlier?.rejectionPercent ?? null, meter: null }, 'us').questions.length > 0
}

/** The membrane, and the tank that is sanitised with it, besides what is due. */
function withMembrane(household: DemoHousehold, due: readonly number[]): number[] {
  return household.stages.flatMap(({ kind }, stage) =>
    due.includes(stage) || kind === 'membrane' || kind === 'tank' ? [stage] : [],
  )
}

/** A visit with what it sees to, by the places of the stages; readings are for whoever asks for it to add. */
export function aVisit(
  household: number,
  record: DemoHousehold,
  on: DayNumber,
  bookedOn: DayNumber,
  chosen: readonly number[],
  outcome: DemoVisit['outcome'],
  { chance, calendar }: Pick<YearsAround, 'chance' | 'calendar'>,
): DemoVisit {
  const technician = SCENARIO.towns[record.town]?.technician ?? 0
  const windowFrom = 8 * 60 + calendar.take(technician, on) * MINUTES_A_VISIT
  const fittings: DemoFitting[] = chosen.map((stage) => ({
    stage,
    part: record.stages[stage]?.part ?? null,
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
    readings: [],
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
