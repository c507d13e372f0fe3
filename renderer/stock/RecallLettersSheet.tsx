import { useMutation, useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import { type RecallLetters, recallWrittenSchema } from '../../core/letters/recall-letters-contract.ts'
import type { RecallSheetFacts } from '../../core/stock/recall-contract.ts'
import { counted } from '../../core/units/date-words.ts'
import { Button } from '../design/Button.tsx'
import { Decision } from '../design/Dialog.tsx'
import { TextField } from '../design/Field.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SecondSheet, SheetPart } from '../design/Sheet.tsx'
import { printPaper, savePaper } from '../design/save-file.ts'
import { useSay } from '../design/undo.ts'
import { DateText } from '../design/Words.tsx'
import { ask, office, problemOf } from '../shell/office-door.ts'
import { useWork } from '../shell/use-work.ts'

/** The letters of a recall: one press writes them, the batches are printed from here, and whoever gets none is named. */
export function RecallLettersSheet({
  sheet,
  onClose,
}: {
  readonly sheet: RecallSheetFacts
  readonly onClose: () => void
}) {
  const { lotId } = sheet
  const say = useSay()
  const asked = useQuery(ask.recallLetters.ofLot.queryOptions({ input: { lotId } }))
  const work = useWork('recall-letters', (state) => {
    const written = recallWrittenSchema.safeParse(state.outcome)
    if (written.success) say({ said: `${counted(written.data.letters, 'letter')} written. Print them below.` })
  })
  const letters = asked.data
  const unbooked = sheet.homes.filter((home) => home.writtenOn === null && home.visit === null).length
  return (
    <SecondSheet title="Letters of the recall" below={`lot ${sheet.lot}`} onClose={onClose} backTo="the recall">
      {asked.error && <ProblemNote problem={problemOf(asked.error)} onTryAgain={() => void asked.refetch()} />}
      {work.error !== null && <ProblemNote problem={problemOf(work.error)} />}
      {work.state?.problem && <ProblemNote problem={work.state.problem} onTryAgain={work.forget} />}
      {letters && (
        <>
          <p className="recall-says">
            {letters.toWrite === 0
              ? 'Everybody who can be written to has a letter.'
              : 'One letter to a home, in postal order, each with the day of its visit where one is booked.'}
          </p>
          {letters.toWrite > 0 && unbooked > 0 && (
            <p className="second">
              {counted(unbooked, 'home')} {unbooked === 1 ? 'has' : 'have'} no visit yet: book first, and the letters
              name the day.
            </p>
          )}
          {(letters.toWrite > 0 || work.isRunning) && (
            <div className="form-foot">
              <Button kind="primary" isDisabled={work.isRunning} onPress={() => work.start({ lotId })}>
                {work.isRunning ? 'Writing' : `Write ${counted(letters.toWrite, 'letter')}`}
              </Button>
              {work.isRunning && <Button onPress={work.stop}>Stop</Button>}
            </div>
          )}
          {letters.batches.map((batch) => (
            <Batch key={batch.first} sheet={sheet} batch={batch} />
          ))}
          <ToPhone letters={letters} />
        </>
      )}
    </SecondSheet>
  )
}

function ToPhone({ letters: { toPhone } }: { readonly letters: RecallLetters }) {
  if (toPhone.length === 0) return null
  return (
    <SheetPart title={`${counted(toPhone.length, 'home')} to ring up instead`}>
      <ul className="recall-list">
        {toPhone.map((home) => (
          <li key={home.siteId}>
            <b>{home.household}</b>, {home.town}, {home.phone}
            {home.phoneNote === '' ? '' : ` (${home.phoneNote})`}: {home.why}
          </li>
        ))}
      </ul>
    </SheetPart>
  )
}

interface BatchProps {
  readonly sheet: RecallSheetFacts
  readonly batch: RecallLetters['batches'][number]
}

function Batch({ sheet, batch }: BatchProps) {
  const address = `/papers/recall-letters/${sheet.lotId}/${batch.first}.pdf`
  return (
    <SheetPart title={`${counted(batch.letters, 'letter')} written`}>
      <p className="second">
        <DateText date={batch.writtenOn} /> by {batch.by}
      </p>
      <div className="form-foot">
        <Button kind="primary" onPress={() => void printPaper(address)}>
          Print {counted(batch.letters, 'letter')}
        </Button>
        <Button onPress={() => void savePaper(`${address}?save=1`, `recall-${sheet.lot}-${batch.writtenOn}.pdf`)}>
          Save the PDF
        </Button>
        <TakeBack sheet={sheet} batch={batch} />
      </div>
    </SheetPart>
  )
}

/** A spoiled batch: it counts as never written, and its households are owed a letter again. */
function TakeBack({ sheet, batch }: BatchProps) {
  const [isAsking, setAsking] = useState(false)
  const [reason, setReason] = useState('')
  const say = useSay()
  const taking = useMutation({
    mutationFn: () => office.recallLetters.takeBack({ lotId: sheet.lotId, first: batch.first, reason }),
    onSuccess: ({ letters }) => {
      setAsking(false)
      say({ said: `${counted(letters, 'letter')} taken back; they can be written anew.` })
    },
  })
  return (
    <>
      <Button onPress={() => setAsking(true)}>Take back this batch</Button>
      <Decision
        isOpen={isAsking}
        title={`Take back ${counted(batch.letters, 'letter')}?`}
        doIt={`Take back ${counted(batch.letters, 'letter')}`}
        onDoIt={() => taking.mutate()}
        leaveIt="Keep the batch"
        onLeaveIt={() => setAsking(false)}
        isBusy={taking.isPending}
        isBlocked={reason.trim() === ''}
      >
        <p>Only when none of them was posted: they count as never written. Throw the printed ones away.</p>
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
