import { useMutation, useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import { type PartId, supplierIdSchema } from '../../core/units/ids.ts'
import { cents } from '../../core/units/money.ts'
import { Button } from '../design/Button.tsx'
import { CheckField } from '../design/CheckField.tsx'
import { ChoiceField } from '../design/ChoiceField.tsx'
import { MoneyField } from '../design/MoneyField.tsx'
import { NumberField } from '../design/NumberField.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SheetPart } from '../design/Sheet.tsx'
import { useSay } from '../design/undo.ts'
import { MoneyText } from '../design/Words.tsx'
import { ask, problemOf } from '../shell/office-door.ts'

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
        </p>
      ))}
      {isOpen && <TermForm partId={partId} onDone={() => setOpen(false)} />}
    </SheetPart>
  )
}

function TermForm({ partId, onDone }: { readonly partId: PartId; readonly onDone: () => void }) {
  const say = useSay()
  const suppliers = useQuery(ask.orders.suppliers.queryOptions())
  const [supplier, setSupplier] = useState<string | null>(null)
  const [price, setPrice] = useState(cents(0))
  const [packSize, setPackSize] = useState(1)
  const [minimumQuantity, setMinimum] = useState(0)
  const [preferred, setPreferred] = useState(true)
  const save = useMutation({
    ...ask.orders.saveTerm.mutationOptions(),
    onSuccess: () => {
      say({ said: 'The terms are saved.' })
      onDone()
    },
  })
  const supplierId = supplierIdSchema.safeParse(Number(supplier))
  const terms = { partId, supplierNumber: '', price, packSize, minimumQuantity, preferred }
  return (
    <div className="stock-form">
      <div className="stock-form-row">
        <ChoiceField
          label="Supplier"
          choices={(suppliers.data ?? []).map((each) => ({ id: String(each.supplierId), words: each.name }))}
          value={supplier}
          onChange={setSupplier}
          unchosen="Choose a supplier"
          chars={18}
          note={suppliers.data?.length === 0 ? 'Add one on the Orders sheet first.' : undefined}
        />
        <MoneyField label="Price a piece" value={price} onChange={(value) => setPrice(value ?? cents(0))} chars={9} />
        <NumberField label="Pieces a pack" value={packSize} onChange={(value) => setPackSize(value ?? 1)} chars={6} />
        <NumberField label="At least" value={minimumQuantity} onChange={(value) => setMinimum(value ?? 0)} chars={6} />
      </div>
      <CheckField value={preferred} onChange={setPreferred}>
        asked first
      </CheckField>
      {save.error !== null && <ProblemNote problem={problemOf(save.error)} kept="What you typed is still here." />}
      <div className="stock-form-row">
        <Button
          kind="primary"
          isDisabled={!supplierId.success}
          onPress={() => {
            if (supplierId.success) save.mutate({ ...terms, supplierId: supplierId.data })
          }}
        >
          Save these terms
        </Button>
        <Button kind="quiet" onPress={onDone}>
          Leave it
        </Button>
      </div>
    </div>
  )
}
