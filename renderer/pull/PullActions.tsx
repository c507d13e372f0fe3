import { useMutation } from '@tanstack/react-query'
import { type ReactNode, useState } from 'react'
import type { PullDay, VanPullRow } from '../../core/stock/pull-contract.ts'
import type { CalendarDate } from '../../core/units/calendar-date.ts'
import { counted } from '../../core/units/date-words.ts'
import { Button } from '../design/Button.tsx'
import { Decision } from '../design/Dialog.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { printPaper } from '../design/save-file.ts'
import { useSay } from '../design/undo.ts'
import { ask, problemOf } from '../shell/office-door.ts'
import { progressOf, restSentences } from './pull-words.ts'

interface PullActionsProps {
  readonly day: PullDay
  readonly van: VanPullRow
  readonly on: CalendarDate
}

/** What can be done with a van's list as a whole: begin, put on the van, print, take back. */
export function PullActions({ day, van, on }: PullActionsProps) {
  const say = useSay()
  const begin = useMutation(ask.pull.begin.mutationOptions())
  const confirm = useMutation({
    ...ask.pull.confirm.mutationOptions(),
    onSuccess: (done) =>
      say({
        said: `${counted(done.pieces, 'piece')} put on ${done.van}.${done.released > 0 ? ` ${counted(done.released, 'piece')} left behind ${done.released === 1 ? 'is' : 'are'} free again.` : ''}`,
      }),
  })
  const takeBack = useMutation({
    ...ask.pull.takeBack.mutationOptions(),
    onSuccess: (done) => say({ said: `The pull for ${done.van} is taken back; ${done.pieces} pieces are free again.` }),
  })
  const [asks, setAsks] = useState<'confirm' | 'take-back' | null>(null)
  const failure = begin.error ?? confirm.error ?? takeBack.error
  const { asked, pulled } = progressOf(van)
  const aboard = van.aboard.reduce((sum, line) => sum + line.quantity, 0)
  const { pullId } = van
  const put = (): void => {
    setAsks(null)
    if (pullId !== null) confirm.mutate({ pullId })
  }
  return (
    <>
      {failure !== null && <ProblemNote problem={problemOf(failure)} id={problemOf(failure).id} />}
      <div className="pull-foot">
        {van.state === 'not-begun' && asked + aboard > 0 && !day.isPast && (
          <Button kind="primary" glove onPress={() => begin.mutate({ on, vanIds: [van.vanId] })}>
            Begin pulling {counted(asked, 'piece')}
          </Button>
        )}
        {van.state === 'open' && (
          <Button kind="primary" glove onPress={() => (pulled < asked ? setAsks('confirm') : put())}>
            Put {pulled < asked ? `${pulled} of ${counted(asked, 'piece')}` : counted(asked, 'piece')} on {van.van}
          </Button>
        )}
        {van.more > 0 && !day.isPast && (
          <Button glove onPress={() => begin.mutate({ on, vanIds: [van.vanId] })}>
            Pull {counted(van.more, 'more piece')}
          </Button>
        )}
        <Button glove onPress={() => printPaper(`/papers/pull/${on}.pdf`)}>
          Print
        </Button>
        {van.state === 'open' && (
          <Button kind="quiet" glove onPress={() => setAsks('take-back')}>
            Take back this pull
          </Button>
        )}
        {aboard > 0 && (
          <span className="second">
            {counted(aboard, 'more piece')} {aboard === 1 ? 'is' : 'are'} on the van already
          </span>
        )}
      </div>
      <Ask
        isOpen={asks === 'confirm'}
        title={`Put ${pulled} of ${counted(asked, 'piece')} on ${van.van}?`}
        doIt={`Put ${counted(pulled, 'piece')} on ${van.van}`}
        leaveIt="Go on ticking"
        onDoIt={put}
        onLeaveIt={() => setAsks(null)}
      >
        {restSentences(van).map((sentence) => (
          <span key={sentence} className="pull-rest">
            {sentence}
          </span>
        ))}
      </Ask>
      <Ask
        isOpen={asks === 'take-back'}
        title={`Take back the pull for ${van.van}?`}
        doIt="Take back this pull"
        leaveIt="Keep it"
        onDoIt={() => {
          setAsks(null)
          if (pullId !== null) takeBack.mutate({ pullId })
        }}
        onLeaveIt={() => setAsks(null)}
      >
        Its {asked} pieces are free for other vans, and its ticks are gone. What lies in the totes goes back on the
        shelf.
      </Ask>
    </>
  )
}

function Ask(props: {
  readonly isOpen: boolean
  readonly title: string
  readonly doIt: string
  readonly leaveIt: string
  readonly onDoIt: () => void
  readonly onLeaveIt: () => void
  readonly children: ReactNode
}) {
  const { children, ...rest } = props
  return (
    <Decision {...rest}>
      <p>{children}</p>
    </Decision>
  )
}
