import { keepPreviousData, useQuery } from '@tanstack/react-query'
import type { ReactNode } from 'react'
import { writeCsv } from '../../core/imports/write-csv.ts'
import { worthList } from '../../core/stock/worth-list.ts'
import type { Worth } from '../../core/stock/worth-shapes.ts'
import { addDays, type CalendarDate, calendarDate, isCalendarDate, partsOf } from '../../core/units/calendar-date.ts'
import { counted, monthName, shortDate } from '../../core/units/date-words.ts'
import { partIdSchema } from '../../core/units/ids.ts'
import { formatCents, minorDigits } from '../../core/units/money.ts'
import { Button } from '../design/Button.tsx'
import { InlineChoice, InlineChoices } from '../design/ChoiceField.tsx'
import { DataTable } from '../design/DataTable.tsx'
import { DateField } from '../design/DateField.tsx'
import { useOffice } from '../design/office-manner.ts'
import { Sheet, Sheets } from '../design/Sheet.tsx'
import { printPaper, saveText } from '../design/save-file.ts'
import { useSay } from '../design/undo.ts'
import { ask, problemOf } from '../shell/office-door.ts'
import { useAddressWord, useOpenRecord } from '../shell/open-record.ts'
import { PartSheet } from './PartSheet.tsx'
import { WORTH_LOT_COLUMNS, WORTH_PART_COLUMNS, WORTH_PLACE_COLUMNS } from './worth-columns.tsx'
import './worth.css'

const LISTS = [
  { id: 'parts', words: 'every part' },
  { id: 'resting', words: 'what rests' },
  { id: 'places', words: 'every place' },
  { id: 'expiring', words: 'what expires' },
] as const
const BY_VALUE = { column: 'value', descending: true }
type List = (typeof LISTS)[number]['id']

const RESTS = [
  { id: '90', words: '3 months' },
  { id: '180', words: '6 months' },
  { id: '365', words: 'a year' },
] as const

/** What the stock is worth and how it stands: sentences for the owner, and the figures behind them. */
export function WorthLedger({ viewChoice }: { readonly viewChoice: ReactNode }) {
  const { today, currency, locale } = useOffice()
  const say = useSay()
  const [open, setOpen] = useOpenRecord()
  const [onWord, setOn] = useAddressWord('on')
  const [listWord, setList] = useAddressWord('list')
  const [restWord, setRest] = useAddressWord('rest')
  const on = onWord !== null && isCalendarDate(onWord) ? calendarDate(onWord) : null
  const list: List = LISTS.find(({ id }) => id === listWord)?.id ?? 'parts'
  const rest = RESTS.find(({ id }) => id === restWord)?.id ?? '180'
  const input = { on: on === today ? null : on, restAfterDays: Number(rest) }
  const answer = useQuery(ask.worth.show.queryOptions({ input, placeholderData: keepPreviousData }))
  const worth = answer.data ?? null
  const openId = partIdSchema.safeParse(Number(open))
  const second = openId.success ? (
    <PartSheet key={openId.data} partId={openId.data} onClose={() => setOpen(null)} />
  ) : null
  const saveAll = async (shown: Worth): Promise<void> => {
    const { headers, lines } = worthList(shown, minorDigits(currency))
    const name = `stock-worth-${shown.on}.csv`
    if (await saveText(name, 'text/csv', writeCsv(headers, lines)))
      say({ said: `Saved ${counted(lines.length, 'row')} in ${name}.` })
  }
  return (
    <Sheets second={second}>
      <Sheet
        title={worth === null ? 'What the stock is worth' : `Stock worth ${formatCents(worth.value, currency, locale)}`}
        choices={
          <InlineChoices>
            {viewChoice}
            <DayChoice
              on={on ?? today}
              today={today}
              locale={locale}
              onDay={(day) => setOn(day === today ? null : day)}
            />
            <InlineChoice words="list" label="What to list" choices={LISTS} value={list} onChange={setList} />
            <InlineChoice words="resting after" label="Rests after" choices={RESTS} value={rest} onChange={setRest} />
          </InlineChoices>
        }
        actions={
          <>
            <Button isDisabled={worth === null} onPress={() => worth && void saveAll(worth)}>
              Save it all as a list
            </Button>
            <Button
              isDisabled={worth === null}
              onPress={() => worth && void printPaper(`/papers/worth/${worth.on}.pdf?rest=${rest}`)}
            >
              Print the page
            </Button>
          </>
        }
      >
        {worth !== null && (
          <div className="worth-words">
            {worth.sentences.map((sentence) => (
              <p key={sentence}>{sentence}</p>
            ))}
            <p className="second small">
              Valued at what was paid, first in, first out, lot by lot; without tax and freight.
            </p>
          </div>
        )}
        <WorthTable
          list={list}
          worth={worth}
          open={open}
          onOpen={(partId) => setOpen(String(partId))}
          problem={answer.error ? problemOf(answer.error) : null}
          onTryAgain={() => void answer.refetch()}
        />
      </Sheet>
    </Sheets>
  )
}

interface DayChoiceProps {
  readonly on: CalendarDate
  readonly today: CalendarDate
  readonly locale: string
  readonly onDay: (day: CalendarDate) => void
}

/** Today, the ends of month and year that the accounts ask for, or any day. */
function DayChoice({ on, today, locale, onDay }: DayChoiceProps) {
  const [isTyped, setTyped] = useAddressWord('day')
  const { year, month } = partsOf(today)
  const monthEnd = addDays(calendarDate(`${year}-${String(month).padStart(2, '0')}-01`), -1)
  const yearEnd = addDays(calendarDate(`${year}-01-01`), -1)
  const days = [
    { id: today, words: 'today' },
    { id: monthEnd, words: `the end of ${monthName(partsOf(monthEnd).month)}` },
    ...(yearEnd === monthEnd ? [] : [{ id: yearEnd, words: `the end of ${partsOf(yearEnd).year}` }]),
  ]
  const isListed = days.some((day) => day.id === on)
  const other = { id: 'other' as const, words: isListed ? 'another day' : shortDate(on, locale) }
  const value = isListed && isTyped === null ? on : 'other'
  return (
    <>
      <InlineChoice<string>
        words="as of"
        label="As of which day"
        choices={[...days, other]}
        value={value}
        onChange={(id) => {
          setTyped(id === 'other' ? 'typed' : null)
          if (id !== 'other') onDay(calendarDate(id))
        }}
      />
      {value === 'other' && (
        <DateField label="The day" value={on} onChange={(day) => day !== null && day <= today && onDay(day)} />
      )}
    </>
  )
}

interface WorthTableProps {
  readonly list: List
  readonly worth: Worth | null
  readonly open: string | null
  readonly onOpen: (partId: number) => void
  readonly problem: ReturnType<typeof problemOf> | null
  readonly onTryAgain: () => void
}

function WorthTable({ list, worth, open, onOpen, problem, onTryAgain }: WorthTableProps) {
  if (list === 'places')
    return (
      <DataTable
        key="places"
        name="worth-places"
        label="What lies at every place"
        columns={WORTH_PLACE_COLUMNS}
        rows={worth?.places ?? null}
        rowKey={(place) => String(place.placeId)}
        rowName={(place) => place.name}
        problem={problem}
        onTryAgain={onTryAgain}
        empty={{ why: 'Nothing lies anywhere.', todo: 'Receive parts into a bin.' }}
      />
    )
  if (list === 'expiring')
    return (
      <DataTable
        key="expiring"
        name="worth-expiring"
        label="Lots that expire within 90 days, or have"
        columns={WORTH_LOT_COLUMNS}
        rows={worth?.expiring ?? null}
        density="two-line"
        rowKey={(lot) => String(lot.lotId)}
        rowName={(lot) => `${lot.name}, lot ${lot.lot}`}
        marked={(lot) => lot.willBeUsed < lot.pieces}
        onOpen={(lot) => onOpen(lot.partId)}
        problem={problem}
        onTryAgain={onTryAgain}
        empty={
          worth?.isToday === false
            ? { why: 'What was to expire then is not kept.', todo: 'Look at today.' }
            : { why: 'No lot expires within 90 days.', todo: 'Nothing has to be done about dates.' }
        }
      />
    )
  const parts = worth?.parts ?? null
  const rows = list === 'resting' ? (parts?.filter((part) => part.rests) ?? null) : parts
  return (
    <DataTable
      key="parts"
      name="worth-parts"
      label="What lies of every part, and what it has cost"
      columns={WORTH_PART_COLUMNS}
      rows={rows}
      density="two-line"
      rowKey={(part) => String(part.partId)}
      rowName={(part) => part.name}
      marked={(part) => part.rests}
      sort={BY_VALUE}
      quiet={(part) => part.pieces === 0}
      onOpen={(part) => onOpen(part.partId)}
      openKey={open}
      problem={problem}
      onTryAgain={onTryAgain}
      empty={
        list === 'resting' && (parts?.length ?? 0) > 0
          ? {
              why: `Nothing of ${counted(parts?.length ?? 0, 'part')} rests that long.`,
              todo: 'Look at a shorter rest.',
            }
          : { why: 'No parts are in the books yet.', todo: 'Add a part, then receive its first lot into a bin.' }
      }
    />
  )
}
