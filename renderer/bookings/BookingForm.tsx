import type { z } from 'zod'
import { weekdayAndDate } from '../../core/units/date-words.ts'
import { formatWindow } from '../../core/units/time-of-day.ts'
import { minutesInWords } from '../../core/visits/planned-minutes.ts'
import type { BookingCheck, BookingForm as FormAnswer, freeDaySchema } from '../../core/visits/visits-contract.ts'
import { Button } from '../design/Button.tsx'
import { CheckField } from '../design/CheckField.tsx'
import { ChoiceField } from '../design/ChoiceField.tsx'
import { DateField } from '../design/DateField.tsx'
import { TextField } from '../design/Field.tsx'
import { NumberField } from '../design/NumberField.tsx'
import { useOffice } from '../design/office-manner.ts'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SheetPart } from '../design/Sheet.tsx'
import { StageTrain } from '../design/StageTrain.tsx'
import { TimeField } from '../design/TimeField.tsx'
import { DateText, MoneyText } from '../design/Words.tsx'
import type { ToldProblem } from '../shell/office-door.ts'
import { type BookingDraft, type OtherTask, ringedBy, type StageToPick } from './booking-draft.ts'
import './bookings.css'

type FreeDay = z.infer<typeof freeDaySchema>

interface BookingFormProps {
  readonly form: FormAnswer
  readonly draft: BookingDraft
  readonly onDraft: (next: (draft: BookingDraft) => BookingDraft) => void
  readonly picks: readonly StageToPick[]
  /** Null while a day, a window or a technician is missing. */
  readonly check: BookingCheck | null
  readonly checkProblem: ToldProblem | null
  readonly offers: readonly FreeDay[]
  readonly isMove: boolean
  readonly isSaving: boolean
  readonly problem: ToldProblem | null
  readonly onSave: (() => void) | null
}

export function BookingForm(props: BookingFormProps) {
  const { form, draft, onDraft, picks, check, offers, problem } = props
  const change = (part: Partial<BookingDraft>) => onDraft((before) => ({ ...before, ...part }))
  const ringed = ringedBy(picks)
  const train = form.units
    .flatMap((unit) => unit.stages)
    .map((stage) => ({ ...stage.train, ringed: ringed.has(stage.stageId) }))
  return (
    <form
      className="booking-form"
      onSubmit={(event) => {
        event.preventDefault()
        props.onSave?.()
      }}
    >
      <FreeDays offers={offers} draft={draft} onTake={(part) => change({ ...part, setAside: false })} />
      <WhenAndWho form={form} draft={draft} change={change} />
      <SheetPart title="What to do" aside={check ? `${minutesInWords(check.minutes)} there` : undefined}>
        {train.length > 0 && <StageTrain stages={train} size="full" />}
        <StagePicks picks={picks} onPick={(id, picked) => change({ byHand: { ...draft.byHand, [id]: picked } })} />
        <OtherTasks others={draft.others} onChange={(others) => change({ others })} />
      </SheetPart>
      {check && <PriceLines check={check} />}
      <div className="booking-words">
        <TextField label="Note for the job card" value={draft.note} onChange={(note) => change({ note })} lines={2} />
        {props.isMove && <TextField label="Why it is moved" value={draft.why} onChange={(why) => change({ why })} />}
        <CheckField value={draft.promised} onChange={(promised) => change({ promised })}>
          The household has our word for this day
        </CheckField>
      </div>
      <Against check={check} draft={draft} change={change} />
      {props.checkProblem && <ProblemNote problem={props.checkProblem} id={props.checkProblem.id} />}
      {problem && <ProblemNote problem={problem} id={problem.id} kept="Everything you entered is still here." />}
      <SaveLine {...props} />
    </form>
  )
}

type Change = (part: Partial<BookingDraft>) => void

function FreeDays(props: {
  readonly offers: readonly FreeDay[]
  readonly draft: BookingDraft
  readonly onTake: (part: Partial<BookingDraft>) => void
}) {
  const { locale } = useOffice()
  if (props.offers.length === 0)
    return (
      <SheetPart title="Free days">
        <p className="second">No day of the next two weeks has room for this visit.</p>
      </SheetPart>
    )
  return (
    <SheetPart title="Free days" aside="the next two weeks, days in that town first">
      <ul className="free-days">
        {props.offers.slice(0, 6).map((offer) => (
          <li key={`${offer.on}-${offer.technicianId}`}>
            <button
              type="button"
              aria-pressed={props.draft.on === offer.on && props.draft.technicianId === offer.technicianId}
              onClick={() =>
                props.onTake({
                  on: offer.on,
                  technicianId: offer.technicianId,
                  windowFrom: offer.windowFrom,
                  windowUntil: offer.windowUntil,
                })
              }
            >
              <b>{weekdayAndDate(offer.on, locale)}</b>
              <span>
                {formatWindow(offer.windowFrom, offer.windowUntil, locale)}, {offer.technician}
              </span>
              <span className="second small">
                {offer.visitsInTown > 0 ? 'already in that town, ' : ''}
                {minutesInWords(offer.minutesLeft)} left after it
              </span>
            </button>
          </li>
        ))}
      </ul>
    </SheetPart>
  )
}

function WhenAndWho({ form, draft, change }: { form: FormAnswer; draft: BookingDraft; change: Change }) {
  const choices = form.technicians.map(({ technicianId, name }) => ({ id: String(technicianId), words: name }))
  return (
    <div className="booking-when">
      <DateField label="Day" value={draft.on} onChange={(on) => change({ on, setAside: false })} />
      <TimeField label="Arrive from" value={draft.windowFrom} onChange={(windowFrom) => change({ windowFrom })} />
      <TimeField label="until" value={draft.windowUntil} onChange={(windowUntil) => change({ windowUntil })} />
      <ChoiceField
        label="Technician"
        choices={choices}
        value={draft.technicianId === null ? null : String(draft.technicianId)}
        onChange={(id) =>
          change({
            technicianId: form.technicians.find((one) => String(one.technicianId) === id)?.technicianId ?? null,
            setAside: false,
          })
        }
      />
    </div>
  )
}

function StagePicks(props: {
  readonly picks: readonly StageToPick[]
  readonly onPick: (stageId: number, picked: boolean) => void
}) {
  if (props.picks.length === 0)
    return <p className="second">No stages are recorded for this household: write down the work below.</p>
  return (
    <ul className="stage-picks">
      {props.picks.map(({ stage, proposal, picked }) => (
        <li key={stage.stageId}>
          <CheckField value={picked} onChange={(value) => props.onPick(stage.stageId, value)}>
            {proposal.care === 'sanitise' ? 'Sanitise' : 'Change'} {stage.label.toLowerCase()}
          </CheckField>
          <span className="second small">
            {[proposal.why, stage.part?.name ?? (proposal.care === 'change' ? 'no part named' : '')]
              .filter((part) => part !== '')
              .join(' · ')}
          </span>
        </li>
      ))}
    </ul>
  )
}

function OtherTasks(props: {
  readonly others: readonly OtherTask[]
  readonly onChange: (others: readonly OtherTask[]) => void
}) {
  const { others, onChange } = props
  const set = (index: number, part: Partial<OtherTask>) =>
    onChange(others.map((task, at) => (at === index ? { ...task, ...part } : task)))
  return (
    <div className="other-tasks">
      {others.map((task, index) => (
        <div key={`other-${String(index)}`} className="other-task">
          <TextField
            label={`Other task ${index + 1}`}
            value={task.description}
            onChange={(description) => set(index, { description })}
          />
          <NumberField
            label="Minutes"
            value={task.minutes}
            onChange={(minutes) => set(index, { minutes })}
            chars={5}
            least={0}
            most={600}
          />
          <Button kind="quiet" onPress={() => onChange(others.toSpliced(index, 1))}>
            Take away task {index + 1}
          </Button>
        </div>
      ))}
      <Button kind="quiet" onPress={() => onChange([...others, { kind: 'other', description: '', minutes: 10 }])}>
        Write down another task
      </Button>
    </div>
  )
}

function PriceLines({ check }: { readonly check: BookingCheck }) {
  const { currency } = useOffice()
  const { price } = check
  return (
    <SheetPart title="What it will cost" aside={currency}>
      <dl className="price-lines">
        {price.lines.map((line, index) => (
          <div key={`${line.what}-${String(index)}`}>
            <dt>{line.what}</dt>
            <dd>
              <MoneyText cents={line.netCents} bare />
            </dd>
          </div>
        ))}
        {price.taxCents !== 0 && (
          <div>
            <dt>Tax</dt>
            <dd>
              <MoneyText cents={price.taxCents} bare />
            </dd>
          </div>
        )}
        <div className="price-sum">
          <dt>Together</dt>
          <dd>
            <MoneyText cents={price.grossCents} bare />
          </dd>
        </div>
      </dl>
    </SheetPart>
  )
}

/** What speaks against it, and who is there that day. */
function Against({ check, draft, change }: { check: BookingCheck | null; draft: BookingDraft; change: Change }) {
  const { locale } = useOffice()
  if (check === null) return null
  const asks = check.objections.filter((one) => one.weight === 'asks')
  const isRefused = check.objections.some((one) => one.weight === 'refusal')
  return (
    <div className="booking-against" aria-live="polite">
      {check.objections.map((objection) => (
        <ProblemNote key={objection.code} problem={objection} />
      ))}
      {asks.length > 0 && !isRefused && (
        <CheckField value={draft.setAside} onChange={(setAside) => change({ setAside })}>
          I know; book it all the same
        </CheckField>
      )}
      {check.sameDay.length > 0 && (
        <SheetPart title="That day already">
          <ul className="same-day">
            {check.sameDay.map((visit) => (
              <li key={visit.visitId}>
                <span className="figures">{formatWindow(visit.windowFrom, visit.windowUntil, locale)}</span>
                <span>
                  {visit.household}, {visit.town}
                </span>
                <span className="second">{minutesInWords(visit.minutes)}</span>
              </li>
            ))}
          </ul>
        </SheetPart>
      )}
    </div>
  )
}

function SaveLine({ draft, check, isMove, isSaving, onSave }: BookingFormProps) {
  const stands = check?.objections.some((one) => one.weight === 'refusal' || !draft.setAside) ?? true
  return (
    <div className="sheet-actions booking-save">
      <Button kind="primary" type="submit" isDisabled={onSave === null || stands || isSaving}>
        {isMove ? 'Move to ' : 'Book '}
        {draft.on === null ? 'a day' : <DateText date={draft.on} as="visit" />}
      </Button>
      {draft.on === null && <span className="second">Choose a free day, or type one.</span>}
    </div>
  )
}
