import { useMutation } from '@tanstack/react-query'
import { workdaysText } from '../../core/settings/setting-text.ts'
import { type Technician, type TechnicianForm, technicianFormSchema } from '../../core/settings/settings-contract.ts'
import type { CalendarDate } from '../../core/units/calendar-date.ts'
import { formatTimeOfDay, minutes, type TimeOfDay } from '../../core/units/time-of-day.ts'
import { Button } from '../design/Button.tsx'
import { DateField } from '../design/DateField.tsx'
import { EmptyPlace } from '../design/EmptyPlace.tsx'
import { TextField } from '../design/Field.tsx'
import { formProblems } from '../design/form-problems.ts'
import { NumberField } from '../design/NumberField.tsx'
import { useOffice } from '../design/office-manner.ts'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SheetPart } from '../design/Sheet.tsx'
import { TimeField } from '../design/TimeField.tsx'
import { useSay } from '../design/undo.ts'
import { useDraft } from '../design/use-draft.ts'
import { DateText } from '../design/Words.tsx'
import { ask, problemOf } from '../shell/office-door.ts'
import { useOfficeState } from '../shell/office-state.ts'
import { WorkdaysField } from './SettingField.tsx'

/** Who works here: workdays, hours, days off. */
export function TechniciansPart({ technicians }: { readonly technicians: readonly Technician[] }) {
  const { draft: opened, setDraft: setOpened } = useDraft<number | 'new' | null>('technician-opened', null)
  const shut = (): void => setOpened(null)
  return (
    <SheetPart
      title="Technicians"
      aside={
        <Button kind="quiet" onPress={() => setOpened('new')}>
          Add a technician
        </Button>
      }
    >
      {technicians.length === 0 && opened !== 'new' && (
        <EmptyPlace why="Nobody is written down here yet." todo="Add a technician; visits are booked with them." />
      )}
      <ul>
        {technicians.map((technician) => (
          <li key={technician.technicianId} className="technician">
            {opened === technician.technicianId ? (
              <TechnicianFields technician={technician} onOver={shut} />
            ) : (
              <TechnicianLine technician={technician} onChange={() => setOpened(technician.technicianId)} />
            )}
          </li>
        ))}
        {opened === 'new' && (
          <li className="technician">
            <TechnicianFields technician={null} onOver={shut} />
          </li>
        )}
      </ul>
    </SheetPart>
  )
}

function TechnicianLine({ technician, onChange }: { readonly technician: Technician; readonly onChange: () => void }) {
  const { locale } = useOffice()
  const hours = `${formatTimeOfDay(technician.startsAt, locale)} to ${formatTimeOfDay(technician.endsAt, locale)}`
  return (
    <>
      <div className="technician-line">
        <p>
          <b>{technician.name}</b> <span className="second">{technician.phone}</span>
        </p>
        <p className="second">
          {workdaysText(technician.workdays)}, {hours}
          {technician.leftOn && (
            <>
              , leaves on <DateText date={technician.leftOn} />
            </>
          )}
        </p>
        <Button kind="quiet" onPress={onChange} aria-label={`Change ${technician.name}`}>
          Change
        </Button>
      </div>
      <DaysOff technician={technician} />
    </>
  )
}

interface TypedDaysOff {
  readonly adds: boolean
  readonly from: CalendarDate | null
  readonly until: CalendarDate | null
  readonly reason: string
}

function DaysOff({ technician }: { readonly technician: Technician }) {
  const { today } = useOffice()
  const say = useSay()
  const { draft, setDraft, discard } = useDraft<TypedDaysOff>(`days-off-${technician.technicianId}`, {
    adds: false,
    from: today,
    until: null,
    reason: '',
  })
  const { adds, from, until, reason } = draft
  const change = (part: Partial<TypedDaysOff>): void => setDraft((was) => ({ ...was, ...part }))
  const add = useMutation(ask.settings.addDayOff.mutationOptions())
  const remove = useMutation(ask.settings.removeDayOff.mutationOptions())
  const error = add.error ?? remove.error
  const { technicianId } = technician
  return (
    <div className="days-off">
      {technician.daysOff.map((day) => (
        <p key={day.dayOffId} className="second">
          off <DateText date={day.fromOn} />
          {day.untilOn !== day.fromOn && (
            <>
              {' '}
              to <DateText date={day.untilOn} />
            </>
          )}
          {day.reason && `, ${day.reason}`}{' '}
          <Button
            kind="quiet"
            onPress={() =>
              remove.mutate(
                { dayOffId: day.dayOffId },
                {
                  onSuccess: () =>
                    say({
                      said: `${technician.name} works then after all.`,
                      undo: () =>
                        add.mutateAsync({
                          technicianId,
                          fromOn: day.fromOn,
                          untilOn: day.untilOn,
                          reason: day.reason,
                        }),
                    }),
                },
              )
            }
          >
            Take out
          </Button>
        </p>
      ))}
      {!adds && (
        <Button kind="quiet" onPress={() => change({ adds: true })} aria-label={`Add days off for ${technician.name}`}>
          Add days off
        </Button>
      )}
      {adds && (
        <div className="fields">
          <DateField label="Off from" value={from} onChange={(next) => change({ from: next })} />
          <DateField
            label="to"
            value={until}
            onChange={(next) => change({ until: next })}
            note="Leave it empty for one day."
          />
          <TextField label="Why" value={reason} onChange={(next) => change({ reason: next })} />
          <div className="form-foot">
            <Button
              kind="primary"
              isDisabled={from === null || add.isPending}
              onPress={() =>
                from &&
                add.mutate(
                  { technicianId, fromOn: from, untilOn: until ?? from, reason },
                  {
                    onSuccess: ({ dayOffId }) => {
                      discard()
                      say({
                        said: `Days off of ${technician.name} are written down.`,
                        undo: () => remove.mutateAsync({ dayOffId }),
                      })
                    },
                  },
                )
              }
            >
              Write them down
            </Button>
            <Button kind="quiet" onPress={discard}>
              Leave it
            </Button>
          </div>
        </div>
      )}
      {error && <ProblemNote problem={problemOf(error)} id={problemOf(error).id} />}
    </div>
  )
}

interface Typed {
  readonly name: string
  readonly shortName: string
  readonly phone: string
  readonly workdays: string
  readonly startsAt: TimeOfDay | null
  readonly endsAt: TimeOfDay | null
  readonly minutesADay: number | null
}

function TechnicianFields({
  technician,
  onOver,
}: {
  readonly technician: Technician | null
  readonly onOver: () => void
}) {
  const { today } = useOffice()
  const { settings } = useOfficeState()
  const say = useSay()
  const key = technician ? `technician-${technician.technicianId}-${technician.version}` : 'technician-new'
  const initial: Typed = technician ?? {
    name: '',
    shortName: '',
    phone: '',
    workdays: settings.workdays,
    startsAt: settings.dayStartsAt,
    endsAt: settings.dayEndsAt,
    minutesADay: minutes(settings.dayEndsAt - settings.dayStartsAt),
  }
  const { draft, setDraft, discard } = useDraft<Typed>(key, initial)
  const {
    draft: leavesOn,
    setDraft: setLeavesOn,
    discard: discardLeave,
  } = useDraft<CalendarDate | null>(`leaves-${key}`, technician?.leftOn ?? null)
  const save = useMutation(ask.settings.saveTechnician.mutationOptions())
  const leave = useMutation(ask.settings.technicianLeaves.mutationOptions())
  const error = save.error ?? leave.error
  const parsed = technicianFormSchema.safeParse(draft)
  const problems = formProblems(technicianFormSchema, draft)
  const change = (part: Partial<Typed>): void => setDraft((was) => ({ ...was, ...part }))
  const over = (said: string): void => {
    discard()
    discardLeave()
    onOver()
    say({ said })
  }
  const saveForm = (form: TechnicianForm): void =>
    save.mutate(
      { technicianId: technician?.technicianId ?? null, version: technician?.version ?? 0, form },
      { onSuccess: () => over(`${form.name} is written down.`) },
    )
  return (
    <>
      <div className="fields">
        <TextField
          label="Name"
          value={draft.name}
          onChange={(name) => change({ name })}
          problem={draft.name === '' ? null : problems.name}
          autoFocus
        />
        <TextField
          label="Short name, for lists"
          value={draft.shortName}
          onChange={(shortName) => change({ shortName })}
          problem={problems.shortName}
        />
        <TextField
          label="Telephone"
          value={draft.phone}
          onChange={(phone) => change({ phone })}
          problem={problems.phone}
        />
        <TimeField label="Begins" value={draft.startsAt} onChange={(startsAt) => change({ startsAt })} />
        <TimeField
          label="Ends"
          value={draft.endsAt}
          onChange={(endsAt) => change({ endsAt })}
          problem={problems.endsAt}
        />
        <NumberField
          label="Work a day"
          unit="minutes"
          value={draft.minutesADay}
          onChange={(minutesADay) => change({ minutesADay })}
          least={0}
          most={1440}
        />
      </div>
      <WorkdaysField label="Workdays" value={draft.workdays} onChange={(workdays) => change({ workdays })} />
      {error && (
        <ProblemNote problem={problemOf(error)} id={problemOf(error).id} kept="What you typed is still here." />
      )}
      <div className="form-foot">
        <Button
          kind="primary"
          isDisabled={!parsed.success || save.isPending}
          onPress={() => parsed.success && saveForm(parsed.data)}
        >
          {technician ? `Save ${technician.name}` : 'Add the technician'}
        </Button>
        <Button
          kind="quiet"
          onPress={() => {
            discard()
            discardLeave()
            onOver()
          }}
        >
          Leave it
        </Button>
      </div>
      {technician && (
        <div className="form-foot">
          <DateField
            label="Last day here"
            value={leavesOn}
            onChange={setLeavesOn}
            note={`Empty while ${technician.name} stays.`}
          />
          <Button
            isDisabled={leave.isPending || leavesOn === technician.leftOn}
            onPress={() =>
              leave.mutate(
                { technicianId: technician.technicianId, leftOn: leavesOn },
                {
                  onSuccess: () =>
                    over(
                      leavesOn === null || leavesOn > today
                        ? `Noted for ${technician.name}.`
                        : `${technician.name} has left.`,
                    ),
                },
              )
            }
          >
            Write down the last day
          </Button>
        </div>
      )}
    </>
  )
}
