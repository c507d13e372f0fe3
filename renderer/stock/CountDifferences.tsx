import { useMutation, useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import type { ComparedLine } from '../../core/stock/count-contract.ts'
import { counted } from '../../core/units/date-words.ts'
import { type Cents, cents } from '../../core/units/money.ts'
import { Button } from '../design/Button.tsx'
import { DataTable } from '../design/DataTable.tsx'
import { Decision } from '../design/Dialog.tsx'
import { TextField } from '../design/Field.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { useSay } from '../design/undo.ts'
import { useDraft } from '../design/use-draft.ts'
import { MoneyText } from '../design/Words.tsx'
import { ask, problemOf } from '../shell/office-door.ts'
import { COMPARED_COLUMNS } from './count-columns.tsx'

interface DifferencesProps {
  readonly countId: number
  readonly name: string
  readonly version: number
  readonly isOpen: boolean
  readonly onBack: () => void
}

const negated = (amount: Cents): Cents => cents(-amount)
const keyOf = (line: ComparedLine): string => String(line.lineId)

/** What was counted beside what the books said; count some again, or approve all. */
export function CountDifferences({ countId, name, version, isOpen, onBack }: DifferencesProps) {
  const [chosen, setChosen] = useState<ReadonlySet<string>>(new Set())
  const compared = useQuery(ask.counts.compare.queryOptions({ input: { countId } }))
  const again = useMutation({
    ...ask.counts.countAgain.mutationOptions(),
    onSuccess: () => {
      setChosen(new Set())
      onBack()
    },
  })
  const lines = compared.data?.lines ?? null
  const countAgain = (rows: readonly ComparedLine[]): void => {
    if (isOpen && rows.length > 0) again.mutate({ countId, lineIds: rows.map((line) => line.lineId) })
  }
  const picked = lines?.filter((line) => chosen.has(keyOf(line))) ?? []
  return (
    <>
      {compared.data && (
        <p>
          {compared.data.sentence} Found over: <MoneyText cents={compared.data.over} />. Missing:{' '}
          <MoneyText cents={negated(compared.data.under)} />.
        </p>
      )}
      {again.error !== null && <ProblemNote problem={problemOf(again.error)} />}
      <DataTable
        name="count-differences"
        label="Counted and in the books"
        columns={COMPARED_COLUMNS}
        rows={lines}
        rowKey={keyOf}
        rowName={(line) => `${line.part}, lot ${line.lot} in ${line.place}`}
        density="two-line"
        chosen={chosen}
        onChoose={isOpen ? setChosen : undefined}
        marked={(line) => line.difference !== 0}
        keys={isOpen ? [{ key: 'g', does: 'counts again', run: countAgain }] : []}
        problem={compared.error ? problemOf(compared.error) : null}
        onTryAgain={() => void compared.refetch()}
        empty={{ why: 'Nothing was counted in this round.' }}
      />
      {isOpen && lines !== null && (
        <div className="count-foot">
          <Approve countId={countId} name={name} version={version} lines={lines} />
          <Button glove isDisabled={picked.length === 0} onPress={() => countAgain(picked)}>
            Count {picked.length === 0 ? 'some' : counted(picked.length, 'lot')} again
          </Button>
          <Button kind="quiet" glove onPress={onBack}>
            Back to the counts
          </Button>
        </div>
      )}
    </>
  )
}

interface ApproveProps {
  readonly countId: number
  readonly name: string
  readonly version: number
  readonly lines: readonly ComparedLine[]
}

function Approve({ countId, name, version, lines }: ApproveProps) {
  const say = useSay()
  const [isAsking, setAsking] = useState(false)
  const { draft: note, setDraft: setNote, discard } = useDraft(`count-note-${countId}`, '')
  const approve = useMutation({
    ...ask.counts.approve.mutationOptions(),
    onSuccess: (done) => {
      say({ said: [done.sentence, ...done.warnings].join(' ') })
      discard()
    },
    onSettled: () => setAsking(false),
  })
  const differ = lines.filter((line) => line.difference !== 0)
  const moved = lines.filter((line) => line.movedSince !== 0)
  const pulls = lines.filter((line) => line.pulls.length > 0)
  const doIt = differ.length === 0 ? `Approve ${name}` : `Approve ${counted(differ.length, 'difference')}`
  return (
    <>
      <Button kind="primary" glove onPress={() => setAsking(true)}>
        {doIt}
      </Button>
      {approve.error !== null && <ProblemNote problem={problemOf(approve.error)} />}
      <Decision
        isOpen={isAsking}
        title={doIt}
        doIt={doIt}
        onDoIt={() => approve.mutate({ countId, version, note })}
        leaveIt="Look once more"
        onLeaveIt={() => setAsking(false)}
        isBusy={approve.isPending}
      >
        Each difference becomes a movement of its own, all of them together, with your name.
        {moved.length > 0 &&
          ` At ${counted(moved.length, 'lot')} something moved after the count: that is kept, and the difference is set against what the books said when it was counted.`}
        {pulls.length > 0 &&
          ` Open pulls count on more than there will be: ${pulls.map((line) => `lot ${line.lot} in ${line.place} (${line.pulls.join('; ')})`).join(', ')}.`}
        <TextField label="Why it differs, as far as you know" value={note} onChange={setNote} chars={36} />
      </Decision>
    </>
  )
}
