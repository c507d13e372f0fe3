import { useState } from 'react'
import { type IssuedPile, type IssueWorkInput, issuedPileSchema } from '../../core/invoices/invoices-contract.ts'
import { counted } from '../../core/units/date-words.ts'
import { type Cents, cents } from '../../core/units/money.ts'
import { Button } from '../design/Button.tsx'
import { Decision } from '../design/Dialog.tsx'
import { useOffice } from '../design/office-manner.ts'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { printPaper } from '../design/save-file.ts'
import { useSay } from '../design/undo.ts'
import { MoneyText } from '../design/Words.tsx'
import { problemOf } from '../shell/office-door.ts'
import { useWork } from '../shell/use-work.ts'

/** What the button issues, and what it comes to. */
export interface PileToIssue {
  readonly count: number
  readonly together: Cents
  readonly input: IssueWorkInput
}

interface IssueDraftsProps {
  /** Null where there is nothing to issue. */
  readonly pile: PileToIssue | null
  readonly onIssued: () => void
}

/** Issues a pile as long work: how far it is and Stop stand at the foot. What is issued when it is stopped stays issued. */
export function IssueDrafts({ pile, onIssued }: IssueDraftsProps) {
  const { today } = useOffice()
  const say = useSay()
  const [asks, setAsks] = useState(false)
  const [over, setOver] = useState<IssuedPile | null>(null)
  const work = useWork('issue-invoices', (state) => {
    const answer = issuedPileSchema.safeParse(state.outcome)
    if (state.state !== 'done' || !answer.success) return
    setOver(answer.data)
    onIssued()
    say({ said: issuedInWords(answer.data) })
  })
  const failure = work.error ? problemOf(work.error) : null
  const words = counted(pile?.count ?? 0, 'invoice')
  return (
    <>
      {over !== null && over.issued > 0 && !work.isRunning && (
        <Button onPress={() => printPaper(`/papers/invoices-of/${today}.pdf`)}>
          Print today’s {counted(over.issued, 'invoice')}
        </Button>
      )}
      {pile !== null && (
        <Button kind="primary" isDisabled={work.isRunning} onPress={() => setAsks(true)}>
          Issue {words}
        </Button>
      )}
      <Decision
        isOpen={asks && pile !== null}
        title={`Issue ${words}?`}
        doIt={`Issue ${words}`}
        onDoIt={() => {
          if (pile === null) return
          setOver(null)
          setAsks(false)
          work.start(pile.input)
        }}
        leaveIt="Look at them again"
        onLeaveIt={() => setAsks(false)}
      >
        <p>
          Each takes the next number of the year and can no longer be changed; a mistake is put right by a credit note.
          Together <MoneyText cents={pile?.together ?? ZERO} />.
        </p>
        {pile !== null && pile.count > 25 && (
          <p className="second">
            It can be stopped on the way: what has its number by then stays issued, the rest stay drafts.
          </p>
        )}
      </Decision>
      {failure && <ProblemNote problem={failure} id={failure.id} />}
      {over !== null && !work.isRunning && <LeftOver over={over} />}
    </>
  )
}

const ZERO = cents(0)

/** What is not issued, and why. */
function LeftOver({ over }: { readonly over: IssuedPile }) {
  if (over.left.length === 0) return null
  const reasons = [...new Set(over.left.map((each) => each.why))]
  return (
    <div className="issue-left" role="status">
      <b>{counted(over.left.length, 'draft')} could not be issued:</b> {reasons.slice(0, 3).join(' ')}
      {reasons.length > 3 && ` And ${counted(reasons.length - 3, 'other reason')}.`}
    </div>
  )
}

/** "Issued 125, 2026-00007 to 2026-00131; 375 stay drafts." */
function issuedInWords({ issued, first, last, left, notComeTo }: IssuedPile): string {
  const stay = left.length + notComeTo
  const rest = stay === 0 ? '' : `; ${stay.toLocaleString('en-US')} ${stay === 1 ? 'stays a draft' : 'stay drafts'}`
  if (issued === 0) return `No invoice was issued${rest}.`
  return issued === 1
    ? `Issued ${first}${rest}.`
    : `Issued ${issued.toLocaleString('en-US')}, ${first} to ${last}${rest}.`
}
