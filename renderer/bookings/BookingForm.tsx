import type { z } from 'zod'
import type { CalendarDate } from '../../core/units/calendar-date.ts'
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
import { type BookingDraft, lacksWords, ringedBy, type StageToPick } from './booking-draft.ts'
import { OtherTasks } from './OtherTasks.tsx'
import './bookings.css'

type FreeDay = z.infer<typeof freeDaySchema>

interface BookingFormProps {
  readonly form: FormAnswer
  readonly draft: BookingDraft
  readonly onDraft: (next: (draft: BookingDraft) => BookingDraft) => void
  readonly picks: readonly StageToPick[]
  /** Null while a day or a window is missing. */
  readonly check: BookingCheck | null
  readonly checkProblem: ToldProblem | null
  readonly offers: readonly FreeDay[]
  /** By day what parts of this visit would be missing. */
  readonly missing: ReadonlyMap<CalendarDate, readonly string[]>
  readonly isMove: boolean
  /** A visit that nobody had is given to someone. */
  readonly isGiven: boolean
  readonly isSaving: boolean
  readonly problem: ToldProblem | null
  readonly onSave: (() => void) | null
}

export function BookingForm(props: BookingFormProps) {
  const { form, draft, onDraft, picks, check, offers, missing, problem } = props
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
      <FreeDays
        offers={offers}
        missing={missing}
        draft={draft}
        onTake={(part) => change({ ...part, setAside: false })}
      />
      <WhenAndWho form={form} draft={draft} change={change} />
      <SheetPart title="What to do" aside={check ? `${minutesInWords(check.minutes)} there` : undefined}>
        {train.length > 0 && <StageTrain stages={train} size="full" />}
        <MissingParts sentences={(draft.on && missing.get(draft.on)) || NONE_MISSING} />
        <StagePicks picks={picks} onPick={(id, picked) => change({ byHand: { ...draft.byHand, [id]: picked } })} />
        <OtherTasks others={draft.others} onChange={(others) => change({ others })} />
        <MinutesThere check={check} draft={draft} change={change} />
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
  readonly missing: BookingFormProps['missing']
  readonly draft: BookingDraft
  readonly onTake: (part: Partial<BookingDraft>) => void
}) {
  const { locale } = useOffice()
  if (props.offers.length === 0)
    return (
      <SheetPart title="Free days">
        <p className="second">
          No day that was looked at has room for this visit; Settings says how far ahead to look.
        </p>
      </SheetPart>
    )
  return (
    <SheetPart title="Free days" aside="days in that town first">
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
              {props.missing.has(offer.on) && <span className="small bold">a part would be missing</span>}
            </button>
          </li>
        ))}
      </ul>
    </SheetPart>
  )
}

function WhenAndWho({ form, draft, change }: { form: FormAnswer; draft: BookingDraft; change: Change }) {
  const choices = [
    ...form.technicians.map(({ technicianId, name }) => ({ id: String(technicianId), words: name })),
    { id: NOBODY, words: 'Nobody yet' },
  ]
  return (
    <div className="booking-when">
      <DateField label="Day" value={draft.on} onChange={(on) => change({ on, setAside: false })} />
      <TimeField label="Arrive from" value={draft.windowFrom} onChange={(windowFrom) => change({ windowFrom })} />
      <TimeField label="until" value={draft.windowUntil} onChange={(windowUntil) => change({ windowUntil })} />
      <ChoiceField
        label="Technician"
        choices={choices}
        value={draft.technicianId === null ? NOBODY : String(draft.technicianId)}
        onChange={(id) =>
          change({
            technicianId: form.technicians.find((one) => String(one.technicianId) === id)?.technicianId ?? null,
            setAside: false,
          })
        }
      />
      {draft.technicianId === null && (
        <p className="second small booking-nobody">
          It stands in the week under Nobody yet. Nothing is pulled for it until someone has it.
        </p>
      )}
    </div>
  )
}

const NOBODY = 'nobody'

/** The office's own minutes, beside what the tasks come to. */
function MinutesThere({ check, draft, change }: { check: BookingCheck | null; draft: BookingDraft; change: Change }) {
  const builtUp = check === null ? null : minutesInWords(check.builtUpMinutes)
  return (
    <div className="minutes-there">
      <NumberField
        label="Our own minutes there"
        value={draft.ownMinutes}
        onChange={(ownMinutes) => change({ ownMinutes })}
        chars={5}
        least={1}
        most={900}
      />
      <span className="second small">
        {builtUp === null
          ? 'Empty: built up from the call and the tasks.'
          : draft.ownMinutes === null
            ? `Empty: ${builtUp}, built up from the call and the tasks.`
            : `Built up from the call and the tasks it would be ${builtUp}.`}
      </span>
    </div>
  )
}

const NONE_MISSING: readonly string[] = []

/** What this visit would go without on its day, and the orders it waits for. */
function MissingParts({ sentences }: { readonly sentences: readonly string[] }) {
  return (
    <div aria-live="polite">
      {sentences.length > 0 && (
        <div className="booking-missing">
          {sentences.map((sentence) => (
            <p key={sentence} className="bold">
              {sentence}
            </p>
          ))}
          <p className="second small">
            It can be booked all the same; another day, or a call to the supplier, may help.
          </p>
        </div>
      )}
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

function SaveLine({ form, draft, check, isMove, isGiven, isSaving, onSave }: BookingFormProps) {
  const who = form.technicians.find((one) => one.technicianId === draft.technicianId)?.name
  const stands = check?.objections.some((one) => one.weight === 'refusal' || !draft.setAside) ?? true
  return (
    <div className="sheet-actions booking-save">
      <Button kind="primary" type="submit" isDisabled={onSave === null || stands || isSaving}>
        {isGiven ? `Give it to ${who}, ` : isMove ? 'Move to ' : 'Book '}
        {draft.on === null ? 'a day' : <DateText date={draft.on} as="visit" />}
      </Button>
      {draft.on === null && <span className="second">Choose a free day, or type one.</span>}
      {draft.others.some(lacksWords) && <span className="second">Say what the other task is, or take it away.</span>}
    </div>
  )
}
