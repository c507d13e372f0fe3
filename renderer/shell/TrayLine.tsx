import { useQuery } from '@tanstack/react-query'
import { Link, useLocation } from '@tanstack/react-router'
import type { Tray } from '../../core/desk/trays.ts'
import { shortDate, weekdayName } from '../../core/units/date-words.ts'
import { useOffice } from '../design/office-manner.ts'
import { FindAnything } from './FindAnything.tsx'
import { ask } from './office-door.ts'
import { pileDepth } from './pile-depth.ts'
import { LEDGER_PLACES, TRAY_PLACES } from './places.ts'
import './tray-line.css'

/** One tray per step of the job, in the order the work runs, with its count and its oldest piece; then the ledgers and the search. */
export function TrayLine() {
  const trays = useQuery(ask.desk.trays.queryOptions({ refetchInterval: 60_000 }))
  return (
    <header className="tray-line">
      <OfficeName />
      <nav aria-label="Trays" className="trays">
        <ol>
          {TRAY_PLACES.map((place, index) => (
            <li key={place.tray}>
              <TrayLink
                place={place}
                shortcut={index + 1}
                tray={trays.data?.find((tray) => tray.tray === place.tray) ?? null}
              />
            </li>
          ))}
        </ol>
      </nav>
      <nav aria-label="Ledgers" className="ledgers">
        {LEDGER_PLACES.map((place) => (
          <Link
            key={place.address}
            to={place.address}
            search={{}}
            className="ledger"
            activeProps={{ 'aria-current': 'page' }}
          >
            {place.name}
          </Link>
        ))}
      </nav>
      <FindAnything />
    </header>
  )
}

function OfficeName() {
  const { name, today, locale } = useOffice()
  return (
    <Link
      to="/"
      search={{}}
      className="office-name"
      activeOptions={{ exact: true }}
      activeProps={{ 'aria-current': 'page' }}
    >
      <span className="bold">{name}</span>
      <span className="small second">
        {weekdayName(today).slice(0, 3)}, {shortDate(today, locale)}
      </span>
    </Link>
  )
}

interface TrayLinkProps {
  readonly place: (typeof TRAY_PLACES)[number]
  readonly shortcut: number
  readonly tray: Tray | null
}

function TrayLink({ place, shortcut, tray }: TrayLinkProps) {
  const isHere = useLocation({ select: (location) => location.pathname === place.address })
  return (
    <Link
      to={place.address}
      search={{}}
      className="tray"
      aria-current={isHere ? 'page' : undefined}
      aria-keyshortcuts={`Alt+${shortcut}`}
      title={`Alt+${shortcut}`}
    >
      <span className="tray-name">
        <span className="bold">{place.name}</span>{' '}
        <span className="tray-count">{tray ? tray.count.toLocaleString('en-US') : ''}</span>
      </span>
      <span className="tray-words small second">{tray?.words ?? ''}</span>
      <span className="tray-pile" aria-hidden="true" data-depth={pileDepth(tray?.count ?? 0)} />
    </Link>
  )
}
