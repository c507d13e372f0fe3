import { useMutation, useQuery } from '@tanstack/react-query'
import { useEffect, useRef, useState } from 'react'
import {
  type JudgedListAnswer,
  judgedListSchema,
  type ListLook,
  listLookSchema,
  type Taken,
  takenSchema,
} from '../../core/imports/imports-contract.ts'
import type { JudgedEntry } from '../../core/imports/judged-entry.ts'
import type { TextEncoding } from '../../core/imports/recognise-file.ts'
import type { WorkState } from '../../core/work/work-contract.ts'
import { Button } from '../design/Button.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { ProgressLine } from '../design/ProgressLine.tsx'
import { Sheet, Sheets } from '../design/Sheet.tsx'
import { useDraft } from '../design/use-draft.ts'
import { ask, office, problemOf, type ToldProblem } from '../shell/office-door.ts'
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
  const [unread, setUnread] = useState<ToldProblem | null>(null)
  const goTo = useGoTo()
  const again = (problem: ToldProblem | null = null): void => {
    setUnread(problem)
    setTaken(null)
    setList(null)
  }
  if (taken !== null)
    return <TakenSheet taken={taken} onAnother={() => again()} onHouseholds={() => goTo('/households')} />
  const fileId = Number(listWord)
  if (listWord === null || !Number.isInteger(fileId))
    return <ChooseList problem={unread} onHeld={(held) => setList(String(held))} />
  return <HeldList key={fileId} fileId={fileId} onTaken={setTaken} onAnother={again} />
}

interface HeldListProps {
  readonly fileId: number
  readonly onTaken: (taken: Taken) => void
  readonly onAnother: (problem?: ToldProblem | null) => void
}

const NO_CHOICES: Choices = {}

function HeldList({ fileId, onTaken, onAnother }: HeldListProps) {
  const drop = (problem: ToldProblem | null = null): void => {
    void office.imports.drop({ fileId }).catch(() => undefined)
    onAnother(problem)
  }
  const { look, looking, readAs, problem: unread } = useLook(fileId, drop)
  const mapping = useDraft(`import-columns-${fileId}`, look?.mapping ?? null)
  const choices = useDraft(`import-choices-${fileId}`, NO_CHOICES)
  const judge = useWork('import-judge')
  const judged = useJudged(fileId, judge.state)
  const take = useWork('import-take', (state) => {
    const result = takenSchema.safeParse(state.outcome)
    if (state.state === 'done' && result.success) onTaken(result.data)
  })
  const isOfThisList = mapping.draft?.uses.length === look?.columns.length
  const uses = isOfThisList ? mapping.draft : (look?.mapping ?? null)
  // The books are backed up first, so that a whole list can be taken out again; books on a server have their own means.
  const backUp = useWork('back-up', (state) => {
    const goesOn = state.state === 'done' || isNoFile(state.problem)
    if (goesOn && uses !== null && judged.entries !== null)
      take.start({
        fileId,
        mapping: uses,
        choices: choices.draft,
        expected: createdCount(judged.entries, choices.draft),
      })
  })
  if (unread !== null) return <Unread problem={unread} onAnother={() => onAnother()} />
  if (look === null || uses === null) return <Following work={looking} note="Stopped, the list is let go." />
  if (take.isRunning || backUp.isRunning)
    return <Following work={take.isRunning ? take : backUp} note="Stopped, the books stay as they were." />
  if (judge.isRunning || judged.isComing) return <Following work={judge} note="Stopped, nothing is written." />
  if (judged.answer !== null && judged.entries !== null) {
    const problem = problemOfWork(take) ?? (isNoFile(backUp.state?.problem) ? null : problemOfWork(backUp))
    return (
      <RowsSheet
        name={look.name}
        judged={judged.answer}
        entries={judged.entries}
        choices={choices.draft}
        onChoices={choices.setDraft}
        problem={problem}
        onColumns={() => judge.forget()}
        onTake={() => backUp.start({})}
      />
    )
  }
  return (
    <ColumnsSheet
      look={look}
      mapping={uses}
      onMapping={mapping.setDraft}
      onReadAs={readAs}
      problem={problemOfWork(judge) ?? judged.problem}
      onAnother={() => drop()}
      onLookThrough={() => judge.start({ fileId, mapping: uses })}
    />
  )
}

/**
 * What a held list looks like: looked at when the screen opens, and again when somebody says how its letters are to be read. One that
 * cannot be read, or that nobody wants to wait for, leads back to the choice with the reason.
 */
function useLook(fileId: number, onGone: (problem: ToldProblem | null) => void) {
  const looking = useWork('import-look', (state) => {
    if (state.state !== 'done') onGone(state.state === 'stopped' ? null : problemOfWork({ state, error: null }))
  })
  const [kept, setKept] = useState<ListLook | null>(null)
  const asked = useRef(false)
  const { start } = looking
  useEffect(() => {
    if (asked.current) return
    asked.current = true
    start({ fileId })
  }, [fileId, start])
  const told = looking.state?.state === 'done' ? listLookSchema.safeParse(looking.state.outcome) : null
  if (told?.success && kept?.readAs !== told.data.readAs) setKept(told.data)
  const choose = useMutation(ask.imports.readAs.mutationOptions({ onSuccess: () => start({ fileId }) }))
  const error = choose.error ?? looking.error
  return {
    look: kept,
    looking,
    readAs: (encoding: TextEncoding): void => choose.mutate({ fileId, readAs: encoding }),
    problem: error === null ? null : problemOf(error),
  }
}

/** What was judged, and its entries page by page: a large list is handed out so that nobody else waits for it. */
function useJudged(fileId: number, state: WorkState | null) {
  const read = state?.state === 'done' ? judgedListSchema.safeParse(state.outcome) : null
  const answer: JudgedListAnswer | null = read?.success ? read.data : null
  const pages = useQuery({
    queryKey: ['judged entries', fileId, state?.workId],
    queryFn: async () => {
      const entries: JudgedEntry[] = []
      for (let page = 0; page < (answer?.pages ?? 0); page += 1)
        entries.push(...(await office.imports.judged({ fileId, page })).entries)
      return entries
    },
    enabled: (query) => answer !== null && query.state.data === undefined,
    staleTime: Number.POSITIVE_INFINITY,
  })
  return {
    answer,
    entries: answer === null ? null : (pages.data ?? null),
    isComing: answer !== null && pages.data === undefined && pages.error === null,
    problem: answer === null || pages.error === null ? null : problemOf(pages.error),
  }
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

/** A list that could not be read, with what to do. */
function Unread({ problem, onAnother }: { readonly problem: ToldProblem; readonly onAnother: () => void }) {
  return (
    <Sheets>
      <Sheet
        title="Bring a list"
        actions={
          <Button kind="primary" onPress={onAnother}>
            Choose a list
          </Button>
        }
      >
        <ProblemNote problem={problem} id={problem.id} />
      </Sheet>
    </Sheets>
  )
}

interface FollowingProps {
  readonly work: Pick<ReturnType<typeof useWork>, 'state' | 'stop'>
  /** What stopping leaves behind. */
  readonly note: string
}

/** How far a long work is. */
function Following({ work: { state, stop }, note }: FollowingProps) {
  return (
    <Sheets>
      <Sheet title="Bring a list">
        <ProgressLine
          words={state?.saying ?? 'starting'}
          done={state?.done ?? 0}
          total={state && state.total > 0 ? state.total : null}
          onStop={stop}
          note={note}
        />
      </Sheet>
    </Sheets>
  )
}
