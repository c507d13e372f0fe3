import { useMutation, useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import type { LetterRun } from '../../core/letters/letters-contract.ts'
import { counted } from '../../core/units/date-words.ts'
import type { LetterRunId } from '../../core/units/ids.ts'
import { Button } from '../design/Button.tsx'
import { DataTable } from '../design/DataTable.tsx'
import { Decision } from '../design/Dialog.tsx'
import { TextField } from '../design/Field.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SecondSheet, Sheet, SheetPart } from '../design/Sheet.tsx'
import { printPaper, savePaper } from '../design/save-file.ts'
import { useSay } from '../design/undo.ts'
import { DateText } from '../design/Words.tsx'
import { ask, office, problemOf } from '../shell/office-door.ts'
import { RUN_COLUMNS } from './letters-columns.tsx'
import { ViewChoice } from './ViewChoice.tsx'
import './letters.css'

/** The runs, newest first. */
export function RunsSheet({
  openKey,
  onOpen,
}: {
  readonly openKey: string | null
  readonly onOpen: (runId: string) => void
}) {
  const runs = useQuery(ask.letters.runs.queryOptions())
  return (
    <Sheet title="Letters that were written" choices={<ViewChoice />}>
      <DataTable<LetterRun>
        name="letter-runs"
        label="Runs of letters"
        columns={RUN_COLUMNS}
        rows={runs.data ?? null}
        rowKey={(run) => String(run.runId)}
        rowName={(run) => run.name}
        density="two-line"
        problem={runs.error && problemOf(runs.error)}
        onTryAgain={() => void runs.refetch()}
        empty={{
          why: 'No letters have been written yet.',
          todo: 'Look at who is owed one and write them: the run then stands here.',
        }}
        onOpen={(run) => onOpen(String(run.runId))}
        openKey={openKey}
        quiet={(run) => run.takenBackAt !== null}
      />
    </Sheet>
  )
}

/** One run: print it, print one letter again, or take it back. */
export function RunSheet({ runId, onClose }: { readonly runId: LetterRunId; readonly onClose: () => void }) {
  const asked = useQuery(ask.letters.run.queryOptions({ input: { runId } }))
  const run = asked.data
  const address = `/papers/letters/${runId}.pdf`
  return (
    <SecondSheet
      title={run?.name ?? 'The run'}
      onClose={onClose}
      backTo="the runs"
      below={run && <RunState run={run} />}
    >
      {asked.error && <ProblemNote problem={problemOf(asked.error)} onTryAgain={() => void asked.refetch()} />}
      {run && run.takenBackAt === null && (
        <div className="form-foot">
          <Button kind="primary" onPress={() => void printPaper(address)}>
            Print {counted(run.letters, 'letter')}
          </Button>
          <Button onPress={() => void savePaper(`${address}?save=1`, `letters-${run.writtenOn}.pdf`)}>
            Save the PDF
          </Button>
          <TakeBack run={run} />
        </div>
      )}
      {run && (
        <SheetPart title="In postal order">
          <ol className="run-letters">
            {run.rows.map((letter) => (
              <li key={letter.letterId}>
                <span>
                  <b>{letter.name}</b>{' '}
                  <span className="second">{`${letter.town}, ${letter.kind} letter, ${letter.reference}`}</span>
                </span>
                {run.takenBackAt === null && (
                  <Button
                    kind="quiet"
                    aria-label={`Print this one, to ${letter.name}`}
                    onPress={() => void printPaper(`/papers/letters/${runId}/${letter.letterId}.pdf`)}
                  >
                    Print this one
                  </Button>
                )}
              </li>
            ))}
          </ol>
        </SheetPart>
      )}
    </SecondSheet>
  )
}

function RunState({ run }: { readonly run: LetterRun }) {
  return (
    <>
      written <DateText date={run.writtenOn} /> by {run.by}
      {run.takenBackAt !== null && ` · taken back: ${run.takenBackReason}`}
    </>
  )
}

function TakeBack({ run }: { readonly run: LetterRun }) {
  const [isAsking, setAsking] = useState(false)
  const [reason, setReason] = useState('')
  const say = useSay()
  const taking = useMutation({
    mutationFn: () => office.letters.takeBack({ runId: run.runId, reason }),
    onSuccess: ({ letters }) => {
      setAsking(false)
      say({ said: `${counted(letters, 'letter')} taken back; they are owed again.` })
    },
  })
  return (
    <>
      <Button onPress={() => setAsking(true)}>Take back this run</Button>
      <Decision
        isOpen={isAsking}
        title={`Take back the run of ${counted(run.letters, 'letter')}?`}
        doIt={`Take back ${counted(run.letters, 'letter')}`}
        onDoIt={() => taking.mutate()}
        leaveIt="Keep the run"
        onLeaveIt={() => setAsking(false)}
        isBusy={taking.isPending}
        isBlocked={reason.trim() === ''}
      >
        <p>
          Its letters count as never written, and the households are owed theirs again. Throw the printed ones away.
        </p>
        <TextField
          label="Why"
          value={reason}
          onChange={setReason}
          note="A few words for the history: the printer ran dry."
          isRequired
        />
        {taking.error && <ProblemNote problem={problemOf(taking.error)} />}
      </Decision>
    </>
  )
}
