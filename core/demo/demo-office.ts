import { DEFAULT_INTERVAL_RULES, intervalRulesByKind } from '../installations/interval-rules.ts'
import { DEFAULT_SETTINGS } from '../settings/office-settings.ts'
import { type CalendarDate, type DayNumber, dayNumberOf } from '../units/calendar-date.ts'
import { type Chance, chanceOf } from './chance.ts'
import { DemoCalendar, nextWorkday } from './demo-calendar.ts'
import { demoHouseholds } from './demo-households.ts'
import type { DemoInvoice, DemoOffice, DemoPayment, DemoVisit } from './demo-records.ts'
import { demoStock } from './demo-stock.ts'
import { storyYears, withStories } from './demo-story-years.ts'
import { yearsOf } from './demo-years.ts'

export const DEMO_SEED = 20_261_201
export const DEMO_HOUSEHOLDS = 600

/**
 * The demo office: five years of a small dealer that hang together, up to the given day and the bookings after it.
 * Pure: the same seed and day give the same office. Today is the machine's date, handed in.
 */
export function demoOffice(today: CalendarDate, seed = DEMO_SEED, households = DEMO_HOUSEHOLDS): DemoOffice {
  const chance = chanceOf(seed)
  const now = dayNumberOf(today)
  const daysOff = demoDaysOff(now)
  const calendar = new DemoCalendar((technician, day) =>
    daysOff.some((off) => off.technician === technician && day >= off.from && day <= off.until),
  )
  const records = withStories(demoHouseholds(chance, now, households), seed, now)
  const around = {
    seed,
    chance,
    calendar,
    today: now,
    defaults: { intervals: intervalRulesByKind(DEFAULT_INTERVAL_RULES), settings: DEFAULT_SETTINGS },
  }
  const years = records.map((household, place) =>
    household.story === null ? yearsOf(place, household, around) : storyYears(place, household, around),
  )
  const visits = years.flatMap((household) => household.visits)
  const readings = years.flatMap((household) => household.readings)
  const letters = years.flatMap((household) => household.letters)
  const { orders, lots, movements, pulls, counts } = demoStock(visits, now)
  const { invoices, payments } = demoMoney(chance, visits, now)
  return {
    today: now,
    households: records,
    visits,
    readings,
    letters,
    orders,
    lots,
    movements,
    pulls,
    counts,
    invoices,
    payments,
    daysOff,
  }
}

/** A week in the sun now and then, one of them soon. */
function demoDaysOff(now: DayNumber): DemoOffice['daysOff'] {
  const soon = nextWorkday(nextWorkday(now + 6))
  return [
    { technician: 2, from: soon, until: soon + 1, reason: 'training' },
    { technician: 0, from: now - 130, until: now - 121, reason: 'holiday' },
    { technician: 1, from: now - 210, until: now - 201, reason: 'holiday' },
    { technician: 2, from: now - 320, until: now - 311, reason: 'holiday' },
  ]
}

const DRAFTS_KEPT_DAYS = 3

/** Most pay within three weeks, some late, a few not yet; the last days' visits are drafts to look at. */
function demoMoney(
  chance: Chance,
  visits: readonly DemoVisit[],
  now: DayNumber,
): { invoices: DemoInvoice[]; payments: DemoPayment[] } {
  const invoices: DemoInvoice[] = []
  const payments: DemoPayment[] = []
  for (const [place, visit] of visits.entries()) {
    if (visit.outcome !== 'done') continue
    const issuedOn = visit.on + chance.between(1, 3)
    const isDraft = issuedOn >= now - DRAFTS_KEPT_DAYS
    invoices.push({ visit: place, draftedOn: visit.on, issuedOn: isDraft ? null : issuedOn })
    if (isDraft) continue
    const paysOn =
      issuedOn +
      chance.pickWeighted([chance.between(2, 20), chance.between(25, 70), chance.between(80, 160)], (days) =>
        days <= 20 ? 82 : days <= 70 ? 15 : 3,
      )
    if (paysOn >= now) continue
    const method = chance.pick(['card', 'cheque', 'transfer', 'card'] as const)
    payments.push({ visit: place, on: paysOn, hundredths: chance.happens(0.012) ? 50 : 100, method })
  }
  return { invoices, payments }
}
