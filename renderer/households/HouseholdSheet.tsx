import { useQuery } from '@tanstack/react-query'
import { useNavigate } from '@tanstack/react-router'
import { useState } from 'react'
import type { HouseholdSheet as Household } from '../../core/due/due-contract.ts'
import { householdParticulars, householdStanding } from '../../core/due/household-words.ts'
import { STAGE_KIND_WORDS } from '../../core/installations/stage-kinds.ts'
import type { SiteId } from '../../core/units/ids.ts'
import { formatCents } from '../../core/units/money.ts'
import type { LineStage } from '../../core/visits/visits-line.ts'
import { Button } from '../design/Button.tsx'
import { EmptyPlace } from '../design/EmptyPlace.tsx'
import { useOffice } from '../design/office-manner.ts'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SecondSheet, SheetPart } from '../design/Sheet.tsx'
import { printPaper } from '../design/save-file.ts'
import { DateText } from '../design/Words.tsx'
import { ask, problemOf } from '../shell/office-door.ts'
import { useOfficeState } from '../shell/office-state.ts'
import { useGoTo } from '../shell/open-record.ts'
import { ContactsPart } from './ContactsPart.tsx'
import { HouseholdActs } from './HouseholdActs.tsx'
import { HouseholdForm } from './HouseholdForm.tsx'
import { MembranePart } from './MembranePart.tsx'
import { PlanPart } from './PlanPart.tsx'
import { UnitForm } from './UnitForm.tsx'
import { UnitPart } from './UnitPart.tsx'
import './households.css'

interface HouseholdSheetProps {
  readonly siteId: SiteId
  readonly backTo: string
  readonly onClose: () => void
}

/** What stands on the sheet: the household, its form, or the form of one of its units ("new" for another one). */
type Face =
  | { readonly kind: 'household' }
  | { readonly kind: 'form' }
  | { readonly kind: 'unit'; readonly unit: Household['units'][number] | null }

/** Everything about one household. */
export function HouseholdSheet({ siteId, backTo, onClose }: HouseholdSheetProps) {
  const answer = useQuery(ask.due.household.queryOptions({ input: { siteId } }))
  const [face, setFace] = useState<Face>({ kind: 'household' })
  const household = answer.data
  const back = (): void => setFace({ kind: 'household' })
  if (!household)
    return (
      <SecondSheet title="Household" backTo={backTo} onClose={onClose}>
        {answer.error ? (
          <ProblemNote
            problem={problemOf(answer.error)}
            id={problemOf(answer.error).id}
            onTryAgain={() => void answer.refetch()}
          />
        ) : (
          <p className="second">Fetching the household …</p>
        )}
      </SecondSheet>
    )
  if (face.kind === 'form') return <HouseholdForm household={household} onDone={back} />
  if (face.kind === 'unit')
    return (
      <UnitForm
        key={face.unit?.installationId ?? 'new'}
        siteId={siteId}
        household={household.customer.sortName}
        unit={face.unit}
        onDone={back}
      />
    )
  return (
    <SecondSheet
      title={household.customer.sortName}
      below={<Below household={household} />}
      backTo={backTo}
      onClose={onClose}
    >
      <Standing household={household} />
      <Units household={household} onUnit={(unit) => setFace({ kind: 'unit', unit })} />
      <LettersAndVisits household={household} />
      <ContactsPart household={household} />
      <Invoices household={household} />
      <Log household={household} />
      <Foot
        household={household}
        onForm={() => setFace({ kind: 'form' })}
        onUnit={() => setFace({ kind: 'unit', unit: null })}
      />
    </SecondSheet>
  )
}

function Below({ household }: { readonly household: Household }) {
  const { measures } = useOffice()
  const { largeHouseholdPeople } = useOfficeState().settings
  return <>{householdParticulars(household, { measures, largeHouseholdPeople }).join(' · ')}</>
}

function Standing({ household }: { readonly household: Household }) {
  const { locale } = useOffice()
  const sentences = householdStanding(household, locale)
  if (sentences.length === 0) return null
  return (
    <div className="household-standing">
      {sentences.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
    </div>
  )
}

interface UnitsProps {
  readonly household: Household
  readonly onUnit: (unit: Household['units'][number]) => void
}

/** The units with their trains, what to see to on which visit, and what was measured. */
function Units({ household, onUnit }: UnitsProps) {
  const input = { siteId: household.siteId }
  const rules = useQuery(ask.due.rules.queryOptions({ input }))
  const measurements = useQuery(ask.due.measurements.queryOptions({ input }))
  const plan = useQuery(ask.visits.plan.queryOptions({ input }))
  const planned = household.closedOn === null ? plan.data : undefined
  const problem = rules.error ?? measurements.error ?? plan.error
  if (household.units.length === 0)
    return (
      <EmptyPlace
        why="No unit is written down for this household."
        todo="Add the unit with its stages, and the office knows what falls due."
      />
    )
  return (
    <>
      {household.units.map((unit) => (
        <UnitPart
          key={unit.installationId}
          unit={unit}
          rules={rules.data?.units.find((one) => one.installationId === unit.installationId)}
          plan={planned}
          onChange={() => onUnit(unit)}
        />
      ))}
      {problem && <ProblemNote problem={problemOf(problem)} id={problemOf(problem).id} />}
      {planned && <PlanPart plan={planned} stages={lineStagesOf(household)} />}
      {measurements.data?.units.map((unit) => (
        <MembranePart
          key={unit.installationId}
          unit={unit}
          marks={measurements.data.marks}
          isNamed={household.units.length > 1}
        />
      ))}
    </>
  )
}

function lineStagesOf(household: Household): LineStage[] {
  return household.units.flatMap((unit) =>
    unit.train.map(({ stageId, label, kind, dueOn }) => ({
      stageId,
      label,
      unit: household.units.length > 1 ? unit.fields.name : '',
      care: STAGE_KIND_WORDS[kind].care,
      dueOn,
    })),
  )
}

function LettersAndVisits({ household }: { readonly household: Household }) {
  return (
    <SheetPart title="Letters and visits">
      {household.history.length === 0 && <p className="second">No letter was sent yet, and no visit made.</p>}
      <dl className="household-history">
        {household.history.map((entry) => (
          <div key={entry.key}>
            <dt>
              <DateText date={entry.on} />
            </dt>
            <dd>{entry.sentence}</dd>
          </div>
        ))}
      </dl>
    </SheetPart>
  )
}

function Invoices({ household }: { readonly household: Household }) {
  const { locale } = useOffice()
  const goTo = useGoTo()
  if (household.invoices.length === 0) return null
  return (
    <SheetPart title="Invoices">
      <dl className="household-history">
        {household.invoices.map((invoice) => (
          <div key={invoice.invoiceId}>
            <dt>
              <DateText date={invoice.on} />
            </dt>
            <dd className="household-invoice">
              <button
                type="button"
                className="household-link"
                onClick={() => goTo('/invoices', String(invoice.invoiceId))}
              >
                {invoice.number === ''
                  ? 'draft'
                  : `${invoice.kind === 'invoice' ? 'invoice' : 'credit note'} ${invoice.number}`}
              </button>
              <span className="figures">{formatCents(invoice.gross, invoice.currency, locale)}</span>
            </dd>
          </div>
        ))}
      </dl>
    </SheetPart>
  )
}

function Log({ household }: { readonly household: Household }) {
  if (household.events.length === 0) return null
  return (
    <details className="household-log">
      <summary>Who did what, {household.events.length} entries</summary>
      <dl className="household-history">
        {household.events.map((event) => (
          <div key={event.key}>
            <dt>
              <DateText date={event.on} />
            </dt>
            <dd>
              {event.sentence} <span className="second">({event.by})</span>
              {event.details !== '' && <span className="second small household-details">{event.details}</span>}
            </dd>
          </div>
        ))}
      </dl>
    </details>
  )
}

const NEXT_LETTER = { first: 'second', second: 'final', final: 'final' } as const

function Foot({
  household,
  onForm,
  onUnit,
}: {
  readonly household: Household
  readonly onForm: () => void
  readonly onUnit: () => void
}) {
  const goTo = useGoTo()
  const navigate = useNavigate()
  const mayWrite =
    household.closedOn === null &&
    household.movedOn === null &&
    !household.customer.noMail &&
    household.bookedOn === null
  const letter = household.letter === null ? 'first' : NEXT_LETTER[household.letter.kind]
  return (
    <div className="form-foot household-foot">
      {household.closedOn === null && (
        <Button kind="primary" onPress={() => goTo('/bookings', String(household.siteId))}>
          Book a visit
        </Button>
      )}
      {mayWrite && (
        <Button onPress={() => void navigate({ to: '/letters', search: { households: String(household.siteId) } })}>
          Write the {letter} letter
        </Button>
      )}
      <Button onPress={() => void printPaper(`/papers/household/${household.siteId}.pdf`)}>Print its page</Button>
      <Button onPress={onForm}>Change the household</Button>
      <Button onPress={onUnit}>Add a unit</Button>
      <HouseholdActs household={household} />
    </div>
  )
}
