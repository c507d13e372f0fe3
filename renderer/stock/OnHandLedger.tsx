import { useQuery } from '@tanstack/react-query'
import { type ReactNode, useMemo, useState } from 'react'
import { calendarDate, isCalendarDate } from '../../core/units/calendar-date.ts'
import { counted, weekdayAndDate } from '../../core/units/date-words.ts'
import { addCents, NO_MONEY } from '../../core/units/money.ts'
import { InlineChoices } from '../design/ChoiceField.tsx'
import { DataTable } from '../design/DataTable.tsx'
import { DateField } from '../design/DateField.tsx'
import { useOffice } from '../design/office-manner.ts'
import { SearchField } from '../design/SearchField.tsx'
import { Sheet, Sheets } from '../design/Sheet.tsx'
import { MoneyText } from '../design/Words.tsx'
import { ask, problemOf } from '../shell/office-door.ts'
import { useAddressWord } from '../shell/open-record.ts'
import { ON_HAND_COLUMNS } from './count-columns.tsx'
import { heapLines } from './heap-lines.ts'

/** On hand by part, lot and place, now or at the end of any day before. */
export function OnHandLedger({ viewChoice }: { readonly viewChoice: ReactNode }) {
  const { today, locale } = useOffice()
  const [word, setWord] = useAddressWord('on')
  const [typed, setTyped] = useState('')
  const on = word !== null && isCalendarDate(word) ? calendarDate(word) : today
  const answer = useQuery(ask.stock.onHand.queryOptions({ input: { on } }))
  const lines = useMemo(() => (answer.data ? heapLines(answer.data) : null), [answer.data])
  const words = typed.toLowerCase().split(/\s+/).filter(Boolean)
  const rows =
    lines?.filter((line) =>
      words.every((each) => `${line.part} ${line.number} ${line.lot} ${line.place}`.toLowerCase().includes(each)),
    ) ?? null
  const pieces = rows?.reduce((sum, line) => sum + line.quantity, 0) ?? 0
  const value = rows?.reduce((sum, line) => addCents(sum, line.value), NO_MONEY) ?? NO_MONEY
  const when = on === today ? 'now' : `at the end of ${weekdayAndDate(on, locale)}`
  return (
    <Sheets>
      <Sheet
        title={`On hand ${when}: ${counted(pieces, 'piece')}`}
        aside={
          <>
            <MoneyText cents={value} /> at cost
          </>
        }
        choices={<InlineChoices>{viewChoice}</InlineChoices>}
        actions={
          <>
            <SearchField label="Find in it" placeholder="Part, lot or place" value={typed} onChange={setTyped} />
            <DateField label="As on" value={on} onChange={(date) => setWord(date === today ? null : date)} />
          </>
        }
      >
        <DataTable
          name="on-hand"
          label="On hand by part, lot and place"
          columns={ON_HAND_COLUMNS}
          rows={rows}
          rowKey={(line) => line.key}
          rowName={(line) => `${line.part}, lot ${line.lot} in ${line.place}`}
          problem={answer.error ? problemOf(answer.error) : null}
          onTryAgain={() => void answer.refetch()}
          empty={
            typed === ''
              ? { why: `Nothing lay anywhere ${when}.`, todo: 'Choose another day, or receive a first lot into a bin.' }
              : { why: `Nothing here is called “${typed}”.`, todo: 'Look for fewer letters.' }
          }
        />
      </Sheet>
    </Sheets>
  )
}
