import { useMutation } from '@tanstack/react-query'
import type { DraftLines } from '../../core/orders/order-shapes.ts'
import type { SupplierProposals } from '../../core/orders/proposal-shapes.ts'
import { counted } from '../../core/units/date-words.ts'
import { Button } from '../design/Button.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { useSay } from '../design/undo.ts'
import { ask, office, problemOf } from '../shell/office-door.ts'

interface DraftButtonsProps {
  readonly groups: readonly SupplierProposals[]
  /** Pieces that somebody chose instead of what is proposed, by part. */
  readonly chosen?: Readonly<Record<string, number>>
  readonly onDrafted: (orderId: number) => void
}

/** What runs short becomes drafts in one press: those of one supplier, or all of them. The quantities are changed on the draft. */
export function DraftButtons({ groups, chosen = {}, onDrafted }: DraftButtonsProps) {
  const say = useSay()
  const draft = useMutation({
    ...ask.orders.draftAll.mutationOptions(),
    onSuccess: ({ orders, sentence }) => {
      const [first] = orders
      say({
        said: orders.length === 1 && first ? first.sentence : sentence,
        undo: async () => {
          for (const { orderId } of orders) await office.orders.cancel({ orderId, version: 1, reason: '' })
        },
        undone: orders.length === 1 ? 'The draft is dropped.' : 'The drafts are dropped.',
      })
      if (first) onDrafted(first.orderId)
    },
  })
  const drafts = groups.flatMap((group) => draftOf(group, chosen))
  return (
    <>
      {drafts.length > 1 && (
        <Button
          kind="primary"
          onPress={() => draft.mutate({ drafts: drafts.map((each) => each.draft) })}
          isDisabled={draft.isPending}
        >
          Draft all {counted(drafts.length, 'order')}
        </Button>
      )}
      {drafts.map(({ draft: own, supplier }) => (
        <Button key={own.supplierId} onPress={() => draft.mutate({ drafts: [own] })} isDisabled={draft.isPending}>
          Draft {counted(own.lines.length, 'line')} to {supplier}
        </Button>
      ))}
      {draft.error && <ProblemNote problem={problemOf(draft.error)} />}
    </>
  )
}

function draftOf(
  group: SupplierProposals,
  chosen: Readonly<Record<string, number>>,
): { readonly supplier: string; readonly draft: DraftLines }[] {
  const { supplierId, supplier } = group
  const lines = group.proposals
    .map((row) => ({ partId: row.part.partId, quantity: chosen[row.part.partId] ?? row.order }))
    .filter((line) => line.quantity > 0)
  return supplierId === null || lines.length === 0 ? [] : [{ supplier, draft: { supplierId, lines } }]
}
