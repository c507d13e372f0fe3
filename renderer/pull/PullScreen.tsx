import { useMutation, useQuery } from '@tanstack/react-query'
import { type ReactNode, useRef, useState } from 'react'
import type { PullDay, PullLineRow, VanPullRow } from '../../core/stock/pull-contract.ts'
import { type CalendarDate, calendarDate, isCalendarDate } from '../../core/units/calendar-date.ts'
import { counted, weekdayAndDate } from '../../core/units/date-words.ts'
import { Button } from '../design/Button.tsx'
import { DateField } from '../design/DateField.tsx'
import { Decision } from '../design/Dialog.tsx'
import { EmptyPlace } from '../design/EmptyPlace.tsx'
import { TextField } from '../design/Field.tsx'
import { useOffice } from '../design/office-manner.ts'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { Sheet, Sheets } from '../design/Sheet.tsx'
import { printPaper } from '../design/save-file.ts'
import { useSay } from '../design/undo.ts'
import { ask, problemOf } from '../shell/office-door.ts'
import { useAddressWord } from '../shell/open-record.ts'
import { PullLines } from './PullLines.tsx'
import { lineMeant, progressOf, restSentences, stateWords } from './pull-words.ts'
import './pull.css'

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
  })
  const vans = day.data?.vans ?? []
  const van = vans.find((each) => String(each.vanId) === vanWord) ?? vans[0] ?? null
  const failure = next.error ?? day.error
  const driver = van?.technician ? `, ${van.technician}` : ''
  const title = on === null ? 'Pull' : `Pull for ${weekdayAndDate(on, locale)}`
  return (
    <Sheets>
      <Sheet
        title={van ? `${title}: ${van.van}${driver}, ${counted(van.stops, 'stop')}` : title}
        choices={<VanChoices vans={vans} chosen={van} onChoose={(id) => setVan(String(id))} />}
        actions={<DateField label="Day" value={on} onChange={(value) => setDay(value)} chars={14} />}
      >
        {failure !== null && <ProblemNote problem={problemOf(failure)} onTryAgain={() => void day.refetch()} />}
        {day.data && on !== null && van && <VanList key={van.vanId} day={day.data} van={van} on={on} />}
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

interface ListProps {
  readonly day: PullDay
  readonly van: VanPullRow
  readonly on: CalendarDate
}

function VanList({ day, van, on }: ListProps) {
  const { asked, pulled } = progressOf(van)
  const tick = useMutation(ask.pull.tick.mutationOptions())
  const place = useRef<HTMLDivElement>(null)
  const isOpen = van.state === 'open' && van.pullId !== null
  const onTick = (line: PullLineRow, pulled: number | null): void => {
    if (van.pullId !== null && line.lineId !== null) tick.mutate({ pullId: van.pullId, lineId: line.lineId, pulled })
  }
  const onScan = (typed: string): boolean => {
    const line = van.lines[lineMeant(van, typed)]
    if (line && isOpen) onTick(line, line.quantity)
    return line !== undefined
  }
  return (
    <div ref={place}>
      <p>{progressWords(van, asked, pulled)}</p>
      {isOpen && (
        <div className="pull-progress" role="img" aria-label={`${pulled} of ${asked} pieces pulled`}>
          <span style={{ width: `${asked === 0 ? 0 : (100 * pulled) / asked}%` }} />
        </div>
      )}
      {isOpen && <ScanField onScan={onScan} />}
      {tick.error !== null && <ProblemNote problem={problemOf(tick.error)} />}
      {van.lines.length + van.shortages.length > 0 ? (
        <PullLines van={van} onTick={isOpen ? onTick : null} />
      ) : (
        <EmptyPlace
          why={van.aboard.length > 0 ? 'Everything is on the van already.' : 'The visits of this van need no parts.'}
        />
      )}
      <Actions day={day} van={van} on={on} pulled={pulled} />
    </div>
  )
}

function progressWords(van: VanPullRow, asked: number, pulled: number): string {
  if (van.state === 'open') return `${pulled} of ${asked} pieces pulled, in the order of the walk`
  if (van.state === 'ready') return `${counted(pulled, 'piece')} put on ${van.van}`
  return `${counted(asked, 'piece')} to pull, in the order of the walk; nothing is promised yet`
}

/** A scanner types and ends with Enter: the line is ticked. */
function ScanField({ onScan }: { readonly onScan: (typed: string) => boolean }) {
  const [typed, setTyped] = useState('')
  const [missed, setMissed] = useState<string | null>(null)
  return (
    <form
      className="pull-scan"
      onSubmit={(event) => {
        event.preventDefault()
        setMissed(onScan(typed) ? null : `Nothing on this list is called ${typed}.`)
        setTyped('')
      }}
    >
      <TextField label="Scan a bin, a part or a lot" value={typed} onChange={setTyped} chars={24} problem={missed} />
    </form>
  )
}

function Actions({ day, van, on, pulled }: ListProps & { readonly pulled: number }) {
  const say = useSay()
  const begin = useMutation(ask.pull.begin.mutationOptions())
  const confirm = useMutation({
    ...ask.pull.confirm.mutationOptions(),
    onSuccess: (done) =>
      say({
        said: `${counted(done.pieces, 'piece')} put on ${done.van}.${done.released > 0 ? ` ${counted(done.released, 'piece')} left behind ${done.released === 1 ? 'is' : 'are'} free again.` : ''}`,
      }),
  })
  const takeBack = useMutation({
    ...ask.pull.takeBack.mutationOptions(),
    onSuccess: (done) => say({ said: `The pull for ${done.van} is taken back; ${done.pieces} pieces are free again.` }),
  })
  const [asks, setAsks] = useState<'confirm' | 'take-back' | null>(null)
  const failure = begin.error ?? confirm.error ?? takeBack.error
  const { asked } = progressOf(van)
  const aboard = van.aboard.reduce((sum, line) => sum + line.quantity, 0)
  const { pullId } = van
  const put = (): void => {
    setAsks(null)
    if (pullId !== null) confirm.mutate({ pullId })
  }
  return (
    <>
      {failure !== null && <ProblemNote problem={problemOf(failure)} />}
      <div className="pull-foot">
        {van.state === 'not-begun' && asked + aboard > 0 && !day.isPast && (
          <Button kind="primary" glove onPress={() => begin.mutate({ on, vanIds: [van.vanId] })}>
            Begin pulling {counted(asked, 'piece')}
          </Button>
        )}
        {van.state === 'open' && (
          <Button kind="primary" glove onPress={() => (pulled < asked ? setAsks('confirm') : put())}>
            Put {pulled < asked ? `${pulled} of ${counted(asked, 'piece')}` : counted(asked, 'piece')} on {van.van}
          </Button>
        )}
        {van.more > 0 && !day.isPast && (
          <Button glove onPress={() => begin.mutate({ on, vanIds: [van.vanId] })}>
            Pull {counted(van.more, 'more piece')}
          </Button>
        )}
        <Button glove onPress={() => printPaper(`/papers/pull/${on}.pdf`)}>
          Print
        </Button>
        {van.state === 'open' && (
          <Button kind="quiet" glove onPress={() => setAsks('take-back')}>
            Take back this pull
          </Button>
        )}
        {aboard > 0 && (
          <span className="second">
            {counted(aboard, 'more piece')} {aboard === 1 ? 'is' : 'are'} on the van already
          </span>
        )}
      </div>
      <Ask
        isOpen={asks === 'confirm'}
        title={`Put ${pulled} of ${counted(asked, 'piece')} on ${van.van}?`}
        doIt={`Put ${counted(pulled, 'piece')} on ${van.van}`}
        leaveIt="Go on ticking"
        onDoIt={put}
        onLeaveIt={() => setAsks(null)}
      >
        {restSentences(van).map((sentence) => (
          <span key={sentence} className="pull-rest">
            {sentence}
          </span>
        ))}
      </Ask>
      <Ask
        isOpen={asks === 'take-back'}
        title={`Take back the pull for ${van.van}?`}
        doIt="Take back this pull"
        leaveIt="Keep it"
        onDoIt={() => {
          setAsks(null)
          if (pullId !== null) takeBack.mutate({ pullId })
        }}
        onLeaveIt={() => setAsks(null)}
      >
        Its {asked} pieces are free for other vans, and its ticks are gone. What lies in the totes goes back on the
        shelf.
      </Ask>
    </>
  )
}

function Ask(props: {
  readonly isOpen: boolean
  readonly title: string
  readonly doIt: string
  readonly leaveIt: string
  readonly onDoIt: () => void
  readonly onLeaveIt: () => void
  readonly children: ReactNode
}) {
  const { children, ...rest } = props
  return (
    <Decision {...rest}>
      <p>{children}</p>
    </Decision>
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
