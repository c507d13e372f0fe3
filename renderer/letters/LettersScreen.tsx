import { useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import type { LetterWording } from '../../core/letters/letter-wording.ts'
import type { OwedRow } from '../../core/letters/letters-contract.ts'
import { letterRunIdSchema } from '../../core/units/ids.ts'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SecondSheet, Sheets, useTakesOver } from '../design/Sheet.tsx'
import { ask, problemOf } from '../shell/office-door.ts'
import { useGoTo, useOpenRecord } from '../shell/open-record.ts'
import { LetterPicture } from './LetterPicture.tsx'
import { OwedSheet } from './OwedSheet.tsx'
import { RunSheet, RunsSheet } from './RunsSheet.tsx'
import { useAheadUntil, useLettersView } from './ViewChoice.tsx'
import { WordingPreview, WordingSheet } from './WordingSheet.tsx'

/** Reminder letters: who is owed one, what was written, and in which words. */
export function LettersScreen() {
  const [view] = useLettersView()
  const [open, setOpen] = useOpenRecord()
  const goTo = useGoTo()
  const close = (): void => setOpen(null)
  if (view === 'runs') {
    const runId = letterRunIdSchema.safeParse(Number(open?.replace('run-', '')))
    return (
      <Sheets second={runId.success && open !== null ? <RunSheet runId={runId.data} onClose={close} /> : null}>
        <RunsSheet openKey={open?.replace('run-', '') ?? null} onOpen={(id) => setOpen(`run-${id}`)} />
      </Sheets>
    )
  }
  if (view === 'wording') return <WordingAndPage />
  return (
    <Sheets second={open === null ? null : <Preview siteId={open} onClose={close} />}>
      <OwedSheet openKey={open} onOpen={setOpen} onWritten={(runId) => goTo('/letters', `run-${runId}`)} />
    </Sheets>
  )
}

/** The wording with its page beside it; where there is room for one sheet, the page is looked at when it is asked for. */
function WordingAndPage() {
  const [typed, setTyped] = useState<LetterWording | null>(null)
  const [wanted, setWanted] = useState<boolean | null>(null)
  const hasRoomForOne = useTakesOver()
  const isShown = wanted ?? !hasRoomForOne
  return (
    <Sheets second={typed && isShown ? <WordingPreview wording={typed} onClose={() => setWanted(false)} /> : null}>
      <WordingSheet onTyped={setTyped} onLook={isShown ? null : () => setWanted(true)} />
    </Sheets>
  )
}

/** The first page of an owed letter, before anything is written. */
function Preview({ siteId, onClose }: { readonly siteId: string; readonly onClose: () => void }) {
  const aheadUntil = useAheadUntil()
  const owed = useQuery(ask.letters.owed.queryOptions({ input: { aheadUntil } }))
  const row = owed.data?.rows.find((each) => String(each.siteId) === siteId)
  if (!row) return null
  return <PreviewOf row={row} onClose={onClose} />
}

function PreviewOf({ row, onClose }: { readonly row: OwedRow; readonly onClose: () => void }) {
  const shown = useQuery(
    ask.letters.preview.queryOptions({ input: { customerId: row.customerId, kind: row.kind, wording: null } }),
  )
  return (
    <SecondSheet
      title={row.name}
      below={`The ${row.kind} letter, as it will be printed`}
      onClose={onClose}
      backTo="the letters"
    >
      {shown.error && <ProblemNote problem={problemOf(shown.error)} onTryAgain={() => void shown.refetch()} />}
      {shown.data && <LetterPicture preview={shown.data} />}
    </SecondSheet>
  )
}
