import type { OfficeSettings } from '../settings/office-settings.ts'

/** How much each thing counts when a part is short and visits have to be weighed, in whole points. */
export interface WorthPoints {
  /** For serving a household at all. */
  readonly aVisit: number
  /** For each day that its latest stage is past due. */
  readonly aDayLate: number
  /** Days beyond this do not count: a household that was forgotten for a year is not worth all others. */
  readonly mostDaysLate: number
  /** For having given our word. */
  readonly ourWord: number
  /** For each minute at the wheel that coming a second time would cost. */
  readonly aDrivenMinute: number
}

/** How the office weighs visits, as set under Settings. As usual, a visit 30 days late outweighs three that can wait. */
export function worthPointsOf(settings: OfficeSettings): WorthPoints {
  return {
    aVisit: settings.shortVisitPoints,
    aDayLate: settings.shortDayLatePoints,
    mostDaysLate: settings.shortMostDaysLate,
    ourWord: settings.shortOurWordPoints,
    aDrivenMinute: settings.shortDrivenMinutePoints,
  }
}

/** What is weighed of a visit. */
export interface VisitWeighed {
  readonly daysLate: number
  readonly promised: boolean
  /** Minutes at the wheel that a second trip to it would cost. */
  readonly secondTripMinutes: number
}

/** What serving a visit whole is worth, whole points, at least 1. */
export function visitWorth(visit: VisitWeighed, points: WorthPoints): number {
  const late = Math.min(Math.max(0, visit.daysLate), points.mostDaysLate) * points.aDayLate
  const word = visit.promised ? points.ourWord : 0
  const drive = Math.max(0, visit.secondTripMinutes) * points.aDrivenMinute
  return Math.max(1, Math.round(points.aVisit + late + word + drive))
}

/**
 * Minutes at the wheel that a second trip to a household would cost: there and back from the office, or the detour from another visit
 * that is booked soon, whichever is less. `fromOffice` and `fromOthers` are one way.
 */
export function secondTripMinutes(fromOffice: number, fromOthers: readonly number[]): number {
  return 2 * Math.min(fromOffice, ...fromOthers)
}
