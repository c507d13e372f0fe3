import { useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import { LETTER_KINDS, type LetterKind } from '../../core/letters/letter-kinds.ts'
import type { OwedRow } from '../../core/letters/letters-contract.ts'
import { writtenRunSchema } from '../../core/letters/write-letters.ts'
import { counted } from '../../core/units/date-words.ts'
import { letterRunIdSchema } from '../../core/units/ids.ts'
import { Button } from '../design/Button.tsx'
import { InlineChoice, InlineChoices } from '../design/ChoiceField.tsx'
import { DataTable } from '../design/DataTable.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { Sheet } from '../design/Sheet.tsx'
import { useSay } from '../design/undo.ts'
import { ask, office, problemOf } from '../shell/office-door.ts'
import { useAddressWord, useGoTo } from '../shell/open-record.ts'
import { useWork } from '../shell/use-work.ts'
import { OWED_COLUMNS } from './letters-columns.tsx'
import { useAheadUntil, ViewChoice } from './ViewChoice.tsx'

const KIND_CHOICES = [
  { id: 'any', words: 'any' },
  { id: 'first', words: 'first' },
  { id: 'second', words: 'second' },
  { id: 'final', words: 'final' },
] as const
type KindChoice = (typeof KIND_CHOICES)[number]['id']

interface OwedSheetProps {
  readonly openKey: string | null
  readonly onOpen: (customerId: string | null) => void
  readonly onWritten: (runId: string) => void
}

/** Who is owed a letter; choose some, or write to all. What the list of due households hands over comes chosen. */
export function OwedSheet({ openKey, onOpen, onWritten }: OwedSheetProps) {
  const aheadUntil = useAheadUntil()
  const owed = useQuery(ask.letters.owed.queryOptions({ input: { aheadUntil } }))
  const goTo = useGoTo()
  const [kindWord, setKind] = useAddressWord('kind')
  const [chosenWord] = useAddressWord('households')
  const kind: KindChoice = LETTER_KINDS.find((each) => each === kindWord) ?? 'any'
  const say = useSay()
  const work = useWork('write-letters', (state) => {
    const run = writtenRunSchema.safeParse(state.outcome)
    if (state.state !== 'done' || !run.success) return
    const { runId, letters } = run.data
    setPicked(new Set())
    say({
      said: `${counted(letters, 'letter')} written.`,
      undo: () => takeBack(runId),
      undone: 'The run is taken back; its letters are owed again.',
    })
    onWritten(String(runId))
  })
  const handed = new Set((chosenWord ?? '').split(',').filter((word) => word !== ''))
  // Ahead of their time only those are written to that were handed over for it.
  const found = owed.data?.rows ?? null
  const all = aheadUntil === undefined ? found : (found?.filter((row) => handed.has(String(row.siteId))) ?? null)
  const rows = all?.filter((row) => kind === 'any' || row.kind === kind) ?? null
  const [picked, setPicked] = useState<ReadonlySet<string> | null>(null)
  const leaveAhead = (): void => {
    setPicked(null)
    goTo('/letters')
  }
  const wanted = picked ?? handed
  const chosen = new Set((rows ?? []).map((row) => String(row.siteId)).filter((key) => wanted.has(key)))
  // Where some were chosen and none of them is owed a letter, nobody else gets one instead.
  const toWrite = wanted.size > 0 ? (rows ?? []).filter((row) => chosen.has(String(row.siteId))) : (rows ?? [])
  const write = (): void => {
    const kinds: readonly LetterKind[] = kind === 'any' ? LETTER_KINDS : [kind]
    const everyone = wanted.size === 0 && aheadUntil === undefined
    work.start({ kinds, customerIds: everyone ? null : toWrite.map((row) => row.customerId), aheadUntil })
  }
  return (
    <Sheet
      title={all === null ? 'Letters' : titleOf(all)}
      aside={asideOf(owed.data?.unaddressed ?? [])}
      choices={
        <InlineChoices>
          <ViewChoice />
          <InlineChoice words="letters" label="Which letters" choices={KIND_CHOICES} value={kind} onChange={setKind} />
        </InlineChoices>
      }
      actions={
        toWrite.length > 0 && (
          <>
            {chosen.size > 0 && <span className="second">{chosen.size} chosen</span>}
            <Button kind="primary" onPress={write} isDisabled={work.isRunning}>
              {work.isRunning
                ? 'Writing'
                : `Write ${counted(toWrite.length, kind === 'any' ? 'letter' : `${kind} letter`)}`}
            </Button>
          </>
        )
      }
    >
      {work.error !== null && <ProblemNote problem={problemOf(work.error)} id={problemOf(work.error).id} />}
      {work.state?.problem && <ProblemNote problem={work.state.problem} onTryAgain={work.forget} />}
      {aheadUntil !== undefined && (
        <p className="letters-note">
          These households are written to ahead of their time.{' '}
          <Button kind="quiet" onPress={leaveAhead}>
            Look at all that are owed a letter
          </Button>
        </p>
      )}
      {handed.size > chosen.size && all !== null && <p className="letters-note">{notOwed(handed.size, chosen.size)}</p>}
      <DataTable<OwedRow>
        name="owed-letters"
        label="Households that are owed a letter"
        columns={OWED_COLUMNS}
        rows={rows}
        rowKey={(row) => String(row.siteId)}
        rowName={(row) => row.name}
        density="two-line"
        problem={owed.error && problemOf(owed.error)}
        onTryAgain={() => void owed.refetch()}
        empty={{
          why: 'Nobody is owed a letter today.',
          todo: 'A first letter is owed about a month before something is due; the lead is in Settings.',
        }}
        chosen={chosen}
        onChoose={setPicked}
        onOpen={(row) => onOpen(String(row.siteId))}
        openKey={openKey}
        marked={(row) => row.kind === 'final'}
      />
    </Sheet>
  )
}

const takeBack = (runId: number): Promise<unknown> =>
  office.letters.takeBack({ runId: letterRunIdSchema.parse(runId), reason: 'undone at once' })

function titleOf(rows: readonly OwedRow[]): string {
  return rows.length === 0
    ? 'No letters are owed'
    : `${counted(rows.length, 'letter')} ${rows.length === 1 ? 'is' : 'are'} owed`
}

function asideOf(unaddressed: readonly OwedRow[]): string | undefined {
  if (unaddressed.length === 0) return undefined
  const names = unaddressed.slice(0, 2).map((row) => row.name)
  return `${unaddressed.length} more cannot be addressed: ${names.join('; ')}${unaddressed.length > 2 ? ' …' : ''}`
}

function notOwed(handed: number, owed: number): string {
  const none = handed - owed
  return `${none} of the ${handed} chosen ${none === 1 ? 'is' : 'are'} not owed a letter now: written to already, booked, or without mail.`
}
