import { useMutation } from '@tanstack/react-query'
import { useState } from 'react'
import type { OrderInFull } from '../../core/orders/order-shapes.ts'
import type { CalendarDate } from '../../core/units/calendar-date.ts'
import { counted } from '../../core/units/date-words.ts'
import { Button } from '../design/Button.tsx'
import { DateField } from '../design/DateField.tsx'
import { TextField } from '../design/Field.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SheetPart } from '../design/Sheet.tsx'
import { printPaper, savePaper } from '../design/save-file.ts'
import { useSay } from '../design/undo.ts'
import { useDraft } from '../design/use-draft.ts'
import { ask, office, problemOf } from '../shell/office-door.ts'
import { CopyText } from './CopyText.tsx'

type Doing = 'expected' | 'remark' | 'give-up' | 'cancel'

/** What can still be done to an order that was sent: its paper, its day, its remark, and an end to the waiting. */
export function OrderChanges({ order }: { readonly order: OrderInFull }) {
  const [doing, setDoing] = useState<Doing | null>(null)
  const { orderId, version } = order
  const say = useSay()
  const again = useMutation({
    ...ask.orders.waitAgain.mutationOptions(),
    onSuccess: (done) => say({ said: done.sentence }),
  })
  const isOpen = order.state === 'sent'
  const givenUp = order.lines.reduce((sum, line) => sum + line.givenUp, 0)
  const address = `/papers/orders/${orderId}.pdf`
  return (
    <SheetPart title="Paper and changes">
      <div className="order-actions">
        <Button onPress={() => printPaper(address)}>Print order {order.number}</Button>
        <Button kind="quiet" onPress={() => void savePaper(`${address}?save=1`, `order-${order.number}.pdf`)}>
          Save it as PDF
        </Button>
        <CopyText text={order.text} email={order.email} />
      </div>
      <div className="order-actions">
        {isOpen && (
          <Button kind="quiet" onPress={() => setDoing('expected')}>
            Expect it another day
          </Button>
        )}
        <Button kind="quiet" onPress={() => setDoing('remark')}>
          Write a remark
        </Button>
        {isOpen && order.open > 0 && (
          <Button kind="quiet" onPress={() => setDoing('give-up')}>
            Do not wait for the rest
          </Button>
        )}
        {givenUp > 0 && order.state !== 'cancelled' && (
          <Button kind="quiet" onPress={() => again.mutate({ orderId, version, lineIds: [] })}>
            Wait for {counted(givenUp, 'piece')} after all
          </Button>
        )}
        {isOpen && (
          <Button kind="quiet" onPress={() => setDoing('cancel')}>
            Cancel what has not come
          </Button>
        )}
      </div>
      {again.error && <ProblemNote problem={problemOf(again.error)} />}
      {doing !== null && <ChangeForm key={doing} order={order} doing={doing} onDone={() => setDoing(null)} />}
    </SheetPart>
  )
}

interface ChangeFormProps {
  readonly order: OrderInFull
  readonly doing: Doing
  readonly onDone: () => void
}

interface Typed {
  readonly day: CalendarDate | null
  readonly words: string
}

function ChangeForm({ order, doing, onDone }: ChangeFormProps) {
  const say = useSay()
  const first: Typed = { day: order.expectedOn, words: doing === 'remark' ? order.note : '' }
  const { draft, setDraft, discard } = useDraft<Typed>(`order-${order.orderId}-${doing}`, first)
  const { orderId, version } = order
  const keys = { orderId, version }
  const save = useMutation({
    mutationFn: async () => {
      const reason = draft.words
      if (doing === 'cancel') return office.orders.cancel({ ...keys, reason })
      if (doing === 'give-up') return office.orders.giveUp({ ...keys, lineIds: [], reason })
      if (doing === 'remark') return office.orders.setRemark({ ...keys, note: reason })
      if (draft.day === null) throw new Error('No day was written')
      return office.orders.setExpected({ ...keys, expectedOn: draft.day, why: reason })
    },
    onSuccess: (done) => {
      discard()
      onDone()
      say({ said: done.sentence })
    },
  })
  const { label, about, doIt } = wordsOf(order, doing)
  const isReady = doing === 'expected' ? draft.day !== null : doing === 'remark' || draft.words.trim() !== ''
  return (
    <form
      className="order-line"
      onSubmit={(event) => {
        event.preventDefault()
        if (isReady && !save.isPending) save.mutate()
      }}
    >
      <p className="second">{about}</p>
      {doing === 'expected' && (
        <DateField label="Expected" value={draft.day} onChange={(day) => setDraft({ ...draft, day })} autoFocus />
      )}
      <TextField
        label={label}
        value={draft.words}
        onChange={(words) => setDraft({ ...draft, words })}
        autoFocus={doing !== 'expected'}
        chars={44}
      />
      {save.error && <ProblemNote problem={problemOf(save.error)} kept="What you typed is still here." />}
      <div className="order-actions">
        <Button kind="primary" type="submit" isDisabled={!isReady || save.isPending}>
          {doIt}
        </Button>
        <Button kind="quiet" onPress={onDone}>
          Leave it
        </Button>
      </div>
    </form>
  )
}

function wordsOf(order: OrderInFull, doing: Doing): { label: string; about: string; doIt: string } {
  const open = counted(order.open, 'piece')
  switch (doing) {
    case 'expected':
      return {
        label: 'Why',
        about: 'The day before stays in what happened. Whoever books a visit sees the new one.',
        doIt: 'Expect it that day',
      }
    case 'remark':
      return {
        label: 'Remark',
        about: 'For the office. The printed order stays as it was sent.',
        doIt: 'Save the remark',
      }
    case 'give-up':
      return {
        label: 'Why',
        about: `${open} are still awaited. They are proposed anew where they run short.`,
        doIt: `Do not wait for ${open}`,
      }
    case 'cancel':
      return {
        label: 'Why',
        about: `${open} are not awaited any more; what has come stays in stock. Tell ${order.supplier} as well.`,
        doIt: `Cancel ${open} of order ${order.number}`,
      }
  }
}
