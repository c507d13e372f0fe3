import { useMutation } from '@tanstack/react-query'
import { type OfficeAddress, officeAddressSchema } from '../../core/settings/office-contract.ts'
import { Button } from '../design/Button.tsx'
import { TextField } from '../design/Field.tsx'
import { formProblems } from '../design/form-problems.ts'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SheetPart } from '../design/Sheet.tsx'
import { useSay } from '../design/undo.ts'
import { useDraft } from '../design/use-draft.ts'
import { ask, problemOf } from '../shell/office-door.ts'

const FIELDS: readonly { name: keyof OfficeAddress; label: string; note?: string }[] = [
  { name: 'name', label: 'Name of the office' },
  { name: 'line1', label: 'Street' },
  { name: 'line2', label: 'Unit or floor' },
  { name: 'town', label: 'Town' },
  { name: 'region', label: 'State or region' },
  { name: 'postalCode', label: 'Postal code' },
  { name: 'country', label: 'Country' },
  { name: 'phone', label: 'Telephone' },
  { name: 'email', label: 'E-mail' },
]

/** The office's own address: letterhead, invoices, where the routes begin. */
export function AddressForm({ address, version }: { readonly address: OfficeAddress; readonly version: number }) {
  const say = useSay()
  const { draft, setDraft, discard, isChanged } = useDraft<OfficeAddress>(`office-address-${version}`, address)
  const change = useMutation(ask.settings.changeAddress.mutationOptions())
  const problems = formProblems(officeAddressSchema, draft)
  const failure = change.error ? problemOf(change.error) : null
  const undo = () => change.mutateAsync({ address, version: version + 1 })
  return (
    <SheetPart title="Name and address" aside="the head of every letter and invoice, and where the routes begin">
      <div className="fields">
        {FIELDS.map(({ name, label }) => (
          <TextField
            key={name}
            label={label}
            value={draft[name]}
            onChange={(text) => setDraft((was) => ({ ...was, [name]: text }))}
            problem={problems[name]}
          />
        ))}
      </div>
      {failure && <ProblemNote problem={failure} id={failure.id} kept="What you typed is still here." />}
      {isChanged && (
        <div className="form-foot">
          <Button
            kind="primary"
            isDisabled={Object.keys(problems).length > 0 || change.isPending}
            onPress={() =>
              change.mutate(
                { address: draft, version },
                {
                  onSuccess: () => {
                    discard()
                    say({ said: 'The address is changed.', undo, undone: 'The address is as it was.' })
                  },
                },
              )
            }
          >
            Save the address
          </Button>
          <Button kind="quiet" onPress={discard}>
            Leave it as it was
          </Button>
        </div>
      )}
    </SheetPart>
  )
}
