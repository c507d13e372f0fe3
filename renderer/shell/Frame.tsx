import { useQuery } from '@tanstack/react-query'
import { Outlet, useLocation } from '@tanstack/react-router'
import { type ReactNode, Suspense, useMemo } from 'react'
import { I18nProvider } from 'react-aria-components'
import type { OfficeState } from '../../core/settings/office-contract.ts'
import { type OfficeManner, OfficeMannerContext } from '../design/office-manner.ts'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { UndoPlace } from '../design/UndoLine.tsx'
import { FaultBoundary } from './FaultBoundary.tsx'
import { ask, problemOf } from './office-door.ts'
import { OfficeStateContext, useOfficeState } from './office-state.ts'
import { PaperLine } from './PaperLine.tsx'
import { FirstStart } from './screens.tsx'
import { TrayLine } from './TrayLine.tsx'
import { useFrameKeys } from './use-frame-keys.ts'
import { usePlansKept } from './use-plans-kept.ts'
import { WorkLines } from './WorkLines.tsx'
import './frame.css'

/** The frame: the tray line across the top, one sheet below it, and at the foot what was just done and what is still running. */
export function Frame() {
  const state = useQuery(ask.office.state.queryOptions({ refetchInterval: 60_000 }))
  if (state.isPending) return <p className="frame-wait second">Opening the books …</p>
  if (!state.data) return <Unreachable error={state.error} onTryAgain={() => void state.refetch()} />
  return <OpenFrame state={state.data} />
}

function OpenFrame({ state }: { readonly state: OfficeState }) {
  const { address, settings, today } = state
  const manner = useMemo<OfficeManner>(
    () => ({
      name: address.name,
      today,
      locale: settings.locale,
      currency: settings.currency,
      measures: settings.measures,
    }),
    [address.name, today, settings.locale, settings.currency, settings.measures],
  )
  const isImporting = useLocation({ select: (location) => location.pathname === '/import' })
  return (
    <I18nProvider locale={settings.locale}>
      <OfficeStateContext.Provider value={state}>
        <OfficeMannerContext.Provider value={manner}>
          <UndoPlace>
            {(undoLine) => (
              <div className="frame">
                {state.founded ? (
                  <FrameWithTrays />
                ) : (
                  <FrameBefore>{isImporting ? <Outlet /> : <FirstStart />}</FrameBefore>
                )}
                <footer className="frame-foot">
                  <WorkLines />
                  <PaperLine />
                  {undoLine}
                </footer>
              </div>
            )}
          </UndoPlace>
        </OfficeMannerContext.Provider>
      </OfficeStateContext.Provider>
    </I18nProvider>
  )
}

function FrameWithTrays() {
  const { today } = useOfficeState()
  useFrameKeys()
  usePlansKept(today)
  return (
    <>
      <TrayLine />
      <main className="frame-place">
        <Outlet />
      </main>
    </>
  )
}

/** Before there is an office: no trays, one sheet. */
function FrameBefore({ children }: { readonly children: ReactNode }) {
  return (
    <main className="frame-place frame-before">
      <FaultBoundary>
        <Suspense fallback={null}>{children}</Suspense>
      </FaultBoundary>
    </main>
  )
}

function Unreachable({ error, onTryAgain }: { readonly error: unknown; readonly onTryAgain: () => void }) {
  const problem = problemOf(error)
  return (
    <main className="frame-wait">
      <ProblemNote problem={problem} id={problem.id} onTryAgain={onTryAgain} />
    </main>
  )
}
