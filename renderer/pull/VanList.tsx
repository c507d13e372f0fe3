import { useMutation } from '@tanstack/react-query'
import { useRef } from 'react'
import type { PullLineRow, ScanSaid, VanPullRow } from '../../core/stock/pull-contract.ts'
import type { PullLineId } from '../../core/units/ids.ts'
import { EmptyPlace } from '../design/EmptyPlace.tsx'
import { useOffice } from '../design/office-manner.ts'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { ask, problemOf } from '../shell/office-door.ts'
import { PullLines } from './PullLines.tsx'
import { progressOf, progressWords } from './pull-words.ts'
import { ScanBar } from './ScanBar.tsx'
import { NO_TROUBLE, type TroubleDraft } from './trouble-draft.ts'
import { useScanner } from './use-scanner.ts'
import { useScans } from './use-scans.ts'

interface VanListProps {
  readonly van: VanPullRow
  readonly openLine: PullLineId | null
  /** Opens a line to say what is not right, with what is known of it already. */
  readonly onOpen: (line: PullLineRow, begin: TroubleDraft | null) => void
  readonly onScanned: () => void
}

/** A van's list to tick off: by tap, by key, by scanner. */
export function VanList({ van, openLine, onOpen, onScanned }: VanListProps) {
  const { locale } = useOffice()
  const { asked, pulled } = progressOf(van)
  const place = useRef<HTMLDivElement>(null)
  const tick = useMutation(ask.pull.tick.mutationOptions())
  const isOpen = van.state === 'open' && van.pullId !== null
  const scans = useScans(van, (said) => lead(place.current, said))
  useScanner((typed) => {
    onScanned()
    scans.onScan(typed)
  })
  const onTick = (line: PullLineRow, pieces: number | null): void => {
    const { lineId, quantity } = line
    if (van.pullId === null || lineId === null) return
    tick.mutate({ pullId: van.pullId, lineId, pulled: pieces, seen: { quantity, pulled: line.pulled } })
  }
  const { whole } = scans
  const mistaken = van.lines.find((line) => line.lineId !== null && line.lineId === whole?.lineId)
  const lotId = whole?.otherLotId ?? null
  return (
    <div ref={place}>
      <p>{progressWords(van, asked, pulled, locale)}</p>
      {isOpen && (
        <div className="pull-progress" role="img" aria-label={`${pulled} of ${asked} pieces pulled`}>
          <span style={{ width: `${asked === 0 ? 0 : (100 * pulled) / asked}%` }} />
        </div>
      )}
      {van.lines.length > 0 && (
        <ScanBar
          {...scans}
          onOtherLot={
            mistaken && lotId !== null
              ? () => onOpen(mistaken, { ...NO_TROUBLE, kind: 'elsewhere', lotId, pieces: 1 })
              : null
          }
        />
      )}
      {tick.error !== null && <ProblemNote problem={problemOf(tick.error)} id={problemOf(tick.error).id} />}
      {van.lines.length + van.shortages.length > 0 ? (
        <PullLines
          van={van}
          handAt={scans.handAt}
          openLine={openLine}
          onTick={isOpen ? onTick : null}
          onOpen={isOpen ? onOpen : null}
        />
      ) : (
        <EmptyPlace
          why={van.aboard.length > 0 ? 'Everything is on the van already.' : 'The visits of this van need no parts.'}
        />
      )}
    </div>
  )
}

/** Brings the line that a scan means into view; a scanned bin puts the focus on its box, unless something is being typed. */
function lead(place: HTMLElement | null, said: ScanSaid): void {
  if (said.lineId === null) return
  const line = place?.querySelector(`[data-line="${said.lineId}"]`)
  line?.scrollIntoView({ block: 'nearest' })
  if (said.kind !== 'hand' || document.activeElement instanceof HTMLTextAreaElement) return
  if (document.activeElement instanceof HTMLInputElement && document.activeElement.type !== 'checkbox') return
  line?.querySelector<HTMLInputElement>('input[type=checkbox]')?.focus({ preventScroll: true })
}
