import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { openDatabase } from '../../core/database/open-books.ts'
import { writeBooks } from '../../core/database/write-books.ts'
import { deskOf, FIRST_OFFICE } from '../../core/desk-of-office.ts'
import { recomputeAllDueDates } from '../../core/due/recompute-answers.ts'
import { ok } from '../../core/result.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import type { SiteId } from '../../core/units/ids.ts'
import { nextDueAfterDays } from '../../core/visits/next-due.ts'
import { planVisits } from '../../core/visits/plan-visits.ts'
import { replanSites } from '../../core/visits/replan-answers.ts'
import type { PlannableStage, VisitPlanQuestion } from '../../core/visits/visit-plan.ts'
import { WORKS } from '../../core/works.ts'
import { programmeSolver, publishedProgramme } from '../judges/visit-plan-programme.ts'
import { writeManyHouseholds } from './many-households.ts'
import { type Measure, type MeasureLine, middle, middleOf } from './measure.ts'

const today = calendarDate('2026-12-01')
const now = '2026-12-01T12:00:00.000Z'

/** Every household planned as the office does it, reading and writing included; then one household again, as after a reading. */
async function measureOffice(households: number): Promise<MeasureLine[]> {
  const folder = mkdtempSync(join(tmpdir(), 'penstock-bench-'))
  const file = join(folder, 'books.sqlite')
  try {
    await writeManyHouseholds(file, households)
    giveParts(file)
    const books = openDatabase(file)
    const asking = { officeId: FIRST_OFFICE, today, now, by: 'the bench', dialect: books.dialect }
    await writeBooks(books, asking, [], async (open) => ok(await recomputeAllDueDates(open)))
    const desk = deskOf(books, { today: () => today, now: () => now }, 'the bench', { start: async () => '' })
    const begun = performance.now()
    const planned = await WORKS['plan-visits']?.run({ ...desk, progress: async () => true }, {})
    const seconds = (performance.now() - begun) / 1000
    if (!planned?.ok) throw new Error('The visits were not planned')
    const times: number[] = []
    for (let go = 0; go < 60; go += 1) {
      const siteId = (1 + ((go * 7919) % households)) as SiteId
      const from = performance.now()
      await writeBooks(books, asking, [], async (open) => ok(await replanSites(open, [siteId])))
      times.push(performance.now() - from)
    }
    await books.close()
    return [
      { name: `plan.all.${households}-households`, value: seconds, unit: 's', floor: (60 * households) / 100_000 },
      { name: 'plan.a-second', value: households / seconds, unit: 'plans/s' },
      { name: 'plan.one-again', value: middle(times), unit: 'ms', floor: 10 },
      { name: 'plan.one-again.slowest', value: Math.max(...times), unit: 'ms' },
    ]
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

/** A part for every kind of stage that is changed, so that there is something to weigh. */
function giveParts(file: string): void {
  const db = new Database(file)
  const part = db.prepare(
    `insert into parts (office_id, number, name, stage_kind, gtin, price_cents, cost_cents, note) values (1, ?, ?, ?, '', ?, ?, '')`,
  )
  const choose = db.prepare('update stages set part_id = ? where kind = ?')
  const parts = [
    ['P-1', 'Sediment filter', 'sediment', 2400, 900],
    ['P-2', 'Carbon filter', 'carbon', 3800, 1600],
    ['P-3', 'Membrane', 'membrane', 11_000, 5200],
    ['P-4', 'Post filter', 'post-carbon', 3200, 1400],
  ] as const
  db.transaction(() => {
    for (const [number, name, kind, price, cost] of parts)
      choose.run(part.run(number, name, kind, price, cost).lastInsertRowid, kind)
  })()
  db.close()
}

/** The published ten parts over 125 steps (Almgren and others 2012), proved optimal at 762, against an integer programme's solver in the same run. */
async function measurePublished(): Promise<MeasureLine[]> {
  const costs = [34, 25, 14, 21, 16, 3, 10, 5, 7, 10]
  const lives = [42, 18, 90, 94, 49, 49, 34, 90, 37, 11]
  const question = (): VisitPlanQuestion => ({
    stages: lives.map((life, index) => newPart(life, costs[index] ?? 0, 125)),
    firstDay: 1,
    horizonDay: 125,
    callCents: 20,
    callDifferences: [],
    creditsLifeLeft: false,
  })
  const found = planVisits(question())
  const ours = await middleOf(9, () => planVisits(question()))
  const leastCents = await programmeSolver()
  const begun = performance.now()
  const least = leastCents(publishedProgramme(costs, lives, 20, 125))
  const theirs = performance.now() - begun
  if (found.totalCents !== least || least !== 762) throw new Error(`${found.totalCents} and ${least}, not 762`)
  return [
    { name: 'plan.published-125', value: ours, unit: 'ms', ratio: ours / theirs, floor: theirs / 20 },
    { name: 'plan.published-125.programme', value: theirs, unit: 'ms' },
  ]
}

function newPart(life: number, costCents: number, horizon: number): PlannableStage {
  const next = nextDueAfterDays(horizon, life)
  return { dueDay: life, graceDays: 0, next, costCents, neverEarly: false, carries: [] }
}

/** How the time of one plan grows with the stages over five years, and with the years for five stages. */
async function measureGrowth(): Promise<MeasureLine[]> {
  const lines: MeasureLine[] = []
  for (let stages = 3; stages <= 10; stages += 1) lines.push(...middlePlan(`plan.stages-${stages}`, stages, 5, false))
  for (let stages = 3; stages <= 10; stages += 1)
    lines.push(...middlePlan(`plan.stages-${stages}.all-differ`, stages, 5, true))
  for (const years of [1, 2, 5, 10, 20]) lines.push(...middlePlan(`plan.years-${years}`, 5, years, false))
  return lines
}

const GROWN = 20

/**
 * The middle and the slowest of twenty households; chance from a fixed seed. Usually the filters of a household share their interval and
 * every third stage has one of its own, all with dates of their own; with `allDiffer` no two intervals agree, to the day. How many of
 * them were proved to be the cheapest stands in the name.
 */
function middlePlan(name: string, stages: number, years: number, allDiffer: boolean): MeasureLine[] {
  let seed = 20_261_201
  const chance = (below: number) => {
    seed = (seed * 48_271) % 2_147_483_647
    return seed % below
  }
  const horizonDay = Math.round(years * 365.25)
  const times: number[] = []
  let proved = 0
  for (let household = 0; household < GROWN; household += 1) {
    const filters = 180 + chance(200)
    const question: VisitPlanQuestion = {
      stages: Array.from({ length: stages }, (_, index): PlannableStage => {
        const isLong = index % 3 === 2
        const own = isLong ? 365 + chance(1400) : 180 + chance(200)
        const life = isLong || allDiffer ? own : filters
        const next = nextDueAfterDays(horizonDay, life)
        const costCents = isLong ? 4000 + chance(4000) : 800 + chance(2000)
        return { dueDay: chance(life) - 20, graceDays: 30, next, costCents, neverEarly: false, carries: [] }
      }),
      firstDay: 0,
      horizonDay,
      callCents: 6400,
      callDifferences: [],
      creditsLifeLeft: true,
    }
    const begun = performance.now()
    const plan = planVisits(question)
    times.push(performance.now() - begun)
    if (plan.proved) proved += 1
  }
  return [
    { name: `${name}.${proved}-of-${GROWN}-proved`, value: middle(times), unit: 'ms' },
    { name: `${name}.slowest`, value: Math.max(...times), unit: 'ms' },
  ]
}

export const measures: readonly Measure[] = [
  { name: 'plan.office', run: measureOffice },
  { name: 'plan.growth', run: measureGrowth },
  { name: 'plan.published', run: measurePublished },
]
