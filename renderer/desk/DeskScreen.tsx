import { useQuery } from '@tanstack/react-query'
import { Link } from '@tanstack/react-router'
import type { NextAction } from '../../core/desk/desk-contract.ts'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { Sheet, Sheets } from '../design/Sheet.tsx'
import { ask, problemOf } from '../shell/office-door.ts'
import { TRAY_PLACES } from '../shell/places.ts'
import { ThemeChoice } from '../shell/ThemeChoice.tsx'
import { LookAheadPart } from './LookAheadPart.tsx'
import './desk.css'

/** Home: the tray line opened. Per tray the next sensible action, and what the next year brings. */
export function DeskScreen() {
  const next = useQuery(ask.desk.next.queryOptions())
  const ahead = useQuery(ask.desk.lookAhead.queryOptions())
  const failure = next.error ?? ahead.error
  const retry = (): void => {
    void next.refetch()
    void ahead.refetch()
  }
  return (
    <Sheets>
      <Sheet title="What to do next" aside={<ThemeChoice />}>
        {failure !== null && <ProblemNote problem={problemOf(failure)} id={problemOf(failure).id} onTryAgain={retry} />}
        {next.data && <NextActions actions={next.data} />}
        {ahead.data && <LookAheadPart ahead={ahead.data} />}
      </Sheet>
    </Sheets>
  )
}

function NextActions({ actions }: { readonly actions: readonly NextAction[] }) {
  return (
    <ol className="next-actions">
      {actions.map((action) => {
        const place = TRAY_PLACES.find((candidate) => candidate.tray === action.tray)
        if (!place) return null
        return (
          <li key={action.tray} className="next-action" data-waiting={action.isWaiting || undefined}>
            <span className="next-action-tray second">{place.name}</span>
            <Link to={place.address} search={{}} className="next-action-sentence">
              {action.sentence}
            </Link>
            <span className="second">{action.detail}</span>
          </li>
        )
      })}
    </ol>
  )
}
