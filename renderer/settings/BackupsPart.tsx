import { useMutation, useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import type { Backup } from '../../core/backups/backups-to-keep.ts'
import { Button } from '../design/Button.tsx'
import { Decision } from '../design/Dialog.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SheetPart } from '../design/Sheet.tsx'
import { useSay } from '../design/undo.ts'
import { AgoText, DateText } from '../design/Words.tsx'
import { ask, problemOf } from '../shell/office-door.ts'
import { useWork } from '../shell/use-work.ts'

const WHY_WORDS: Readonly<Record<Backup['why'], string>> = {
  asked: 'asked for',
  'before-change': 'before an update changed the books',
  'before-putting-back': 'before another was put back',
}

/** Backups of the books: made here, listed, put back at the next opening. */
export function BackupsPart() {
  const say = useSay()
  const [wanted, setWanted] = useState<Backup | null>(null)
  const list = useQuery(ask.backups.list.queryOptions())
  const putBack = useMutation(ask.backups.putBack.mutationOptions())
  const work = useWork('back-up')
  const error = list.error ?? putBack.error ?? work.error
  const failure = error ? problemOf(error) : null
  const data = list.data
  return (
    <SheetPart title="Backups" aside="the newest are kept, and one a day, a week and a month of those before">
      {data?.file && (
        <p>
          The books are this file: <b className="address-lines">{data.file}</b>
        </p>
      )}
      {data && data.file === '' && <p>The books lie on a database server; whoever looks after it backs them up.</p>}
      {failure && <ProblemNote problem={failure} id={failure.id} />}
      {data?.waiting && (
        <p>
          <b>{data.waiting} is put back when Penstock is opened next.</b>{' '}
          <Button kind="quiet" onPress={() => putBack.mutate({ name: null })}>
            Keep the present books
          </Button>
        </p>
      )}
      {data && data.file !== '' && (
        <div className="form-foot">
          <Button kind="primary" isDisabled={work.isRunning} onPress={() => work.start({})}>
            Back up the books
          </Button>
          {work.isRunning && <span className="second">copying …</span>}
        </div>
      )}
      <ul className="backups">
        {data?.backups.map((backup) => (
          <li key={backup.name}>
            <span>
              <DateText date={backup.takenOn} /> <AgoText date={backup.takenOn} />
            </span>
            <span className="second">
              {WHY_WORDS[backup.why]}, {(backup.bytes / 1_000_000).toFixed(1)} MB
            </span>
            <Button kind="quiet" onPress={() => setWanted(backup)} aria-label={`Put back ${backup.name}`}>
              Put back
            </Button>
          </li>
        ))}
      </ul>
      <Decision
        isOpen={wanted !== null}
        title="Put this backup back?"
        doIt="Put it back at the next opening"
        leaveIt="Keep the present books"
        onLeaveIt={() => setWanted(null)}
        isBusy={putBack.isPending}
        onDoIt={() =>
          wanted &&
          putBack.mutate(
            { name: wanted.name },
            {
              onSuccess: () => {
                setWanted(null)
                say({
                  said: 'The backup is put back when Penstock is opened next.',
                  undo: () => putBack.mutateAsync({ name: null }),
                  undone: 'The present books stay.',
                })
              },
            },
          )
        }
      >
        <p>
          What was written down since then is no longer in the books afterwards. The present books are backed up first,
          so that this too can be put back.
        </p>
      </Decision>
    </SheetPart>
  )
}
