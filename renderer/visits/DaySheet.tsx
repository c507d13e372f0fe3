import { useQuery } from '@tanstack/react-query'
import type { Route } from '../../core/routes/routes-contract.ts'
import type { CalendarDate } from '../../core/units/calendar-date.ts'
import { counted, weekdayAndDate } from '../../core/units/date-words.ts'
import type { VisitId } from '../../core/units/ids.ts'
import { formatTimeOfDay, formatWindow, timeOfDay } from '../../core/units/time-of-day.ts'
import { minutesInWords } from '../../core/visits/planned-minutes.ts'
import { workInWords } from '../../core/visits/visit-words.ts'
import { Button } from '../design/Button.tsx'
import { EmptyPlace } from '../design/EmptyPlace.tsx'
import { useOffice } from '../design/office-manner.ts'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SecondSheet, SheetPart } from '../design/Sheet.tsx'
import { printPaper } from '../design/save-file.ts'
import { ask, problemOf } from '../shell/office-door.ts'
import './week.css'

interface DaySheetProps {
  readonly on: CalendarDate
  readonly onVisit: (visitId: VisitId) => void
  readonly onClose: () => void
}

/** A day's stops in driving order, technician by technician, and its papers. */
export function DaySheet({ on, onVisit, onClose }: DaySheetProps) {
  const { locale } = useOffice()
  const routes = useQuery(ask.routes.day.queryOptions({ input: { on, technicianId: null } }))
  const failure = routes.error ? problemOf(routes.error) : null
  const stops = routes.data?.reduce((sum, route) => sum + route.stops.length, 0) ?? 0
  return (
    <SecondSheet title={weekdayAndDate(on, locale)} onClose={onClose} backTo="the week">
      {failure && <ProblemNote problem={failure} id={failure.id} onTryAgain={() => void routes.refetch()} />}
      {stops > 0 && (
        <div className="sheet-actions">
          <Button onPress={() => printPaper(`/papers/visits/${on}.pdf`)}>Print {counted(stops, 'job card')}</Button>
          <Button onPress={() => printPaper(`/papers/routes/${on}.pdf`)}>
            Print {counted(routes.data?.length ?? 0, 'route')}
          </Button>
        </div>
      )}
      {routes.data && stops === 0 && (
        <EmptyPlace why="No visit is booked for this day." todo="Book one from Bookings, or from a household." />
      )}
      {routes.data?.map((route) => (
        <RoutePart key={route.technician.technicianId} route={route} onVisit={onVisit} />
      ))}
    </SecondSheet>
  )
}

function RoutePart({ route, onVisit }: { readonly route: Route; readonly onVisit: (visitId: VisitId) => void }) {
  const { locale } = useOffice()
  const at = (minutes: number) => formatTimeOfDay(timeOfDay(minutes % 1440), locale)
  return (
    <SheetPart
      title={route.technician.name}
      aside={`${counted(route.stops.length, 'stop')}, ${minutesInWords(route.driveMinutes)} at the wheel`}
    >
      {route.notOnMap > 0 && (
        <p className="second small">
          {counted(route.notOnMap, 'stop is', 'stops are')} not on the map: the driving there is a usual allowance.
        </p>
      )}
      <ol className="route-stops">
        <li className="route-stop second">
          <span className="figures">{at(route.leavesAt)}</span>
          <span>leave the yard</span>
        </li>
        {route.stops.map(({ visit, ...stop }) => (
          <li key={visit.visitId} className="route-stop">
            <b className="figures">{at(stop.arrivesAt)}</b>
            <div>
              <button type="button" onClick={() => onVisit(visit.visitId)}>
                {visit.household.household}
              </button>
              <div className="second small">
                {[visit.household.line1, visit.household.town].filter((part) => part !== '').join(', ')} · window{' '}
                {formatWindow(visit.windowFrom, visit.windowUntil, locale)}
              </div>
              <div className="second small">
                {workInWords(visit.tasks)} · {minutesInWords(visit.plannedMinutes)}
              </div>
              {stop.lateMinutes > 0 && <b className="small">{stop.lateMinutes} min after the window: ring ahead</b>}
            </div>
          </li>
        ))}
        <li className="route-stop second">
          <span className="figures">{at(route.backAt)}</span>
          <span>back at the yard</span>
        </li>
      </ol>
    </SheetPart>
  )
}
