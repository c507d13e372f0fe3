import { useQuery } from '@tanstack/react-query'
import { addDays, type CalendarDate, calendarDateSchema } from '../../core/units/calendar-date.ts'
import { counted, dayAndMonth } from '../../core/units/date-words.ts'
import { visitIdSchema } from '../../core/units/ids.ts'
import type { WeekVisit } from '../../core/visits/visits-contract.ts'
import { Button } from '../design/Button.tsx'
import { EmptyPlace } from '../design/EmptyPlace.tsx'
import { useOffice } from '../design/office-manner.ts'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { Sheet, Sheets } from '../design/Sheet.tsx'
import { ask, problemOf } from '../shell/office-door.ts'
import { useAddressWord, useGoTo, useOpenRecord } from '../shell/open-record.ts'
import { DaySheet } from './DaySheet.tsx'
import { VisitSheet } from './VisitSheet.tsx'
import { WeekTable } from './WeekTable.tsx'

/** The week by technician; beside it a day's routes, or a visit. The address says which week, and what is open. */
export function VisitsScreen() {
  const { today, locale } = useOffice()
  const [typed, setWeek] = useAddressWord('week')
  const [open, setOpen] = useOpenRecord()
  const goTo = useGoTo()
  const read = calendarDateSchema.safeParse(typed)
  const on = read.success ? read.data : today
  const week = useQuery(ask.visits.week.queryOptions({ input: { on }, placeholderData: (before) => before }))
  const failure = week.error ? problemOf(week.error) : null
  const days = week.data?.rows.flatMap((row) => row.days) ?? []
  const visits = days.flatMap((day) => day.visits)
  // What is still to come cannot be recorded yet.
  const toRecord = days.filter((day) => day.on <= today).flatMap((day) => day.visits.filter(isBooked)).length
  const last = week.data?.days.at(-1)
  const title =
    week.data && last ? `${dayAndMonth(week.data.monday, locale)} to ${dayAndMonth(last, locale)}` : 'The week'
  const go = (day: CalendarDate) => setWeek(day === today ? null : day)
  return (
    <Sheets second={open === null ? null : <Opened open={open} onOpen={setOpen} />}>
      <Sheet
        title={`${title}: ${counted(visits.length, 'visit')}`}
        aside={toRecord > 0 ? `${toRecord} to record` : undefined}
        actions={
          <>
            <Button kind="quiet" onPress={() => go(addDays(on, -7))}>
              Week before
            </Button>
            <Button kind="quiet" isDisabled={on === today} onPress={() => go(today)}>
              This week
            </Button>
            <Button kind="quiet" onPress={() => go(addDays(on, 7))}>
              Week after
            </Button>
          </>
        }
      >
        {failure && <ProblemNote problem={failure} id={failure.id} onTryAgain={() => void week.refetch()} />}
        {week.data && week.data.rows.length > 0 && (
          <WeekTable
            week={week.data}
            open={open}
            onVisit={(visitId) => setOpen(String(visitId))}
            onDay={(day) => setOpen(`day-${day}`)}
          />
        )}
        {week.data?.rows.length === 0 && (
          <EmptyPlace
            why="No technician is in the books, so nobody can be sent."
            todo="Write down who drives, and on which days."
            action={<Button onPress={() => goTo('/settings')}>Open Settings</Button>}
          />
        )}
      </Sheet>
    </Sheets>
  )
}

const isBooked = ({ state }: WeekVisit): boolean => state === 'booked'

function Opened({ open, onOpen }: { readonly open: string; readonly onOpen: (key: string | null) => void }) {
  const day = calendarDateSchema.safeParse(open.replace(/^day-/, ''))
  if (day.success)
    return <DaySheet key={open} on={day.data} onVisit={(id) => onOpen(String(id))} onClose={() => onOpen(null)} />
  const visit = visitIdSchema.safeParse(Number(open))
  return visit.success ? <VisitSheet key={open} visitId={visit.data} onClose={() => onOpen(null)} /> : null
}
