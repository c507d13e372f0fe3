import { daysBetween } from '../units/calendar-date.ts'
import type { CountWeek, HeapToCount, WhatToCount } from './what-to-count.ts'

const name = (heap: { readonly placeId: number; readonly lotId: number }): string =>
  `lot ${heap.lotId} in place ${heap.placeId}`

/**
 * The judge of a week of counting, with arithmetic of its own: complaints in words, none when it is lawful. Nobody is sent twice or to
 * where nothing lies; what a pull missed is always among it; nothing is chosen before its time; there is never more than the week has
 * room for; nothing that is left over waited for more of its interval than something chosen; each has its reason.
 */
export function checkWhatToCount(week: CountWeek, plan: WhatToCount): string[] {
  const complaints: string[] = []
  const chosenNames = plan.chosen.map(name)
  const chosen = new Set(chosenNames)
  const known = new Set<string>()
  const isChosen = new Set<HeapToCount>()
  for (const heap of week.heaps) {
    const own = name(heap)
    known.add(own)
    if (chosen.has(own)) isChosen.add(heap)
  }
  if (chosen.size !== chosenNames.length) complaints.push('A heap is to be counted twice.')
  for (const heap of plan.chosen) {
    if (!known.has(name(heap))) complaints.push(`There is no ${name(heap)}.`)
    if (heap.why.trim() === '') complaints.push(`Nobody knows why ${name(heap)} is counted.`)
  }
  const shares = waits(week)
  const missed = week.heaps.filter((heap) => heap.missedOn !== null)
  for (const heap of missed)
    if (!isChosen.has(heap)) complaints.push(`A pull missed pieces: ${name(heap)} is left out.`)
  const ordinary = week.heaps.filter((heap) => heap.missedOn === null)
  const taken = ordinary.filter((heap) => isChosen.has(heap))
  const left = ordinary.filter((heap) => !isChosen.has(heap) && isDue(shares.get(heap)))
  for (const heap of taken) if (!isDue(shares.get(heap))) complaints.push(`It is too early for ${name(heap)}.`)
  const room = Math.max(0, week.rules.heapsAWeek - week.alreadyThisWeek - missed.length)
  if (taken.length > room) complaints.push(`${taken.length} heaps, and room for ${room}.`)
  if (left.length > 0 && taken.length < room) complaints.push('There is room for more, and more is due.')
  if (left.length !== plan.waiting) complaints.push(`${left.length} wait, not ${plan.waiting}.`)
  const shareOf = (heap: HeapToCount): number => shares.get(heap)?.share ?? 0
  const least = taken.reduce((smallest, heap) => Math.min(smallest, shareOf(heap)), Number.POSITIVE_INFINITY)
  for (const heap of left)
    if (shareOf(heap) > least + 1e-9) complaints.push(`${name(heap)} waits for longer than one that is counted.`)
  return complaints
}

interface Wait {
  readonly days: number
  readonly interval: number
  readonly share: number
}

const isDue = (wait: Wait | undefined): boolean => wait !== undefined && wait.days >= wait.interval - 6

/** Where a part stands by its use: 0 among what makes up four fifths, 1 among the next up to 95 in 100, 2 otherwise. */
function standingOf(week: CountWeek): Map<number, number> {
  const whole = week.uses.reduce((sum, use) => sum + use.usedValue, 0)
  return new Map(
    week.uses.map(({ partId, usedValue: own }) => {
      // What all parts ahead of it in the order of value make up together.
      const ahead = week.uses
        .filter((use) => use.usedValue > own || (use.usedValue === own && use.partId < partId))
        .reduce((sum, use) => sum + use.usedValue, 0)
      return [partId, own === 0 ? 2 : ahead < 0.8 * whole ? 0 : ahead < 0.95 * whole ? 1 : 2]
    }),
  )
}

/** What each heap has waited of its interval. */
function waits(week: CountWeek): Map<HeapToCount, Wait> {
  const standing = standingOf(week)
  return new Map(
    week.heaps.map((heap) => {
      const place = standing.get(heap.partId) ?? 2
      const step = heap.touched >= week.rules.busyFrom ? Math.max(0, place - 1) : place
      const weeks = [week.rules.weeksMuch, week.rules.weeksSome, week.rules.weeksLittle][step] ?? 0
      const interval = heap.lastDifference > 0 ? Math.ceil(weeks * 3.5) : weeks * 7
      const days = daysBetween(heap.lastCountedOn ?? heap.since, week.today)
      return [heap, { days, interval, share: days / interval }]
    }),
  )
}
