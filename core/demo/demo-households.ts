import type { DayNumber } from '../units/calendar-date.ts'
import type { Chance } from './chance.ts'
import type { DemoHousehold, DemoStage } from './demo-records.ts'
import { SCENARIO, type ScenarioTown } from './scenario.ts'

const DAYS_BACK = 1_830

/** The households of the demo dealer: who they are, where they live, what stands under the sink. In the order they came. */
export function demoHouseholds(chance: Chance, today: DayNumber, count: number): DemoHousehold[] {
  const since = Array.from({ length: count }, () => today - Math.floor(45 + (DAYS_BACK - 45) * chance.share() ** 0.62))
  since.sort((a, b) => a - b)
  const taken = new Set<string>()
  return since.map((day, index) => oneHousehold(chance, today, day, index, taken))
}

function oneHousehold(
  chance: Chance,
  today: DayNumber,
  since: DayNumber,
  index: number,
  taken: Set<string>,
): DemoHousehold {
  const town = chance.pickWeighted(SCENARIO.towns, (place) => place.share)
  const business = index % 38 === 7 && index / 38 < SCENARIO.businesses.length
  const { given, family } = business
    ? { given: '', family: SCENARIO.businesses[Math.floor(index / 38)] ?? 'Ashgrove Dental' }
    : personName(chance, taken)
  const makeup = chance.pickWeighted(SCENARIO.makeups, (kind) => kind.weight)
  const well = makeup.name.includes('well')
  const people = business
    ? chance.between(4, 9)
    : chance.pickWeighted([1, 2, 3, 4, 5, 6, 7], (size) => [14, 30, 20, 18, 10, 6, 2][size - 1] ?? 1)
  const movedOn = chance.happens(0.045) && since < today - 500 ? chance.between(since + 400, today - 20) : null
  return {
    reference: referenceOf(family, index),
    business,
    given,
    family,
    phone: `555-01${String(20 + ((index * 37) % 60)).padStart(2, '0')}`,
    phoneNote: chance.pick(SCENARIO.phoneNotes),
    email: chance.happens(0.7) ? emailOf(given, family) : '',
    town: SCENARIO.towns.indexOf(town),
    line1: `${chance.between(1, 98)} ${chance.pick(town.streets)}`,
    ...whereabouts(chance, town),
    accessNote: chance.pick(SCENARIO.accessNotes),
    people: chance.happens(0.06) ? null : people,
    hardness: Math.max(8, Math.round(town.hardness + chance.noise(town.hardness * 0.12))),
    tds: Math.max(40, Math.round(town.tds + chance.noise(town.tds * 0.1))),
    wellWater: well,
    since,
    noMail: chance.happens(0.025),
    movedOn,
    monthsAway: '',
    customer: index,
    visitedTogether: false,
    units: [makeup.name],
    stages: makeup.stages.map((word) => demoStage(word)),
    story: null,
  }
}

/** "AV-1041": two letters of the name, and the order in which they came. */
export function referenceOf(family: string, index: number): string {
  const initials = family
    .replace(/^The /, '')
    .split(/[\s-]+/)
    .map((word) => word.charAt(0))
    .join('')
    .slice(0, 2)
    .toUpperCase()
  return `${initials
    .padEnd(2, 'X')
    .normalize('NFD')
    .replace(/[^A-Z]/g, 'X')
    .slice(0, 2)}-${String(1000 + index).slice(-4)}`
}

function personName(chance: Chance, taken: Set<string>): { given: string; family: string } {
  for (let attempt = 0; ; attempt += 1) {
    const given = chance.pick(SCENARIO.given)
    const family = chance.pick(SCENARIO.family)
    const name = `${given} ${family}`
    if (taken.has(name) && attempt < 40) continue
    taken.add(name)
    return { given, family }
  }
}

export function emailOf(given: string, family: string): string {
  const plain = `${given} ${family}`
    .trim()
    .toLowerCase()
    .replace(/ł/g, 'l')
    .normalize('NFD')
    .replace(/[^a-z ]/g, '')
  return `${plain.replace(/ +/g, '.')}@example.com`
}

export function whereabouts(chance: Chance, town: ScenarioTown): { latitude: number; longitude: number } {
  const degreesPerKm = 1 / 111.2
  return {
    latitude: Number((town.latitude + chance.noise(town.spreadKm) * degreesPerKm).toFixed(5)),
    longitude: Number((town.longitude + (chance.noise(town.spreadKm) * degreesPerKm) / 0.69).toFixed(5)),
  }
}

/** A part's number, or "tank", as a stage of one of the household's units. */
export function demoStage(word: string, unit = 0): DemoStage {
  if (word === 'tank') return { kind: 'tank', part: null, unit }
  const part = SCENARIO.parts.findIndex((candidate) => candidate.number === word)
  const kind = SCENARIO.parts[part]?.kind
  if (!kind) throw new RangeError(`The scenario has no part ${word}`)
  return { kind, part, unit }
}
