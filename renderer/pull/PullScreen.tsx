import { useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import type { FindingDone, PullDay, PullLineRow, VanPullRow } from '../../core/stock/pull-contract.ts'
import { calendarDate, isCalendarDate } from '../../core/units/calendar-date.ts'
import { counted, weekdayAndDate } from '../../core/units/date-words.ts'
import { Button } from '../design/Button.tsx'
import { DateField } from '../design/DateField.tsx'
import { EmptyPlace } from '../design/EmptyPlace.tsx'
import { useOffice } from '../design/office-manner.ts'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { Sheet, Sheets, useTakesOver } from '../design/Sheet.tsx'
import { ask, problemOf } from '../shell/office-door.ts'
import { useAddressWord, useOpenRecord } from '../shell/open-record.ts'
import { LineSheet } from './LineSheet.tsx'
import { LosingVisits } from './LosingVisits.tsx'
import { PullActions } from './PullActions.tsx'
import { outcomeLines, stateWords } from './pull-words.ts'
import type { TroubleDraft } from './trouble-draft.ts'
import { VanList } from './VanList.tsx'
import './pull.css'

/** How often a list that is being pulled is looked at anew: two who pull at once see each other's ticks. */
const LOOK_AGAIN_MS = 3_000

/** The warehouse's afternoon: a day, its vans, and the list of one of them to tick off. */
export function PullScreen() {
  const { locale } = useOffice()
  const [typedDay, setDay] = useAddressWord('day')
  const [vanWord, setVan] = useAddressWord('van')
  const next = useQuery(ask.pull.nextDay.queryOptions())
  const on = typedDay !== null && isCalendarDate(typedDay) ? calendarDate(typedDay) : (next.data?.on ?? null)
  const day = useQuery({
    ...ask.pull.day.queryOptions({ input: { on: on ?? calendarDate('2000-01-01') } }),
    enabled: on !== null,
    refetchInterval: (query) => (query.state.data?.vans.some((van) => van.state === 'open') ? LOOK_AGAIN_MS : false),
  })
  const vans = day.data?.vans ?? []
  const van = vans.find((each) => String(each.vanId) === vanWord) ?? vans[0] ?? null
  const failure = next.error ?? day.error
  const trouble = useTrouble(van)
  const driver = van?.technician ? `, ${van.technician}` : ''
  const title = on === null ? 'Pull' : `Pull for ${weekdayAndDate(on, locale)}`
  return (
    <Sheets second={trouble.sheet}>
      <Sheet
        title={van ? `${title}: ${van.van}${driver}, ${counted(van.stops, 'stop')}` : title}
        choices={<VanChoices vans={vans} chosen={van} onChoose={(id) => setVan(String(id))} />}
        actions={<DateField label="Day" value={on} onChange={(value) => setDay(value)} chars={14} />}
      >
        {failure !== null && <ProblemNote problem={problemOf(failure)} onTryAgain={() => void day.refetch()} />}
        {trouble.done !== null && <Outcome done={trouble.done} onRead={trouble.read} />}
        {day.data && on !== null && van && (
          <div key={van.vanId}>
            <VanList
              van={van}
              openLine={trouble.line?.lineId ?? null}
              onOpen={trouble.openLine}
              onScanned={trouble.scanned}
            />
            <LosingVisits day={day.data} van={van} />
            <PullActions day={day.data} van={van} on={on} />
          </div>
        )}
        {day.data && <LooseEnds day={day.data} />}
        {day.data && van === null && (
          <EmptyPlace
            why={`No van has a visit booked for ${weekdayAndDate(day.data.on, locale)}.`}
            todo="Choose another day, or book a visit first."
          />
        )}
      </Sheet>
    </Sheets>
  )
}

/** The line in the second sheet, and what became of the last thing that was found. */
function useTrouble(van: VanPullRow | null) {
  const [open, setOpen] = useOpenRecord()
  const [start, setStart] = useState<TroubleDraft | null>(null)
  const [done, setDone] = useState<FindingDone | null>(null)
  const takesOver = useTakesOver()
  const line = van?.lines.find((each) => each.lineId !== null && `line-${each.lineId}` === open) ?? null
  const pullId = van?.state === 'open' ? van.pullId : null
  const sheet =
    van === null || line === null || pullId === null ? null : (
      <LineSheet
        key={line.lineId}
        van={van}
        pullId={pullId}
        line={line}
        start={start}
        onClose={() => setOpen(null)}
        onDone={(outcome) => {
          setDone(outcome)
          setOpen(null)
        }}
      />
    )
  const openLine = (each: PullLineRow, begin: TroubleDraft | null): void => {
    setStart(begin)
    setOpen(`line-${each.lineId}`)
  }
  // Where the second sheet takes the first one's place, a scan brings the list back: its answer stands there. The draft is kept.
  const scanned = (): void => {
    if (takesOver && open !== null) setOpen(null)
  }
  return { sheet, line, openLine, scanned, done, read: () => setDone(null) }
}

/** What became of what was found: where the rest comes from now, and who goes without and why. */
function Outcome({ done, onRead }: { readonly done: FindingDone; readonly onRead: () => void }) {
  return (
    <section className="pull-outcome" aria-label="What was found" role="status">
      <p className="bold">{done.sentence}</p>
      <ul className="pull-facts">
        {outcomeLines(done).map((words) => (
          <li key={words}>{words}</li>
        ))}
      </ul>
      <Button glove onPress={onRead}>
        Go on pulling
      </Button>
    </section>
  )
}

function VanChoices({
  vans,
  chosen,
  onChoose,
}: {
  readonly vans: readonly VanPullRow[]
  readonly chosen: VanPullRow | null
  readonly onChoose: (vanId: VanPullRow['vanId']) => void
}) {
  return (
    <div className="pull-vans">
      {vans.map((van) => (
        <button
          key={van.vanId}
          type="button"
          className="pull-van"
          aria-pressed={van.vanId === chosen?.vanId}
          onClick={() => onChoose(van.vanId)}
        >
          {van.van}: {stateWords(van)}
        </button>
      ))}
    </div>
  )
}

/** What no list can show: visits without a van, stages without a part. */
function LooseEnds({ day }: { readonly day: PullDay }) {
  if (day.withoutVan.length + day.withoutPart.length === 0) return null
  return (
    <div className="sheet-below">
      {day.withoutVan.length > 0 && (
        <p className="second">
          Not on any van yet: {day.withoutVan.map((visit) => visit.household).join(', ')}. Give the visit a technician
          with a van.
        </p>
      )}
      {day.withoutPart.length > 0 && (
        <p className="second">
          Nobody said which part: {day.withoutPart.map((task) => `${task.household} (${task.what})`).join(', ')}.
        </p>
      )}
    </div>
  )
}
