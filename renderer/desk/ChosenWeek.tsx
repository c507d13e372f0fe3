import { addDays, type CalendarDate, daysBetween } from '../../core/units/calendar-date.ts'
import { counted, dayAndMonth } from '../../core/units/date-words.ts'
import type { LookAhead, WeekAhead } from '../../core/visits/look-ahead-shapes.ts'
import { hoursInWords, weekInWords, weekName } from '../../core/visits/look-ahead-words.ts'
import { Button } from '../design/Button.tsx'
import { useOffice } from '../design/office-manner.ts'

interface ChosenWeekProps {
  readonly ahead: LookAhead
  readonly at: number
  /** The last due date that a letter of today can be about. */
  readonly lettersUntil: CalendarDate
  /** Opens the households whose next visit is planned in the week. */
  readonly onLook: (week: WeekAhead) => void
}

/** A week of the look-ahead in words: what falls due, what could move where, and what to do about it. */
export function ChosenWeek({ ahead, at, lettersUntil, onLook }: ChosenWeekProps) {
  const { locale, today } = useOffice()
  const week = ahead.weeks[at]
  if (!week) return null
  const sunday = addDays(week.monday, 6)
  const firstLetterDay = addDays(today, daysBetween(lettersUntil, sunday))
  const name = weekName(ahead, at, locale)
  return (
    <section className="look-ahead-week" aria-live="polite">
      <h3>{name.replace(/^t/, 'T')}</h3>
      {weekInWords(ahead, at, locale).map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      {week.households > 0 && (
        <p className="look-ahead-action screen-only">
          {sunday <= lettersUntil ? (
            <Button kind="primary" onPress={() => onLook(week)}>
              Write letters for the {counted(week.households, 'household')} of {name} now
            </Button>
          ) : (
            <>
              <Button onPress={() => onLook(week)}>
                Look through the {counted(week.households, 'household')} of {name}
              </Button>
              <br />
              <span className="second small">
                Letters to them can be written from {dayAndMonth(firstLetterDay, locale)} on; an earlier one would be
                forgotten by then.
              </span>
            </>
          )}
        </p>
      )}
      {week.couldGo.length > 0 && <CouldGo ahead={ahead} at={at} />}
    </section>
  )
}

/** Where the planned visits of a week could be instead, and what evening out takes. */
function CouldGo({ ahead, at }: { readonly ahead: LookAhead; readonly at: number }) {
  const { locale } = useOffice()
  const week = ahead.weeks[at]
  if (!week) return null
  return (
    <table className="look-ahead-moves">
      <caption>Where its planned visits could be instead</caption>
      <thead>
        <tr>
          <th scope="col">Week</th>
          <th scope="col" className="figures">
            Could move
          </th>
          <th scope="col" className="figures">
            Evening out moves
          </th>
          <th scope="col" className="figures">
            It then holds
          </th>
        </tr>
      </thead>
      <tbody>
        {week.couldGo.map(({ to, visits }) => (
          <tr key={to}>
            <th scope="row">{weekName(ahead, to, locale)}</th>
            <td className="figures">{counted(visits, 'visit')}</td>
            <td className="figures">
              {week.moves.find((move) => move.to === to)?.visits.toLocaleString('en-US') ?? 'none'}
            </td>
            <td className="figures">
              {hoursInWords(ahead.weeks[to]?.evenedMinutes ?? 0)} of {hoursInWords(ahead.weeks[to]?.hours ?? 0)}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

/** Where the late ones are found. */
export function LateVisits({ ahead, onLook }: { readonly ahead: LookAhead; readonly onLook: () => void }) {
  const { visits } = ahead.late
  if (visits === 0) return null
  return (
    <p className="look-ahead-action screen-only">
      <Button onPress={onLook}>Look through the {counted(visits, 'household')} past the grace</Button>
    </p>
  )
}
