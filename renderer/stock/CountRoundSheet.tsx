import { useMutation, useQuery } from '@tanstack/react-query'
import { type KeyboardEvent, useState } from 'react'
import type { CountLine } from '../../core/stock/count-contract.ts'
import { counted, shortDate } from '../../core/units/date-words.ts'
import { Button } from '../design/Button.tsx'
import { Decision } from '../design/Dialog.tsx'
import { NumberField } from '../design/NumberField.tsx'
import { useOffice } from '../design/office-manner.ts'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { Sheet, Sheets } from '../design/Sheet.tsx'
import { printPaper } from '../design/save-file.ts'
import { useSay } from '../design/undo.ts'
import { useDraft } from '../design/use-draft.ts'
import { ask, problemOf } from '../shell/office-door.ts'
import { useAddressWord } from '../shell/open-record.ts'
import { WhoField } from '../shell/WhoField.tsx'
import { CountDifferences } from './CountDifferences.tsx'
import { FoundPiecesForm } from './FoundPiecesForm.tsx'

interface RoundProps {
  readonly countId: number
  readonly onClose: () => void
}

/** A round: counted blind line by line, then held against the books. What was written down is kept at once. */
export function CountRoundSheet({ countId, onClose }: RoundProps) {
  const [part, setPart] = useAddressWord('part')
  const round = useQuery(ask.counts.round.queryOptions({ input: { countId } }))
  if (round.error)
    return (
      <Sheets>
        <Sheet title="This round" actions={<Button onPress={onClose}>Back to the rounds</Button>}>
          <ProblemNote problem={problemOf(round.error)} onTryAgain={() => void round.refetch()} />
        </Sheet>
      </Sheets>
    )
  if (!round.data) return null
  const { name, state, lines, counted: done, rows, version } = round.data
  const showsDifferences = state !== 'open' || (part === 'differences' && done === lines)
  return (
    <Sheets>
      <Sheet
        title={`${name}: ${done} of ${lines} counted`}
        aside={
          state === 'open' ? 'each count is kept as soon as it is written down' : `${state} by ${round.data.endedBy}`
        }
        choices={
          <Button kind="quiet" onPress={onClose}>
            Back to the rounds
          </Button>
        }
        actions={<WhoField label={showsDifferences ? 'Approved by' : 'Counted by'} />}
      >
        {showsDifferences ? (
          <CountDifferences
            countId={countId}
            name={name}
            version={version}
            isOpen={state === 'open'}
            onBack={() => setPart(null)}
          />
        ) : (
          <>
            <BlindLines countId={countId} rows={rows} />
            <RoundFoot
              countId={countId}
              name={name}
              left={lines - done}
              onLook={() => setPart('differences')}
              onClose={onClose}
            />
          </>
        )}
      </Sheet>
    </Sheets>
  )
}

function BlindLines({ countId, rows }: { readonly countId: number; readonly rows: readonly CountLine[] }) {
  const [isAdding, setAdding] = useState(false)
  return (
    <>
      <ol className="count-lines" aria-label="What to count, in the order of the walk" onKeyDown={walkFields}>
        {rows.map((line, at) => (
          <BlindLine
            key={line.lineId}
            countId={countId}
            line={line}
            isNewPlace={rows[at - 1]?.placeId !== line.placeId}
          />
        ))}
      </ol>
      {isAdding ? (
        <FoundPiecesForm countId={countId} rows={rows} onDone={() => setAdding(false)} />
      ) : (
        <p>
          <Button kind="quiet" glove onPress={() => setAdding(true)}>
            Add a lot that lies there too
          </Button>
        </p>
      )}
    </>
  )
}

/** Up and down go from field to field. */
function walkFields(event: KeyboardEvent<HTMLOListElement>): void {
  const step = event.key === 'ArrowDown' ? 1 : event.key === 'ArrowUp' ? -1 : 0
  if (step === 0 || !(event.target instanceof HTMLInputElement)) return
  const fields = [...event.currentTarget.querySelectorAll<HTMLInputElement>('input')]
  event.preventDefault()
  fields[fields.indexOf(event.target) + step]?.focus()
}

interface LineProps {
  readonly countId: number
  readonly line: CountLine
  readonly isNewPlace: boolean
}

function BlindLine({ countId, line, isNewPlace }: LineProps) {
  const { locale } = useOffice()
  const { draft, setDraft, discard } = useDraft<{ readonly counted: number | null } | null>(
    `count-${line.lineId}`,
    null,
  )
  const write = useMutation({ ...ask.counts.writeDown.mutationOptions(), onSuccess: discard })
  const typed = draft === null ? line.counted : draft.counted
  const isTyped = draft !== null && draft.counted !== line.counted
  const save = (): void => {
    if (!isTyped || write.isPending) return
    write.mutate({ countId, lineId: line.lineId, seen: line.counted, counted: typed, note: line.note })
  }
  const until = line.expiresOn === null ? '' : `, good until ${shortDate(line.expiresOn, locale)}`
  return (
    <li
      className="count-line"
      data-new-place={isNewPlace || undefined}
      data-counted={line.counted !== null || undefined}
    >
      <span className="count-place">{isNewPlace ? line.place : ''}</span>
      <span className="count-part">
        <span>
          {line.part} <span className="small">{line.number}</span>
        </span>
        <span className="second small">
          lot {line.lot}
          {until}
        </span>
        <span className="second small">{line.why}</span>
      </span>
      <form
        className="count-field"
        onSubmit={(event) => {
          event.preventDefault()
          save()
          focusNext(event.currentTarget)
        }}
        onBlur={save}
      >
        <NumberField
          label={`Counted of lot ${line.lot} in ${line.place}`}
          value={typed}
          onChange={(value) => setDraft({ counted: value })}
          chars={6}
        />
        <span className="second small">{line.counted === null ? '' : `by ${line.countedBy}`}</span>
      </form>
      {write.error !== null && (
        <div className="count-problem">
          <ProblemNote problem={problemOf(write.error)} kept="What you typed is still here." />
        </div>
      )}
    </li>
  )
}

/** Enter writes down and goes on to the next line. */
function focusNext(form: HTMLFormElement): void {
  const next = form.closest('li')?.nextElementSibling?.querySelector('input')
  next?.focus()
  next?.select()
}

interface FootProps {
  readonly countId: number
  readonly name: string
  readonly left: number
  readonly onLook: () => void
  readonly onClose: () => void
}

function RoundFoot({ countId, name, left, onLook, onClose }: FootProps) {
  const say = useSay()
  const [asks, setAsks] = useState<'leave-out' | 'drop' | null>(null)
  const leaveOut = useMutation({
    ...ask.counts.leaveOut.mutationOptions(),
    onSuccess: onLook,
    onSettled: () => setAsks(null),
  })
  const drop = useMutation({
    ...ask.counts.drop.mutationOptions(),
    onSuccess: (done) => {
      say({ said: done.sentence })
      onClose()
    },
    onSettled: () => setAsks(null),
  })
  const failure = leaveOut.error ?? drop.error
  return (
    <>
      {failure !== null && <ProblemNote problem={problemOf(failure)} />}
      <div className="count-foot">
        <Button kind="primary" glove isDisabled={left > 0} onPress={onLook}>
          {left > 0 ? `${left} still to count` : 'Look at the differences'}
        </Button>
        {left > 0 && (
          <Button glove onPress={() => setAsks('leave-out')}>
            Leave out the {left} not counted
          </Button>
        )}
        <Button glove onPress={() => void printPaper(`/papers/counts/${countId}.pdf`)}>
          Print the sheet
        </Button>
        <Button kind="quiet" glove onPress={() => setAsks('drop')}>
          Drop this round
        </Button>
      </div>
      <Decision
        isOpen={asks === 'leave-out'}
        title={`Leave out ${counted(left, 'lot')}`}
        doIt={`Leave out ${counted(left, 'lot')}`}
        onDoIt={() => leaveOut.mutate({ countId })}
        leaveIt="Go on counting"
        onLeaveIt={() => setAsks(null)}
        isBusy={leaveOut.isPending}
      >
        They leave the round and stay as the books say. They come up again in the week they are due.
      </Decision>
      <Decision
        isOpen={asks === 'drop'}
        title={`Drop ${name}`}
        doIt="Drop this round"
        onDoIt={() => drop.mutate({ countId })}
        leaveIt="Keep it"
        onLeaveIt={() => setAsks(null)}
        isBusy={drop.isPending}
      >
        Nothing of it goes into the books; what was counted stays to be looked at.
      </Decision>
    </>
  )
}
