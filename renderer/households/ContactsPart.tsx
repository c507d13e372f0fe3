import { useMutation } from '@tanstack/react-query'
import { useState } from 'react'
import { type ContactFields, contactFieldsSchema } from '../../core/customers/customers-contract.ts'
import type { HouseholdSheet } from '../../core/due/due-contract.ts'
import type { ContactId, SiteId } from '../../core/units/ids.ts'
import { Button } from '../design/Button.tsx'
import { TextField } from '../design/Field.tsx'
import { formProblems } from '../design/form-problems.ts'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SheetPart } from '../design/Sheet.tsx'
import { useSay } from '../design/undo.ts'
import { useDraft } from '../design/use-draft.ts'
import { ask, office, problemOf } from '../shell/office-door.ts'

const BLANK: ContactFields = { name: '', role: '', phone: '', email: '', note: '' }

/** Who else can be reached there, with a small form for each; and the notes. */
export function ContactsPart({ household }: { readonly household: HouseholdSheet }) {
  const { siteId, contacts } = household
  const [open, setOpen] = useState<ContactId | 'new' | null>(null)
  const notes = [household.site.accessNote, household.customer.note].filter((note) => note !== '')
  return (
    <SheetPart
      title="Contacts and notes"
      aside={
        <Button kind="quiet" onPress={() => setOpen('new')}>
          Add a contact
        </Button>
      }
    >
      {contacts.map(({ contactId, ...fields }) =>
        open === contactId ? (
          <ContactForm
            key={contactId}
            siteId={siteId}
            contactId={contactId}
            fields={fields}
            onDone={() => setOpen(null)}
          />
        ) : (
          <p key={contactId}>
            <button type="button" className="household-link" onClick={() => setOpen(contactId)}>
              {fields.name}
            </button>{' '}
            {[fields.role, fields.phone, fields.email, fields.note].filter((part) => part !== '').join(' · ')}
          </p>
        ),
      )}
      {open === 'new' && <ContactForm siteId={siteId} contactId={null} fields={BLANK} onDone={() => setOpen(null)} />}
      {notes.map((note) => (
        <p key={note}>{note}</p>
      ))}
      {contacts.length === 0 && notes.length === 0 && open === null && (
        <p className="second">Nobody else is written down, and no note.</p>
      )}
    </SheetPart>
  )
}

interface ContactFormProps {
  readonly siteId: SiteId
  readonly contactId: ContactId | null
  readonly fields: ContactFields
  readonly onDone: () => void
}

function ContactForm({ siteId, contactId, fields, onDone }: ContactFormProps) {
  const { draft, setDraft, discard } = useDraft(`contact-${siteId}-${contactId ?? 'new'}`, fields)
  const [isTried, setTried] = useState(false)
  const say = useSay()
  const leave = (): void => {
    discard()
    onDone()
  }
  const save = useMutation(ask.households.saveContact.mutationOptions({ onSuccess: leave }))
  const remove = useMutation(
    ask.households.removeContact.mutationOptions({
      onSuccess: () => {
        leave()
        say({
          said: `${fields.name} is taken out.`,
          undo: () => office.households.saveContact({ siteId, contactId: null, fields }),
          undone: `${fields.name} is back.`,
        })
      },
    }),
  )
  const problems = formProblems(contactFieldsSchema, draft)
  const put = (name: keyof ContactFields) => ({
    value: draft[name],
    onChange: (value: string) => setDraft((before) => ({ ...before, [name]: value })),
    problem: isTried ? problems[name] : null,
  })
  const error = save.error ?? remove.error
  return (
    <form
      className="household-contact"
      onSubmit={(event) => {
        event.preventDefault()
        setTried(true)
        if (Object.keys(problems).length === 0) save.mutate({ siteId, contactId, fields: draft })
      }}
    >
      <div className="fields">
        <TextField {...put('name')} label="Contact" isRequired autoFocus />
        <TextField {...put('role')} label="Who that is" placeholder="tenant, caretaker" />
        <TextField {...put('phone')} label="Their telephone" type="tel" />
        <TextField {...put('email')} label="Their e-mail" type="email" />
        <TextField {...put('note')} label="About them" />
      </div>
      {error !== null && (
        <ProblemNote problem={problemOf(error)} id={problemOf(error).id} kept="What you typed is still here." />
      )}
      <div className="form-foot">
        <Button kind="primary" type="submit" isDisabled={save.isPending}>
          Save the contact
        </Button>
        <Button onPress={leave}>Leave it</Button>
        {contactId !== null && (
          <Button kind="quiet" onPress={() => remove.mutate({ siteId, contactId })}>
            Take the contact out
          </Button>
        )}
      </div>
    </form>
  )
}
