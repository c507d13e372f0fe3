import type { ReactNode } from 'react'
import type { CalendarDate } from '../../core/units/calendar-date.ts'
import { agoInWords, dayAndMonth, distanceInWords, shortDate, weekdayAndDate } from '../../core/units/date-words.ts'
import { type Cents, formatCents } from '../../core/units/money.ts'
import { useOffice } from './office-manner.ts'

interface DateTextProps {
  readonly date: CalendarDate
  /** `short` "Nov 9, 2026"; `day` "Nov 9"; `visit` "Wednesday, Dec 2", where someone has to be there. Default short. */
  readonly as?: 'short' | 'day' | 'visit'
}

/** A date, the way the office's country writes it. */
export function DateText({ date, as = 'short' }: DateTextProps) {
  const { locale } = useOffice()
  const text =
    as === 'visit' ? weekdayAndDate(date, locale) : as === 'day' ? dayAndMonth(date, locale) : shortDate(date, locale)
  return <time dateTime={date}>{text}</time>
}

/** How far a due date is: "in 3 weeks"; late ones in bold: "12 days late". */
export function DistanceText({ date }: { readonly date: CalendarDate }) {
  const { today } = useOffice()
  const words = distanceInWords(date, today)
  return date < today ? <b>{words}</b> : <span className="second small">{words}</span>
}

/** How long ago something was done: "3 weeks ago". */
export function AgoText({ date }: { readonly date: CalendarDate }) {
  const { today } = useOffice()
  return <span className="second small">{agoInWords(date, today)}</span>
}

/** An amount. `bare` in a column that names its currency once, in the header. */
export function MoneyText({ cents, bare = false }: { readonly cents: Cents; readonly bare?: boolean }) {
  const { currency, locale } = useOffice()
  return <span>{formatCents(cents, currency, locale, bare)}</span>
}

/** A figure with its unit, small after a thin space. `text` as core/units/measures writes it: "58 psi". */
export function MeasureText({ text }: { readonly text: string }) {
  const at = text.lastIndexOf(' ')
  if (at < 0) return <span>{text}</span>
  return (
    <span>
      {text.slice(0, at)}
      <span className="unit">{text.slice(at + 1)}</span>
    </span>
  )
}

/** Two lines in a table cell: what it is, and quieter what belongs to it. */
export function TwoLines({ first, second }: { readonly first: ReactNode; readonly second: ReactNode }) {
  return (
    <span className="two-lines">
      <span>{first}</span>
      <span>{second}</span>
    </span>
  )
}

/** When something is due and, below it, why; said in full on hover where the column is too narrow for it. */
export function DueAndWhy({ dueOn, reason }: { readonly dueOn: CalendarDate; readonly reason: string }) {
  return (
    <TwoLines
      first={
        <>
          <DateText date={dueOn} as="day" /> <DistanceText date={dueOn} />
        </>
      }
      second={<span title={reason}>{reason}</span>}
    />
  )
}
