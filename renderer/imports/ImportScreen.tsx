import { useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import { judgedListSchema, type Taken, takenSchema } from '../../core/imports/imports-contract.ts'
import { Button } from '../design/Button.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { ProgressLine } from '../design/ProgressLine.tsx'
import { Sheet, Sheets } from '../design/Sheet.tsx'
import { useDraft } from '../design/use-draft.ts'
import { ask, problemOf, type ToldProblem } from '../shell/office-door.ts'
import { useAddressWord, useGoTo } from '../shell/open-record.ts'
import { useWork } from '../shell/use-work.ts'
import { ChooseList } from './ChooseList.tsx'
import { ColumnsSheet } from './ColumnsSheet.tsx'
import { type Choices, createdCount } from './import-words.ts'
import { RowsSheet } from './RowsSheet.tsx'
import { TakenSheet } from './TakenSheet.tsx'

/** A dealer's list on its way into the books: choose it, say what its columns are, look through the rows, take it in. */
export function ImportScreen() {
  const [listWord, setList] = useAddressWord('list')
  const [taken, setTaken] = useState<Taken | null>(null)
  const goTo = useGoTo()
  const again = (): void => {
    setTaken(null)
    setList(null)
  }
  if (taken !== null) return <TakenSheet taken={taken} onAnother={again} onHouseholds={() => goTo('/households')} />
  if (listWord === null || !/^\d+$/.test(listWord)) return <ChooseList onHeld={(fileId) => setList(String(fileId))} />
  return <HeldList key={listWord} fileId={Number(listWord)} onTaken={setTaken} onAnother={() => setList(null)} />
}

interface HeldListProps {
  readonly fileId: number
  readonly onTaken: (taken: Taken) => void
  readonly onAnother: () => void
}

const NO_CHOICES: Choices = {}

function HeldList({ fileId, onTaken, onAnother }: HeldListProps) {
  // Asked once: a list that is held does not change, and one that was taken is no longer there to be asked for.
  const look = useQuery({
    ...ask.imports.look.queryOptions({ input: { fileId } }),
    enabled: (query) => query.state.data === undefined,
  })
  const mapping = useDraft(`import-columns-${fileId}`, look.data?.mapping ?? null)
  const choices = useDraft(`import-choices-${fileId}`, NO_CHOICES)
  const judge = useWork('import-judge')
  const take = useWork('import-take', (state) => {
    const result = takenSchema.safeParse(state.outcome)
    if (state.state === 'done' && result.success) onTaken(result.data)
  })
  // The books are backed up first, so that a whole list can be taken out again; books on a server have their own means.
  const backUp = useWork('back-up', (state) => {
    const goesOn = state.state === 'done' || state.problem?.code === 'BACKUP_NO_FILE'
    if (goesOn && uses !== null && judged?.success)
      take.start({
        fileId,
        mapping: uses,
        choices: choices.draft,
        expected: createdCount(judged.data.entries, choices.draft),
      })
  })
  const judged = judge.state?.state === 'done' ? judgedListSchema.safeParse(judge.state.outcome) : null
  const uses = mapping.draft ?? look.data?.mapping ?? null
  if (look.error !== null) {
    return (
      <Sheets>
        <Sheet title="Bring a list">
          <ProblemNote problem={problemOf(look.error)} />
          <Button kind="primary" onPress={onAnother}>
            Choose a list
          </Button>
        </Sheet>
      </Sheets>
    )
  }
  if (!look.data || uses === null) return <Waiting words="Reading the list" />
  const takes = take.isRunning || backUp.isRunning
  if (judged?.success && !takes) {
    const problem = problemOfWork(take) ?? (isNoFile(backUp.state?.problem) ? null : problemOfWork(backUp))
    return (
      <RowsSheet
        name={look.data.name}
        judged={judged.data}
        choices={choices.draft}
        onChoices={choices.setDraft}
        problem={problem}
        onColumns={() => judge.forget()}
        onTake={() => backUp.start({})}
      />
    )
  }
  if (takes || judge.isRunning) {
    const work = takes ? (take.isRunning ? take : backUp) : judge
    return (
      <Waiting
        words={work.state?.saying ?? 'starting'}
        done={work.state?.done ?? 0}
        total={work.state && work.state.total > 0 ? work.state.total : null}
        onStop={work.stop}
        note="Stopped, nothing is written."
      />
    )
  }
  const failure = problemOfWork(judge)
  return (
    <ColumnsSheet
      look={look.data}
      mapping={uses}
      onMapping={mapping.setDraft}
      problem={failure}
      onAnother={onAnother}
      onLookThrough={() => judge.start({ fileId, mapping: uses })}
    />
  )
}

function isNoFile(problem: ToldProblem | null | undefined): boolean {
  return problem?.code === 'BACKUP_NO_FILE'
}

/** Why a work ended without doing what it should, in words; null when it did not. */
function problemOfWork({ state, error }: Pick<ReturnType<typeof useWork>, 'state' | 'error'>): ToldProblem | null {
  if (state?.problem) return state.problem
  if (state?.state === 'broken') return { sentence: state.saying, nextStep: 'Try again; what you chose is still here.' }
  return error === null ? null : problemOf(error)
}

interface WaitingProps {
  readonly words: string
  readonly done?: number
  readonly total?: number | null
  readonly onStop?: () => void
  readonly note?: string
}

function Waiting({ words, done = 0, total = null, onStop, note }: WaitingProps) {
  return (
    <Sheets>
      <Sheet title="Bring a list">
        <ProgressLine
          words={words}
          done={done}
          total={total}
          onStop={onStop}
          {...(note === undefined ? {} : { note })}
        />
      </Sheet>
    </Sheets>
  )
}
