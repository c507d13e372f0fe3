import type { OrderedStops, StopsToOrder } from './order-stops.ts'

/**
 * The judge of a driving order; shares no code with the planner. Complaints in words, none when the order holds:
 * every stop once, times that follow from one another, nobody at a door before its window, lateness owned up to.
 */
export function checkStopOrder(day: StopsToOrder, answer: OrderedStops): string[] {
  return [...checkEachStopOnce(day, answer), ...checkTimes(day, answer), ...checkTotals(day, answer)]
}

function checkEachStopOnce(day: StopsToOrder, answer: OrderedStops): string[] {
  const seen = answer.times.map((time) => time.stop).toSorted((a, b) => a - b)
  const wanted = [...day.stops.keys()]
  return seen.length === wanted.length && seen.every((stop, index) => stop === wanted[index])
    ? []
    : [`stops ${seen.join(',')} instead of ${wanted.join(',')}`]
}

function checkTimes(day: StopsToOrder, answer: OrderedStops): string[] {
  const complaints: string[] = []
  let free: number = day.leavesAt
  let point = 0
  for (const time of answer.times) {
    const stop = day.stops[time.stop]
    const leg = day.drive[point]?.[time.stop + 1]
    if (stop === undefined || leg === undefined) return [...complaints, `stop ${time.stop} is not of this day`]
    if (time.driveMinutes !== leg)
      complaints.push(`stop ${time.stop}: drive of ${time.driveMinutes}, the table says ${leg}`)
    if (time.arrivesAt < free + leg) complaints.push(`stop ${time.stop}: arrives before it can be reached`)
    if (time.arrivesAt < stop.windowFrom) complaints.push(`stop ${time.stop}: arrives before its window`)
    if (time.arrivesAt > Math.max(free + leg, stop.windowFrom)) complaints.push(`stop ${time.stop}: loses time`)
    if (time.waitsMinutes !== time.arrivesAt - free - leg) complaints.push(`stop ${time.stop}: waiting is wrong`)
    const late = time.arrivesAt > stop.windowUntil ? time.arrivesAt - stop.windowUntil : 0
    if (time.lateMinutes !== late) complaints.push(`stop ${time.stop}: ${late} minutes late, said ${time.lateMinutes}`)
    if (time.leavesAt !== time.arrivesAt + stop.onSiteMinutes)
      complaints.push(`stop ${time.stop}: leaves at a wrong time`)
    free = time.leavesAt
    point = time.stop + 1
  }
  const home = answer.times.length === 0 ? 0 : (day.drive[point]?.[0] ?? Number.NaN)
  if (answer.backAt !== free + home) complaints.push(`back at ${answer.backAt}, not ${free + home}`)
  return complaints
}

function checkTotals(day: StopsToOrder, answer: OrderedStops): string[] {
  const complaints: string[] = []
  const points = [0, ...answer.times.map((time) => time.stop + 1)]
  let driving = points.length > 1 ? (day.drive[points.at(-1) ?? 0]?.[0] ?? Number.NaN) : 0
  for (const [index, point] of points.entries())
    if (index > 0) driving += day.drive[points[index - 1] ?? 0]?.[point] ?? Number.NaN
  if (driving !== answer.driveMinutes) complaints.push(`drives ${driving} minutes, said ${answer.driveMinutes}`)
  const late = answer.times.reduce((sum, time) => sum + time.lateMinutes, 0)
  if (late !== answer.lateMinutes) complaints.push(`late by ${late} minutes, said ${answer.lateMinutes}`)
  return complaints
}
