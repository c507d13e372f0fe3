import { useMutation } from '@tanstack/react-query'
import { labelsAddress, MOST_OF_ONE } from '../../core/stock/label-order.ts'
import type { PartDetail } from '../../core/stock/stock-contract.ts'
import { printPaper } from '../design/save-file.ts'
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
      part={part}
      error={receive.error}
      isBusy={receive.isPending}
      onReceive={({ labels, ...delivery }, over) =>
        receive.mutate(
          { ...delivery, partId, cost: null, note: '' },
          {
            onSuccess: ({ lotId }) => {
              const count = Math.min(delivery.quantity, MOST_OF_ONE)
              if (labels && lotId !== undefined && count > 0)
                void printPaper(
                  labelsAddress({ wanted: [{ kind: 'lot', id: lotId, count }], beginWith: 1, partBars: 'own' }),
                )
              over()
            },
          },
        )
      }
      onDone={onDone}
    />
  )
}
