import { useMutation } from '@tanstack/react-query'
import { useState } from 'react'
import type { HouseholdSheet } from '../../core/due/due-contract.ts'
import { Button } from '../design/Button.tsx'
import { Decision } from '../design/Dialog.tsx'
import { TextField } from '../design/Field.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { useSay } from '../design/undo.ts'
import { ask, office, problemOf } from '../shell/office-door.ts'

/** What is seldom done with a household: it moved, it wants no mail, it is closed. Each can be taken back. */
export function HouseholdActs({ household }: { readonly household: HouseholdSheet }) {
  const { siteId, customer } = household
  const name = customer.sortName
  const say = useSay()
  const [isClosing, setClosing] = useState(false)
  const [reason, setReason] = useState('')
  const moved = useMutation(
    ask.households.moved.mutationOptions({
      onSuccess: (_, input) =>
        say({
          said: input.moved ? `${name} has moved.` : `${name} has not moved.`,
          undo: () => office.households.moved({ siteId, moved: !input.moved }),
          undone: 'That is taken back.',
        }),
    }),
  )
  const noMail = useMutation(
    ask.households.noMail.mutationOptions({
      onSuccess: (_, input) =>
        say({
          said: input.noMail ? `${name} gets no more mail.` : `${name} gets mail again.`,
          undo: () => office.households.noMail({ siteId, noMail: !input.noMail }),
          undone: 'That is taken back.',
        }),
    }),
  )
  const close = useMutation(
    ask.households.close.mutationOptions({
      onSuccess: () => {
        setClosing(false)
        setReason('')
        say({
          said: `${name} is closed.`,
          undo: () => office.households.reopen({ siteId }),
          undone: `${name} is open again.`,
        })
      },
    }),
  )
  const reopen = useMutation(
    ask.households.reopen.mutationOptions({ onSuccess: () => say({ said: `${name} is open again.` }) }),
  )
  const error = moved.error ?? noMail.error ?? close.error ?? reopen.error
  if (household.closedOn !== null)
    return (
      <Button kind="quiet" onPress={() => reopen.mutate({ siteId })}>
        Open the household again
      </Button>
    )
  return (
    <>
      <Button kind="quiet" onPress={() => moved.mutate({ siteId, moved: household.movedOn === null })}>
        {household.movedOn === null ? 'They moved away' : 'They did not move'}
      </Button>
      <Button kind="quiet" onPress={() => noMail.mutate({ siteId, noMail: !customer.noMail })}>
        {customer.noMail ? 'Send mail again' : 'Send no mail'}
      </Button>
      <Button kind="quiet" onPress={() => setClosing(true)}>
        Close the household
      </Button>
      {error !== null && <ProblemNote problem={problemOf(error)} id={problemOf(error).id} />}
      <Decision
        isOpen={isClosing}
        title={`Close ${name}?`}
        doIt="Close the household"
        onDoIt={() => close.mutate({ siteId, reason })}
        leaveIt="Keep it open"
        onLeaveIt={() => setClosing(false)}
        isBusy={close.isPending}
        isBlocked={reason.trim() === ''}
      >
        <p>
          Nothing is due there any more and no letter goes out. Its visits, readings and invoices stay in the books, and
          it can be opened again.
        </p>
        <TextField label="Why" value={reason} onChange={setReason} />
      </Decision>
    </>
  )
}
