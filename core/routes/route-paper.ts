import type { PaperSink } from '../answering.ts'
import type { Paper, PaperFacts } from '../paper/paper.ts'
import { streamPaper } from '../paper/stream-paper.ts'
import { drawTable } from '../paper/table.ts'
import { counted, weekdayAndDate } from '../units/date-words.ts'
import { formatWindow } from '../units/time-of-day.ts'
import { clock } from '../visits/job-card-paper.ts'
import { minutesInWords } from '../visits/planned-minutes.ts'
import { workInWords } from '../visits/visit-words.ts'
import type { Route, RouteStop } from './routes-contract.ts'

/** A technician's day as a timetable, a page each: leaving, every stop with arrival and work, coming back. */
export async function writeRoutes(routes: readonly Route[], facts: PaperFacts, sink: PaperSink): Promise<void> {
  await streamPaper(
    facts,
    async (paper, letOut) => {
      for (const route of routes) {
        drawRoute(paper, route)
        await letOut()
      }
      if (routes.length > 0) return
      paper.beginSection()
      paper.heading(facts.title)
      paper.text('No visit is booked for this day.', { size: 10.5 })
      paper.endSection()
    },
    sink,
  )
}

function drawRoute(paper: Paper, route: Route): void {
  const { locale } = paper.facts
  paper.beginSection({ footNote: `Route ${route.technician.name}` })
  paper.heading(`${weekdayAndDate(route.on, locale)}: ${route.technician.name}`)
  const stops = counted(route.stops.length, 'stop')
  paper.text(`${stops}, ${minutesInWords(route.driveMinutes)} at the wheel`, { size: 10.5 })
  if (route.notOnMap > 0)
    paper.text(
      `${counted(route.notOnMap, 'stop is', 'stops are')} not on the map: the driving there is a usual allowance.`,
      {
        size: 8.5,
        ink: 'second',
      },
    )
  paper.gap(10)
  const ends = (time: number, words: string) => ({ cells: [clock(time, locale), '', words, ''], strong: true })
  drawTable(
    paper,
    [
      { head: 'Arrive', width: 58, align: 'right' },
      { head: 'Stop', width: 26, align: 'right' },
      { head: 'Household and work', width: 'rest' },
      { head: 'Window', width: 96 },
    ],
    [
      ends(route.leavesAt, 'Leave the yard'),
      ...route.stops.map((stop) => stopRow(stop, locale)),
      ends(route.backAt, 'Back at the yard'),
    ],
  )
  paper.endSection()
}

function stopRow({ visit, ...stop }: RouteStop, locale: string) {
  const { household } = visit
  const small = { size: 8.5, ink: 'second' } as const
  const where = [household.line1, household.line2, household.town, household.phone].filter((part) => part !== '')
  const timing = [
    `drive ${stop.driveMinutes} min`,
    `work ${minutesInWords(visit.plannedMinutes)}, until ${clock(stop.leavesAt, locale)}`,
    ...(stop.waitsMinutes > 0 ? [`${stop.waitsMinutes} min to spare before`] : []),
    ...(stop.lateMinutes > 0 ? [`${stop.lateMinutes} min after the window: ring ahead`] : []),
  ]
  const lines = [where.join(' · '), workInWords(visit.tasks), timing.join(' · '), household.accessNote]
  return {
    cells: [
      { lines: [{ wording: clock(stop.arrivesAt, locale), style: { weight: 'semibold' as const } }] },
      String(stop.stop),
      {
        lines: [
          { wording: household.household, style: { weight: 'semibold' as const } },
          ...lines.filter((line) => line !== '').map((line) => ({ wording: line, style: small })),
        ],
      },
      formatWindow(visit.windowFrom, visit.windowUntil, locale),
    ],
  }
}
