import { useMutation } from '@tanstack/react-query'
import type { SupplierRow } from '../../core/orders/order-shapes.ts'
import { cents } from '../../core/units/money.ts'
import { Button } from '../design/Button.tsx'
import { CheckField } from '../design/CheckField.tsx'
import { TextField } from '../design/Field.tsx'
import { MoneyField } from '../design/MoneyField.tsx'
import { NumberField } from '../design/NumberField.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SecondSheet } from '../design/Sheet.tsx'
import { useSay } from '../design/undo.ts'
import { useDraft } from '../design/use-draft.ts'
import { ask, problemOf } from '../shell/office-door.ts'

/** A supplier: how to reach it, how long it takes, what an order comes to at least. Null for a new one. */
export function SupplierSheet({
  supplier,
  onClose,
}: {
  readonly supplier: SupplierRow | null
  readonly onClose: () => void
}) {
  const say = useSay()
  const { draft, setDraft, discard } = useDraft(`supplier-${supplier?.supplierId ?? 'new'}`, {
    name: supplier?.name ?? '',
    account: supplier?.account ?? '',
    line1: supplier?.line1 ?? '',
    line2: supplier?.line2 ?? '',
    town: supplier?.town ?? '',
    region: supplier?.region ?? '',
    postalCode: supplier?.postalCode ?? '',
    country: supplier?.country ?? '',
    note: supplier?.note ?? '',
    closed: supplier?.closed ?? false,
    phone: supplier?.phone ?? '',
    email: supplier?.email ?? '',
    leadTimeDays: supplier?.leadTimeDays ?? 10,
    reviewDays: supplier?.reviewDays ?? null,
    minimumOrder: supplier?.minimumOrder ?? cents(0),
  })
  const save = useMutation({
    ...ask.orders.saveSupplier.mutationOptions(),
    onSuccess: () => {
      say({ said: `${draft.name} is saved.` })
      discard()
      onClose()
    },
  })
  const keys = { supplierId: supplier?.supplierId ?? null, version: supplier?.version ?? null }
  return (
    <SecondSheet title={supplier?.name ?? 'A new supplier'} onClose={onClose} backTo="the orders">
      <form
        className="order-line"
        onSubmit={(event) => {
          event.preventDefault()
          if (draft.name.trim() !== '') save.mutate({ ...draft, ...keys })
        }}
      >
        <TextField
          label="Name"
          value={draft.name}
          onChange={(name) => setDraft({ ...draft, name })}
          chars={30}
          isRequired
        />
        <TextField
          label="Our account with it"
          note="Printed on every order."
          value={draft.account}
          onChange={(account) => setDraft({ ...draft, account })}
          chars={20}
        />
        <SupplierAddress draft={draft} onChange={(change) => setDraft({ ...draft, ...change })} />
        <TextField
          label="Telephone"
          value={draft.phone}
          onChange={(phone) => setDraft({ ...draft, phone })}
          chars={20}
        />
        <TextField label="E-mail" value={draft.email} onChange={(email) => setDraft({ ...draft, email })} chars={30} />
        <NumberField
          label="Takes"
          unit="days"
          note="From the order to the delivery."
          value={draft.leadTimeDays}
          onChange={(value) => setDraft({ ...draft, leadTimeDays: value ?? 0 })}
          chars={6}
        />
        <NumberField
          label="Looked through every"
          unit="days"
          note="Left empty: as set for the office."
          value={draft.reviewDays}
          onChange={(reviewDays) => setDraft({ ...draft, reviewDays })}
          chars={6}
        />
        <MoneyField
          label="An order comes to at least"
          value={draft.minimumOrder}
          onChange={(value) => setDraft({ ...draft, minimumOrder: value ?? cents(0) })}
          chars={10}
        />
        <TextField label="Note" value={draft.note} onChange={(note) => setDraft({ ...draft, note })} lines={2} />
        {supplier !== null && (
          <CheckField value={!draft.closed} onChange={(open) => setDraft({ ...draft, closed: !open })}>
            parts are ordered here
          </CheckField>
        )}
        {save.error !== null && <ProblemNote problem={problemOf(save.error)} kept="What you typed is still here." />}
        <div>
          <Button kind="primary" type="submit" isDisabled={draft.name.trim() === ''}>
            Save {draft.name || 'the supplier'}
          </Button>
        </div>
      </form>
    </SecondSheet>
  )
}

interface Address {
  readonly line1: string
  readonly line2: string
  readonly town: string
  readonly region: string
  readonly postalCode: string
  readonly country: string
}

/** Where orders go by post. */
function SupplierAddress({
  draft,
  onChange,
}: {
  readonly draft: Address
  readonly onChange: (change: Partial<Address>) => void
}) {
  return (
    <div className="order-fields-row">
      <TextField label="Street" value={draft.line1} onChange={(line1) => onChange({ line1 })} chars={26} />
      <TextField label="Unit or floor" value={draft.line2} onChange={(line2) => onChange({ line2 })} chars={12} />
      <TextField label="Town" value={draft.town} onChange={(town) => onChange({ town })} chars={18} />
      <TextField label="Region" value={draft.region} onChange={(region) => onChange({ region })} chars={8} />
      <TextField
        label="Postal code"
        value={draft.postalCode}
        onChange={(postalCode) => onChange({ postalCode })}
        chars={9}
      />
      <TextField label="Country" value={draft.country} onChange={(country) => onChange({ country })} chars={14} />
    </div>
  )
}
