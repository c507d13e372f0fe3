import type { CalendarDate } from '../../core/units/calendar-date.ts'
import { counted, dayAndMonth, weekdayName } from '../../core/units/date-words.ts'
import type { VisitId } from '../../core/units/ids.ts'
import { formatTimeOfDay, formatWindow } from '../../core/units/time-of-day.ts'
import { minutesInWords } from '../../core/visits/planned-minutes.ts'
import { VISIT_STATE_WORDS } from '../../core/visits/visit-shapes.ts'
import type { Week, WeekVisit } from '../../core/visits/visits-contract.ts'
import { useOffice } from '../design/office-manner.ts'
import { moveInWeek } from './move-in-week.ts'
import './week.css'

interface WeekTableProps {
  readonly week: Week
  /** The opened visit or day. */
  readonly open: string | null
  readonly onVisit: (visitId: VisitId) => void
  readonly onDay: (day: CalendarDate) => void
}

/** A timetable: a row for each technician, a column for each day, visits in the order of their windows. Arrows walk through it. */
export function WeekTable({ week, open, onVisit, onDay }: WeekTableProps) {
  const { today, locale } = useOffice()
  const shown = week.days.filter((_, index) => index < 5 || week.rows.some((row) => row.days[index]?.visits.length))
  return (
    <div className="week-scroll">
      <table className="week" aria-label="The week by technician" onKeyDown={moveInWeek}>
        <thead>
          <tr>
            <th scope="col" className="week-who">
              <span className="for-ears">Technician</span>
            </th>
            {shown.map((day) => (
              <th key={day} scope="col" data-today={day === today || undefined}>
                <button
                  type="button"
                  className="week-day"
                  aria-pressed={open === `day-${day}`}
                  onClick={() => onDay(day)}
                >
                  <b>{weekdayName(day)}</b> {dayAndMonth(day, locale)}
                  {day === today && <span className="second"> today</span>}
                </button>
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {week.rows.map((row) => (
            <tr key={row.technician?.technicianId ?? 'nobody'}>
              <th scope="row" className="week-who">
                {row.technician?.name ?? 'Nobody yet'}
                <span className="second small">
                  {row.technician ? row.technician.phone : 'nothing is pulled until someone has it'}
                </span>
              </th>
              {row.days
                .filter((day) => shown.includes(day.on))
                .map((day) => (
                  <td key={day.on} data-today={day.on === today || undefined}>
                    {day.away !== '' && <p className="second small">{day.away}</p>}
                    {day.visits.map((visit) => (
                      <VisitInWeek
                        key={visit.visitId}
                        visit={visit}
                        isOpen={open === String(visit.visitId)}
                        isMissed={visit.state === 'booked' && day.on < today}
                        locale={locale}
                        onVisit={onVisit}
                      />
                    ))}
                    {(day.minutesThere > 0 || day.visits.length > 0) && row.technician && <Taken day={day} />}
                  </td>
                ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}

interface VisitInWeekProps {
  readonly visit: WeekVisit
  readonly isOpen: boolean
  readonly isMissed: boolean
  readonly locale: string
  readonly onVisit: (visitId: VisitId) => void
}

function VisitInWeek({ visit, isOpen, isMissed, locale, onVisit }: VisitInWeekProps) {
  const state = isMissed ? 'not recorded' : visit.state === 'booked' ? '' : VISIT_STATE_WORDS[visit.state]
  return (
    <button
      type="button"
      className="week-visit"
      aria-pressed={isOpen}
      data-marked={isMissed || undefined}
      onClick={() => onVisit(visit.visitId)}
    >
      <span className="figures second small">{formatTimeOfDay(visit.windowFrom, locale)}</span>
      <span className="week-name">{visit.household}</span>
      <span className="second small">
        {[visit.town, state].filter((part) => part !== '').join(', ')}
        <span className="for-ears">
          , window {formatWindow(visit.windowFrom, visit.windowUntil, locale)}, {visit.what}
        </span>
      </span>
    </button>
  )
}

function Taken({ day }: { readonly day: Week['rows'][number]['days'][number] }) {
  if (day.visits.length === 0)
    return <p className="second small week-taken">free, {minutesInWords(day.minutesThere)}</p>
  return (
    <p className="second small week-taken" data-full={day.minutesTaken > day.minutesThere || undefined}>
      {minutesInWords(day.minutesTaken)} of {minutesInWords(day.minutesThere)}
      <span className="for-ears">, {counted(day.visits.length, 'visit')}</span>
    </p>
  )
}
