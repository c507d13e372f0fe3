import type { NextDueRule } from '../due/next-due-date.ts'
import { addDays, type CalendarDate, dayNumberOf } from '../units/calendar-date.ts'
import { nextDueBy } from './next-due.ts'
import type { NextDue, PlanDay } from './visit-plan.ts'

/** A hundred years: for what never falls due again by itself. */
const NEVER_AGAIN: NextDueRule = { key: 'never', after: (changedOn) => addDays(changedOn, 36_525) }

/** Some 15 MB of tables over five years. */
const MOST_TABLES = 2_000

/**
 * Tables of when a stage falls due again, each made once and shared by all stages that fall due alike: an office has a few dozen of
 * them, however many households. Counted from `today`, which is day 0.
 */
export class NextDueShelf {
  readonly today: CalendarDate
  readonly #tables = new Map<string, NextDue>()

  constructor(today: CalendarDate) {
    this.today = today
  }

  /** An office has a few dozen tables; thousands mean that every household has its own, and then keeping them does not pay. */
  get isFull(): boolean {
    return this.#tables.size >= MOST_TABLES
  }

  /** The table of a rule; without one it never falls due again. */
  tableOf(rule: NextDueRule | null, horizonDay: PlanDay): NextDue {
    const { key, after } = rule ?? NEVER_AGAIN
    const name = `${horizonDay}:${key}`
    const known = this.#tables.get(name)
    if (known) return known
    const first = dayNumberOf(this.today)
    const table = nextDueBy(horizonDay, (day) => dayNumberOf(after(addDays(this.today, day))) - first)
    this.#tables.set(name, table)
    return table
  }
}
