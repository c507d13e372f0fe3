import { useMutation, useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import type { Backup } from '../../core/backups/backups-to-keep.ts'
import { Button } from '../design/Button.tsx'
import { Decision } from '../design/Dialog.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { ProgressLine } from '../design/ProgressLine.tsx'
import { SheetPart } from '../design/Sheet.tsx'
import { AgoText, DateText } from '../design/Words.tsx'
import { ask, problemOf } from '../shell/office-door.ts'
import { useWork } from '../shell/use-work.ts'
import './settings.css'

const REASONS: Readonly<Record<Backup['why'], string>> = {
  asked: 'made here',
  'before-change': 'before an update of the program',
  'before-putting-back': 'before another backup was put back',
}

/** Backups of the books: make one, see which there are, put one back. */
export function BackupsPart() {
  const list = useQuery(ask.backups.list.queryOptions())
  const work = useWork('back-up')
  const putBack = useMutation(ask.backups.putBack.mutationOptions({ onSettled: () => setAsked(null) }))
  const [asked, setAsked] = useState<Backup | null>(null)
  const failure = list.error ?? putBack.error ?? work.error
  if (list.data?.file === '') return <ServerBooks />
  return (
    <SheetPart title="Backing up">
      <p>
        A backup is a copy of the books at one moment, looked through before it counts. Keep one on another disk too:
        copy it from the folder “backups” beside the books.
      </p>
      {list.data && <p className="second">The books: {list.data.file}</p>}
      {failure !== null && <ProblemNote problem={problemOf(failure)} />}
      {work.state?.problem && <ProblemNote problem={work.state.problem} />}
      {work.isRunning ? (
        <ProgressLine words={work.state?.saying ?? 'starting'} done={0} total={null} onStop={work.stop} />
      ) : (
        <p>
          <Button onPress={() => work.start({})}>Back up the books now</Button>
        </p>
      )}
      {list.data?.waiting && (
        <p role="status">
          <b>Another state of the books is put back when Penstock is opened next.</b>{' '}
          <Button kind="quiet" onPress={() => putBack.mutate({ name: null })}>
            Keep the books as they are
          </Button>
        </p>
      )}
      <BackupRows backups={list.data?.backups ?? []} onPutBack={setAsked} />
      <Decision
        isOpen={asked !== null}
        title="Put this backup back?"
        doIt="Put it back at the next opening"
        onDoIt={() => asked && putBack.mutate({ name: asked.name })}
        leaveIt="Keep the books as they are"
        onLeaveIt={() => setAsked(null)}
        isBusy={putBack.isPending}
      >
        <p>
          When Penstock is closed and opened again, the books are as they were
          {asked !== null && (
            <>
              {' '}
              on <DateText date={asked.takenOn} />
            </>
          )}
          . What was written since then is not in them; it is kept as a backup of its own.
        </p>
      </Decision>
    </SheetPart>
  )
}

function ServerBooks() {
  return (
    <SheetPart title="Backing up">
      <p>These books lie on a database server. Back them up there, with the server’s own means.</p>
    </SheetPart>
  )
}

interface BackupRowsProps {
  readonly backups: readonly Backup[]
  readonly onPutBack: (backup: Backup) => void
}

function BackupRows({ backups, onPutBack }: BackupRowsProps) {
  if (backups.length === 0) return <p className="second">There is no backup yet.</p>
  return (
    <ul className="backup-rows">
      {backups.map((backup) => (
        <li key={backup.name}>
          <span>
            <DateText date={backup.takenOn} /> <AgoText date={backup.takenOn} />
          </span>
          <span className="second">{REASONS[backup.why]}</span>
          <span className="second figures">{megabytes(backup.bytes)}</span>
          <Button kind="quiet" onPress={() => onPutBack(backup)} aria-label={`Put back the backup ${backup.takenAt}`}>
            Put back
          </Button>
        </li>
      ))}
    </ul>
  )
}

/** "1.2 MB". */
function megabytes(bytes: number): string {
  return `${(bytes / 1_048_576).toLocaleString('en-US', { maximumFractionDigits: 1, minimumFractionDigits: 1 })}\u2009MB`
}
