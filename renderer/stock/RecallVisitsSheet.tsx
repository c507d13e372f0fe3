import { useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import {
  type RecallBooked,
  type RecallSheetFacts,
  type RecallVisits,
  recallBookedSchema,
} from '../../core/stock/recall-contract.ts'
import type { CalendarDate } from '../../core/units/calendar-date.ts'
import { counted } from '../../core/units/date-words.ts'
import { Button } from '../design/Button.tsx'
import { DateField } from '../design/DateField.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SecondSheet, SheetPart } from '../design/Sheet.tsx'
import { useSay } from '../design/undo.ts'
import { DateText } from '../design/Words.tsx'
import { ask, problemOf } from '../shell/office-door.ts'
import { useWork } from '../shell/use-work.ts'

/** The visits that one press would book, by day and technician; then what came of it. */
export function RecallVisitsSheet({
  sheet,
  onClose,
}: {
  readonly sheet: RecallSheetFacts
  readonly onClose: () => void
}) {
  const { lotId } = sheet
  const [from, setFrom] = useState<CalendarDate | null>(null)
  const [came, setCame] = useState<RecallBooked | null>(null)
  const say = useSay()
  const asked = useQuery(ask.recall.visits.queryOptions({ input: { lotId, from } }))
  const work = useWork('recall-visits', (state) => {
    const booked = recallBookedSchema.safeParse(state.outcome)
    if (!booked.success) return
    setCame(booked.data)
    say({ said: cameWords(booked.data) })
  })
  const plan = asked.data
  const todo = plan ? plan.visits + plan.added.length : 0
  return (
    <SecondSheet title="Visits for the recall" below={`lot ${sheet.lot}`} onClose={onClose} backTo="the recall">
      {asked.error && <ProblemNote problem={problemOf(asked.error)} onTryAgain={() => void asked.refetch()} />}
      {work.error !== null && <ProblemNote problem={problemOf(work.error)} />}
      {work.state?.problem && <ProblemNote problem={work.state.problem} onTryAgain={work.forget} />}
      {plan && (
        <>
          <p className="recall-says">{planWords(plan)}</p>
          {(todo > 0 || work.isRunning) && (
            <>
              <DateField
                label="Not before"
                value={from ?? plan.from}
                onChange={setFrom}
                note="Later than today, so that letters arrive first."
              />
              <div className="form-foot">
                <Button
                  kind="primary"
                  isDisabled={work.isRunning}
                  onPress={() => work.start({ lotId, from: plan.from })}
                >
                  {work.isRunning ? 'Booking' : `Book ${counted(todo, 'visit')}`}
                </Button>
                {work.isRunning && <Button onPress={work.stop}>Stop</Button>}
              </div>
            </>
          )}
          {came && <Left came={came} />}
          <Days plan={plan} />
        </>
      )}
    </SecondSheet>
  )
}

function planWords({ visits, days, until, added }: RecallVisits): string {
  const on = new Set(days.map((day) => day.on)).size
  const said =
    visits === 0 || until === null
      ? []
      : [`${counted(visits, 'visit')} over ${counted(on, 'day')}, promised, call and change free of charge.`]
  if (added.length > 0)
    said.push(
      `The change is added to ${counted(added.length, 'visit')} that ${added.length === 1 ? 'is' : 'are'} booked already.`,
    )
  return said.length === 0 ? 'Every home that can have a visit has one.' : said.join(' ')
}

const cameWords = ({ booked, added, left, notComeTo }: RecallBooked): string =>
  [
    `${counted(booked, 'visit')} booked.`,
    added > 0 ? `The change is added to ${counted(added, 'visit')}.` : '',
    left.length > 0 ? `${counted(left.length, 'home')} not booked.` : '',
    notComeTo > 0 ? `Stopped before ${counted(notComeTo, 'home')}.` : '',
  ]
    .filter((part) => part !== '')
    .join(' ')

/** Whoever could not be booked, with the reason. */
function Left({ came }: { readonly came: RecallBooked }) {
  if (came.left.length === 0) return null
  return (
    <SheetPart title={`${counted(came.left.length, 'home')} to book by hand`}>
      <ul className="recall-list">
        {came.left.map((home) => (
          <li key={home.siteId}>
            <b>{home.household}</b>, {home.town}, {home.phone}: {home.why}
          </li>
        ))}
      </ul>
    </SheetPart>
  )
}

function Days({ plan }: { readonly plan: RecallVisits }) {
  const short = plan.parts.filter((part) => part.usable < part.needed)
  return (
    <>
      {short.map((part) => (
        <p key={part.number}>
          <b>
            {part.needed} of {part.name} are needed, {part.usable} can be used
          </b>
          : order {part.needed - part.usable} more before the visits.
        </p>
      ))}
      {plan.days.length > 0 && (
        <SheetPart title="Day by day">
          <table className="stock-lots">
            <thead>
              <tr className="second small">
                <th>Day</th>
                <th>Technician</th>
                <th className="figure">Visits</th>
                <th>Towns</th>
              </tr>
            </thead>
            <tbody>
              {plan.days.map((day) => (
                <tr key={`${day.on} ${day.technician}`}>
                  <td>
                    <DateText date={day.on} as="day" />
                  </td>
                  <td>{day.technician}</td>
                  <td className="figure">{day.visits}</td>
                  <td>{day.towns}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </SheetPart>
      )}
      {plan.added.length > 0 && (
        <SheetPart title="Added to what is booked">
          <ul className="recall-list">
            {plan.added.map((visit) => (
              <li key={visit.siteId}>
                <b>{visit.household}</b>, {visit.town}: <DateText date={visit.on} as="day" />,{' '}
                {visit.technician ?? 'nobody yet'}
              </li>
            ))}
          </ul>
        </SheetPart>
      )}
      {plan.left.length > 0 && (
        <SheetPart title="No room in the coming weeks">
          <ul className="recall-list">
            {plan.left.map((home) => (
              <li key={home.siteId}>
                <b>{home.household}</b>, {home.town}, {home.phone}
              </li>
            ))}
          </ul>
        </SheetPart>
      )}
    </>
  )
}
