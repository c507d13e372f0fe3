import { useMutation } from '@tanstack/react-query'
import type { PartDetail } from '../../core/stock/stock-contract.ts'
import { useSay } from '../design/undo.ts'
import { ask } from '../shell/office-door.ts'
import { DeliveryForm } from './DeliveryForm.tsx'
import { movedWords } from './moved.ts'

/** A delivery without an order behind it. */
export function ReceiveForm({ part, onDone }: { readonly part: PartDetail; readonly onDone: () => void }) {
  const say = useSay()
  const { partId } = part
  const receive = useMutation({ ...ask.stock.receive.mutationOptions(), onSuccess: (done) => say(movedWords(done)) })
  return (
    <DeliveryForm
      name={`receive-${partId}`}
      usual={part.bins[0]?.placeId ?? part.lots[0]?.heaps.find((heap) => heap.kind === 'bin')?.placeId}
      error={receive.error}
      isBusy={receive.isPending}
      onReceive={(delivery, over) => receive.mutate({ ...delivery, partId, cost: null, note: '' }, { onSuccess: over })}
      onDone={onDone}
    />
  )
}
