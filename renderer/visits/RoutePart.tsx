import { useMutation } from '@tanstack/react-query'
import type { Route, RouteStop } from '../../core/routes/routes-contract.ts'
import { counted } from '../../core/units/date-words.ts'
import type { VisitId } from '../../core/units/ids.ts'
import { formatTimeOfDay, formatWindow, timeOfDay } from '../../core/units/time-of-day.ts'
import { minutesInWords } from '../../core/visits/planned-minutes.ts'
import { workInWords } from '../../core/visits/visit-words.ts'
import { Button } from '../design/Button.tsx'
import { useOffice } from '../design/office-manner.ts'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SheetPart } from '../design/Sheet.tsx'
import { useSay } from '../design/undo.ts'
import { ask, office, problemOf } from '../shell/office-door.ts'

interface RoutePartProps {
  readonly route: Route
  readonly onVisit: (visitId: VisitId) => void
}

/** A technician's stops in order. A stop is put earlier or later by its buttons, or by Alt with an arrow; the times follow at once. */
export function RoutePart({ route, onVisit }: RoutePartProps) {
  const { locale } = useOffice()
  const at = (minutes: number) => formatTimeOfDay(timeOfDay(minutes % 1440), locale)
  const { shift, failure } = useOrder(route)
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
      {route.workedOut && <ByHand route={route} workedOut={route.workedOut} />}
      {failure && <ProblemNote problem={failure} id={failure.id} />}
      <ol className="route-stops">
        <li className="route-stop second">
          <span className="figures">{at(route.leavesAt)}</span>
          <span>leave the yard</span>
        </li>
        {route.stops.map((stop) => (
          <li
            key={stop.visit.visitId}
            className="route-stop"
            onKeyDown={(event) => {
              const step = event.key === 'ArrowUp' ? -1 : event.key === 'ArrowDown' ? 1 : 0
              if (!event.altKey || step === 0) return
              event.preventDefault()
              shift(stop, step)
            }}
          >
            <b className="figures">{at(stop.arrivesAt)}</b>
            <StopWords stop={stop} onVisit={onVisit} />
            {route.stops.length > 1 && (
              <span className="route-order">
                <Button kind="quiet" isDisabled={stop.stop === 1} onPress={() => shift(stop, -1)}>
                  Earlier<span className="for-ears">: {stop.visit.household.household}</span>
                </Button>
                <Button kind="quiet" isDisabled={stop.stop === route.stops.length} onPress={() => shift(stop, 1)}>
                  Later<span className="for-ears">: {stop.visit.household.household}</span>
                </Button>
              </span>
            )}
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

function StopWords({ stop, onVisit }: { readonly stop: RouteStop; readonly onVisit: (visitId: VisitId) => void }) {
  const { locale } = useOffice()
  const { visit } = stop
  return (
    <div>
      <button type="button" onClick={() => onVisit(visit.visitId)}>
        {visit.household.household}
      </button>
      <div className="second small">
        {[visit.household.line1, visit.household.town].filter((part) => part !== '').join(', ')} · window{' '}
        {formatWindow(visit.windowFrom, visit.windowUntil, locale)}
      </div>
      <div className="second small">
        {workInWords(visit.tasks)} · <span className="in-one-line">{minutesInWords(visit.plannedMinutes)}</span>
      </div>
      {stop.lateMinutes > 0 && <b className="small">{stop.lateMinutes} min after the window: ring ahead</b>}
    </div>
  )
}

/** Puts a stop one place earlier or later; can be undone for a minute. */
function useOrder(route: Route) {
  const say = useSay()
  const { on, technician } = route
  const day = { on, technicianId: technician.technicianId }
  const save = useMutation(ask.routes.order.mutationOptions())
  const before = route.stops.map((stop) => stop.visit.visitId)
  const undo = (): Promise<unknown> =>
    route.workedOut ? office.routes.order({ ...day, visitIds: before }) : office.routes.workOut(day)
  const shift = (stop: RouteStop, step: number): void => {
    const from = stop.stop - 1
    const to = from + step
    if (save.isPending || to < 0 || to >= before.length) return
    save.mutate(
      { ...day, visitIds: before.toSpliced(from, 1).toSpliced(to, 0, stop.visit.visitId) },
      {
        onSuccess: () =>
          say({
            said: `${stop.visit.household.household} is stop ${to + 1} of ${technician.name} now.`,
            undo,
            undone: 'The order is as it was.',
          }),
      },
    )
  }
  return { shift, failure: save.error ? problemOf(save.error) : null }
}

interface ByHandProps {
  readonly route: Route
  readonly workedOut: NonNullable<Route['workedOut']>
}

/** That the order was made by hand, what that costs, and the way back. */
function ByHand({ route, workedOut }: ByHandProps) {
  const { on, technician } = route
  const workOut = useMutation(ask.routes.workOut.mutationOptions())
  const more = route.driveMinutes - workedOut.driveMinutes
  const late = route.stops.filter((stop) => stop.lateMinutes > 0).length
  const costs = [
    more > 0 ? `${minutesInWords(more)} more at the wheel than worked out` : '',
    late > 0
      ? `${counted(late, 'door is', 'doors are')} reached after the window`
      : 'every door is reached in its window',
  ].filter((part) => part !== '')
  return (
    <div className="route-by-hand">
      <span>
        Order made by hand: <span className={late > 0 ? 'bold' : undefined}>{costs.join('; ')}</span>.
      </span>
      <Button kind="quiet" onPress={() => workOut.mutate({ on, technicianId: technician.technicianId })}>
        Work the order out
      </Button>
    </div>
  )
}
