import { useMutation } from '@tanstack/react-query'
import { useNavigate } from '@tanstack/react-router'
import { Button } from '../design/Button.tsx'
import { TextField } from '../design/Field.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { ProgressLine } from '../design/ProgressLine.tsx'
import { Sheet, Sheets } from '../design/Sheet.tsx'
import { useDraft } from '../design/use-draft.ts'
import { ask, problemOf } from '../shell/office-door.ts'
import { useWork } from '../shell/use-work.ts'
import './import.css'

const NO_OFFICE = {
  name: '',
  line1: '',
  line2: '',
  town: '',
  region: '',
  postalCode: '',
  country: 'US',
  phone: '',
  email: '',
}
type OfficeDraft = typeof NO_OFFICE

/** The first question: an office of your own, with a list or without, or the demo office to look around in. */
export function FirstStartScreen() {
  const navigate = useNavigate()
  const demo = useWork('demo')
  const { draft, setDraft, discard } = useDraft('first-start', NO_OFFICE)
  const found = useMutation(ask.office.found.mutationOptions())
  const begin = (address: '/import' | '/households'): void => {
    found.mutate(draft, {
      onSuccess: () => {
        discard()
        void navigate({ to: address })
      },
    })
  }
  const failure = found.error ?? demo.error
  return (
    <Sheets>
      <Sheet title="How do we begin?">
        {failure !== null && <ProblemNote problem={problemOf(failure)} kept="What you typed is still here." />}
        {demo.state?.problem && <ProblemNote problem={demo.state.problem} />}
        <div className="first-start">
          <OfficeForm draft={draft} onChange={(change) => setDraft((before) => ({ ...before, ...change }))}>
            <Button
              kind="primary"
              isDisabled={draft.name.trim() === '' || found.isPending || demo.isRunning}
              onPress={() => begin('/import')}
            >
              Begin, and bring a list
            </Button>
            <Button
              isDisabled={draft.name.trim() === '' || found.isPending || demo.isRunning}
              onPress={() => begin('/households')}
            >
              Begin with empty books
            </Button>
          </OfficeForm>
          <section>
            <h2>Look around first</h2>
            <p>
              The demo office is Larkmoor Water: some 600 households in a county that does not exist, three vans, and
              five years of visits, letters and invoices. Nothing in it is real, and nothing you do there reaches
              anybody.
            </p>
            <p className="second">
              It fills these books. To begin your own office later, start Penstock with new books.
            </p>
            {demo.isRunning ? (
              <ProgressLine
                words={demo.state?.saying ?? 'starting'}
                done={demo.state?.done ?? 0}
                total={demo.state && demo.state.total > 0 ? demo.state.total : null}
                onStop={demo.stop}
                note="Stopped, the books stay empty."
              />
            ) : (
              <Button onPress={() => demo.start({})}>Open the demo office</Button>
            )}
          </section>
        </div>
      </Sheet>
    </Sheets>
  )
}

interface OfficeFormProps {
  readonly draft: OfficeDraft
  readonly onChange: (change: Partial<OfficeDraft>) => void
  readonly children: React.ReactNode
}

function OfficeForm({ draft, onChange, children }: OfficeFormProps) {
  return (
    <section>
      <h2>Your own office</h2>
      <p className="second">Only the name is needed now; the rest can wait for Settings.</p>
      <TextField
        label="Name of the office"
        value={draft.name}
        onChange={(name) => onChange({ name })}
        isRequired
        autoFocus
      />
      <TextField label="Street" value={draft.line1} onChange={(line1) => onChange({ line1 })} />
      <div className="field-row">
        <TextField label="Town" value={draft.town} onChange={(town) => onChange({ town })} chars={18} />
        <TextField label="State" value={draft.region} onChange={(region) => onChange({ region })} chars={5} />
        <TextField
          label="Postal code"
          value={draft.postalCode}
          onChange={(postalCode) => onChange({ postalCode })}
          chars={10}
        />
      </div>
      <div className="field-row">
        <TextField
          label="Telephone"
          value={draft.phone}
          onChange={(phone) => onChange({ phone })}
          chars={16}
          type="tel"
        />
        <TextField
          label="E-mail"
          value={draft.email}
          onChange={(email) => onChange({ email })}
          chars={28}
          type="email"
        />
      </div>
      <div className="import-actions">{children}</div>
    </section>
  )
}
