import { useMutation, useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import type { TermRow } from '../../core/orders/order-shapes.ts'
import { type PartId, supplierIdSchema } from '../../core/units/ids.ts'
import { type Cents, cents } from '../../core/units/money.ts'
import { Button } from '../design/Button.tsx'
import { CheckField } from '../design/CheckField.tsx'
import { ChoiceField } from '../design/ChoiceField.tsx'
import { TextField } from '../design/Field.tsx'
import { MoneyField } from '../design/MoneyField.tsx'
import { NumberField } from '../design/NumberField.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SheetPart } from '../design/Sheet.tsx'
import { useSay } from '../design/undo.ts'
import { useDraft } from '../design/use-draft.ts'
import { MoneyText } from '../design/Words.tsx'
import { ask, problemOf } from '../shell/office-door.ts'
import { PriceBreaks, type TypedBreak, typedBreaks, wholeBreaks } from './PriceBreaks.tsx'

/** Who sells a part and on what terms. */
export function TermsPart({ partId }: { readonly partId: PartId }) {
  const terms = useQuery(ask.orders.terms.queryOptions({ input: { partId } }))
  const [isOpen, setOpen] = useState(false)
  return (
    <SheetPart
      title="Who sells it"
      aside={
        isOpen ? undefined : (
          <Button kind="quiet" onPress={() => setOpen(true)}>
            Add or change terms
          </Button>
        )
      }
    >
      {terms.data?.length === 0 && !isOpen && <p className="second">Nobody yet, so it cannot be ordered.</p>}
      {terms.data?.map((term) => (
        <p key={term.supplierId}>
          {term.supplier}, <MoneyText cents={term.price} /> a piece
          {term.packSize > 1 && `, packs of ${term.packSize}`}
          {term.minimumQuantity > 0 && `, at least ${term.minimumQuantity}`}
          {term.preferred && ', asked first'}
          {term.breaks.map((step) => (
            <span key={step.from} className="second small">
              {' '}
              from {step.from} <MoneyText cents={step.price} />
            </span>
          ))}
        </p>
      ))}
      {isOpen && <TermForm partId={partId} known={terms.data ?? []} onDone={() => setOpen(false)} />}
    </SheetPart>
  )
}

interface Draft {
  readonly supplier: string | null
  readonly supplierNumber: string
  readonly price: Cents
  readonly packSize: number
  readonly minimumQuantity: number
  readonly preferred: boolean
  readonly breaks: readonly TypedBreak[]
}

interface TermFormProps {
  readonly partId: PartId
  readonly known: readonly TermRow[]
  readonly onDone: () => void
}

/** The terms of one supplier for a part; those that are known are taken up when their supplier is chosen. */
function TermForm({ partId, known, onDone }: TermFormProps) {
  const say = useSay()
  const suppliers = useQuery(ask.orders.suppliers.queryOptions())
  const first: Draft = {
    supplier: null,
    supplierNumber: '',
    price: cents(0),
    packSize: 1,
    minimumQuantity: 0,
    preferred: known.length === 0,
    breaks: [],
  }
  const { draft, setDraft, discard } = useDraft<Draft>(`terms-${partId}`, first)
  const set = (change: Partial<Draft>): void => setDraft({ ...draft, ...change })
  const save = useMutation({
    ...ask.orders.saveTerm.mutationOptions(),
    onSuccess: () => {
      say({ said: 'The terms are saved.' })
      discard()
      onDone()
    },
  })
  const supplierId = supplierIdSchema.safeParse(Number(draft.supplier))
  const choose = (supplier: string): void => {
    const term = known.find((each) => String(each.supplierId) === supplier)
    setDraft(term ? { ...draft, ...draftOf(term) } : { ...draft, supplier })
  }
  const { supplier: _, breaks: typed, ...terms } = draft
  const breaks = wholeBreaks(typed)
  return (
    <form
      className="stock-form"
      onSubmit={(event) => {
        event.preventDefault()
        if (breaks !== null && supplierId.success)
          save.mutate({ ...terms, breaks, partId, supplierId: supplierId.data })
      }}
    >
      <div className="stock-form-row">
        <ChoiceField
          label="Supplier"
          choices={(suppliers.data ?? []).map((each) => ({ id: String(each.supplierId), words: each.name }))}
          value={draft.supplier}
          onChange={choose}
          unchosen="Choose a supplier"
          chars={18}
          note={suppliers.data?.length === 0 ? 'Add one on the Orders sheet first.' : undefined}
        />
        <TextField
          label="Its number for the part"
          value={draft.supplierNumber}
          onChange={(supplierNumber) => set({ supplierNumber })}
          chars={14}
        />
        <MoneyField
          label="Price a piece"
          value={draft.price}
          onChange={(price) => set({ price: price ?? cents(0) })}
          chars={9}
        />
        <NumberField
          label="Pieces a pack"
          value={draft.packSize}
          onChange={(packSize) => set({ packSize: packSize ?? 1 })}
          chars={6}
        />
        <NumberField
          label="At least"
          value={draft.minimumQuantity}
          onChange={(value) => set({ minimumQuantity: value ?? 0 })}
          chars={6}
        />
      </div>
      <PriceBreaks breaks={draft.breaks} onChange={(next) => set({ breaks: next })} />
      <CheckField value={draft.preferred} onChange={(preferred) => set({ preferred })}>
        asked first
      </CheckField>
      {save.error !== null && <ProblemNote problem={problemOf(save.error)} kept="What you typed is still here." />}
      <div className="stock-form-row">
        <Button kind="primary" type="submit" isDisabled={!supplierId.success || breaks === null}>
          Save these terms
        </Button>
        <Button kind="quiet" onPress={onDone}>
          Leave it
        </Button>
      </div>
    </form>
  )
}

function draftOf({ supplierId, supplierNumber, price, packSize, minimumQuantity, preferred, breaks }: TermRow): Draft {
  const terms = { supplierNumber, price, packSize, minimumQuantity, preferred }
  return { supplier: String(supplierId), ...terms, breaks: typedBreaks(breaks) }
}
