import { formatWindow } from '../units/time-of-day.ts'
import type { BookedVisitShape } from './visit-shapes.ts'

/** A technician's day as one word: which visits in which version. Compared when a booking is saved. */
export function daySeenOf(visits: readonly Pick<BookedVisitShape, 'visitId' | 'version'>[]): string {
  return visits
    .toSorted((a, b) => a.visitId - b.visitId)
    .map(({ visitId, version }) => `${visitId}.${version}`)
    .join(' ')
}

/** What changed on a day since it was seen, in words; null when nothing did. */
export function changesSince(seen: string, now: readonly BookedVisitShape[], locale: string): string | null {
  if (seen === daySeenOf(now)) return null
  const before = new Map(
    seen
      .split(' ')
      .filter((entry) => entry !== '')
      .map((entry) => entry.split('.') as [string, string]),
  )
  const said: string[] = []
  for (const visit of now) {
    const version = before.get(String(visit.visitId))
    before.delete(String(visit.visitId))
    const window = formatWindow(visit.windowFrom, visit.windowUntil, locale)
    if (version === undefined) said.push(`${visit.household} was booked for ${window}`)
    else if (version !== String(visit.version)) said.push(`${visit.household} was changed to ${window}`)
  }
  if (before.size === 1) said.push('one visit is no longer on that day')
  if (before.size > 1) said.push(`${before.size} visits are no longer on that day`)
  return said.join('; ')
}
