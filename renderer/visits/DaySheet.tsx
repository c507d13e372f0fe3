import { useQuery } from '@tanstack/react-query'
import type { CalendarDate } from '../../core/units/calendar-date.ts'
import { counted, weekdayAndDate } from '../../core/units/date-words.ts'
import type { VisitId } from '../../core/units/ids.ts'
import { Button } from '../design/Button.tsx'
import { EmptyPlace } from '../design/EmptyPlace.tsx'
import { useOffice } from '../design/office-manner.ts'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SecondSheet } from '../design/Sheet.tsx'
import { printPaper } from '../design/save-file.ts'
import { ask, problemOf } from '../shell/office-door.ts'
import { RoutePart } from './RoutePart.tsx'
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
