import { readMonthsAway } from '../customers/months-away.ts'
import { type DayNumber, dateOfDayNumber, partsOf, weekdayOf } from '../units/calendar-date.ts'
import { type Chance, chanceOf } from './chance.ts'
import { type DemoCalendar, isWorkday } from './demo-calendar.ts'
import { demoStage, emailOf, referenceOf, whereabouts } from './demo-households.ts'
import type { DemoHousehold, DemoReading, DemoVisit } from './demo-records.ts'
import { DEMO_STORIES, type DemoStory, type StoryStep, storyPlaces } from './demo-stories.ts'
import { type DemoWater, demoReading, flowWhenNew } from './demo-water.ts'
import { aVisit, type HouseholdYears } from './demo-years.ts'
import { SCENARIO } from './scenario.ts'

/** Meters of a story differ by this much of what is usual: what it tells must not hang on chance. */
const SPREAD = 0.15
/** The second unit of a household is never as bad as the first. */
const POINTS_BETTER_IN_THE_NEXT_UNIT = 1.2
const STORY_PSI = 58
const STORY_TANK_PSI = 7
/** A tank that was sanitised within this many days is left alone. */
const TANK_LEFT_DAYS = 300
const SEASONLESS_PATIENCE = 200

export interface StoryAround {
  readonly seed: number
  readonly calendar: DemoCalendar
  readonly today: DayNumber
}

/** The office's households with the homes of the stories in the last places. */
export function withStories(households: readonly DemoHousehold[], seed: number, today: DayNumber): DemoHousehold[] {
  const first = households.length - storyPlaces(households.length)
  const homes = households.slice(0, first)
  for (const [index, story] of DEMO_STORIES.slice(0, households.length - first).entries()) {
    const base = households[first + index]
    if (!base) break
    const place = first + index
    const owner = DEMO_STORIES.findIndex(({ id }) => id === story.sameOwnerAs)
    homes.push(storyHome(base, story, { place, customer: owner < 0 ? place : first + owner }, homes, seed, today))
  }
  return homes
}

function storyHome(
  base: DemoHousehold,
  story: DemoStory,
  { place, customer }: { place: number; customer: number },
  homes: readonly DemoHousehold[],
  seed: number,
  today: DayNumber,
): DemoHousehold {
  const chance = chanceOf(seed + place * 104_729)
  const town = SCENARIO.towns[story.town]
  if (!town) throw new RangeError(`The scenario has no town at ${story.town}`)
  const owned = customer === place ? null : (homes[customer] ?? null)
  const near = owned && { latitude: owned.latitude + 0.0002, longitude: owned.longitude + 0.0001 }
  const fitted = Math.max(...story.steps.map(({ daysAgo }) => daysAgo))
  return {
    ...base,
    reference: referenceOf(story.family, place),
    business: story.given === '',
    given: story.given,
    family: story.family,
    email: emailOf(story.given, story.family),
    town: story.town,
    line1: story.line1,
    ...(near ?? whereabouts(chance, town)),
    people: story.people,
    hardness: story.hardness,
    tds: story.tds,
    wellWater: false,
    since: today - fitted,
    noMail: false,
    movedOn: null,
    monthsAway: story.monthsAway ?? '',
    customer,
    visitedTogether: DEMO_STORIES.some(({ id, sameOwnerAs }) =>
      sameOwnerAs === undefined ? false : sameOwnerAs === story.id || id === story.id,
    ),
    units: story.units.map(({ name }) => name),
    stages: story.units.flatMap(({ stages }, unit) => stages.map((word) => demoStage(word, unit))),
    story: story.id,
  }
}

/** The years of a home that tells a story: its own steps, on days that a technician of the town has free. */
export function storyYears(place: number, household: DemoHousehold, around: StoryAround): HouseholdYears {
  const story = DEMO_STORIES.find(({ id }) => id === household.story)
  const years: HouseholdYears = { visits: [], readings: [], letters: [] }
  if (!story) return years
  const chance = chanceOf(around.seed + place * 15_485_863)
  const sanitisedOn = { day: household.since }
  for (const step of story.steps) {
    const isVisit = step.what === 'filters' || step.what === 'filters and membrane'
    const on = isVisit ? visitDay(household, step, around) : measuringDay(household, step, around.today)
    const readings = household.units.map((_, unit) => storyReading(chance, household, story, step, on, unit))
    if (isVisit) years.visits.push(storyVisit(place, household, step, on, readings, sanitisedOn, chance, around))
    else for (const reading of readings) years.readings.push({ household: place, on, reading })
  }
  return years
}

function storyVisit(
  place: number,
  household: DemoHousehold,
  { what }: StoryStep,
  on: DayNumber,
  readings: readonly DemoReading[],
  sanitisedOn: { day: DayNumber },
  chance: Chance,
  { calendar }: StoryAround,
): DemoVisit {
  const isMembraneChanged = what === 'filters and membrane'
  const isTankDue = isMembraneChanged || on - sanitisedOn.day > TANK_LEFT_DAYS
  if (isTankDue) sanitisedOn.day = on
  const seenTo = household.stages.flatMap(({ kind }, stage) => {
    if (kind === 'membrane') return isMembraneChanged ? [stage] : []
    return kind === 'tank' && !isTankDue ? [] : [stage]
  })
  const visit = aVisit(place, household, on, on - 8, seenTo, 'done', { chance, calendar })
  return { ...visit, readings, remarks: '' }
}

function storyReading(
  chance: Chance,
  household: DemoHousehold,
  story: DemoStory,
  step: StoryStep,
  on: DayNumber,
  unit: number,
): DemoReading {
  const water: DemoWater = {
    heldAtFirst: 0,
    losesAYear: 0,
    flowAtFirst: flowWhenNew(household),
    foulsAYear: 0,
    feedPsi: STORY_PSI,
    tankPsi: STORY_TANK_PSI,
  }
  const held = step.heldBack + (100 - step.heldBack) * (1 - 1 / POINTS_BETTER_IN_THE_NEXT_UNIT ** unit)
  const meterMl =
    story.meteredLitres === undefined ? undefined : Math.round(story.meteredLitres * 1000 * (on - household.since))
  return demoReading(
    chance,
    household,
    water,
    { heldBack: held, flowShare: step.flowShare },
    on,
    {
      unit,
      unlikely: step.unlikely ?? false,
      note: step.note ?? '',
      ...(step.feedPsi === undefined ? {} : { feedPsi: step.feedPsi }),
      ...(step.tankPsi === undefined ? {} : { tankPsi: step.tankPsi }),
      ...(meterMl === undefined ? {} : { meterMl }),
    },
    SPREAD,
  )
}

/** The free day of the town's technician that lies nearest before the step, on which somebody is there. */
function visitDay(household: DemoHousehold, { daysAgo }: StoryStep, { calendar, today }: StoryAround): DayNumber {
  const technician = SCENARIO.towns[household.town]?.technician ?? 0
  const wished = measuringDay(household, { daysAgo }, today)
  const weekday = weekdayOf(dateOfDayNumber(wished))
  for (let earlier = wished; earlier > wished - SEASONLESS_PATIENCE; earlier -= 1)
    if (!isAway(household, earlier) && calendar.find(technician, weekday, earlier, 0) === earlier) return earlier
  throw new RangeError(`${SCENARIO.technicians[technician]?.name} has no day free before ${dateOfDayNumber(wished)}`)
}

/** The workday nearest before the step on which somebody is there. */
function measuringDay(household: DemoHousehold, { daysAgo }: Pick<StoryStep, 'daysAgo'>, today: DayNumber): DayNumber {
  let day = today - daysAgo
  if (day === household.since) return day
  while (!isWorkday(day) || isAway(household, day)) day -= 1
  return day
}

function isAway(household: DemoHousehold, day: DayNumber): boolean {
  return readMonthsAway(household.monthsAway).includes(partsOf(dateOfDayNumber(day)).month)
}
