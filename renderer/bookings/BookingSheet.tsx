import { useMutation, useQuery } from '@tanstack/react-query'
import { useMemo } from 'react'
import type { CalendarDate } from '../../core/units/calendar-date.ts'
import type { SiteId, VisitId } from '../../core/units/ids.ts'
import type { ProposedTask } from '../../core/visits/propose-tasks.ts'
import type { VisitShape } from '../../core/visits/visit-shapes.ts'
import { whenInWords } from '../../core/visits/visit-words.ts'
import type { BookingForm as FormAnswer, WantedVisit } from '../../core/visits/visits-contract.ts'
import { useOffice } from '../design/office-manner.ts'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SecondSheet } from '../design/Sheet.tsx'
import { useSay } from '../design/undo.ts'
import { useDraft } from '../design/use-draft.ts'
import { ask, office, problemOf } from '../shell/office-door.ts'
import { useOfficeState } from '../shell/office-state.ts'
import { BookingForm } from './BookingForm.tsx'
import {
  type BookingDraft,
  bookingOf,
  lacksWords,
  newBooking,
  type StageToPick,
  stagesToPick,
  wantedOf,
} from './booking-draft.ts'

/** A new booking for a household. */
export function NewBookingSheet({ siteId, onClose }: { readonly siteId: SiteId; readonly onClose: () => void }) {
  const form = useQuery(ask.visits.bookingForm.queryOptions({ input: { siteId } }))
  const { settings } = useOfficeState()
  if (form.error) return <Failed error={form.error} onClose={onClose} />
  if (!form.data) return null
  const initial = newBooking(settings, form.data.technicians[0]?.technicianId ?? null)
  return <Booking key={siteId} form={form.data} initial={initial} visit={null} onClose={onClose} />
}

/** A booked visit that is to be moved. */
export function MovingSheet({ visitId, onClose }: { readonly visitId: VisitId; readonly onClose: () => void }) {
  const { settings } = useOfficeState()
  const found = useQuery(ask.visits.one.queryOptions({ input: { visitId } }))
  const siteId = found.data?.visit.household.siteId
  const form = useQuery(
    ask.visits.bookingForm.queryOptions({
      input: { siteId: siteId ?? (0 as SiteId) },
      enabled: siteId !== undefined,
    }),
  )
  const error = found.error ?? form.error
  if (error) return <Failed error={error} onClose={onClose} />
  if (!found.data || !form.data) return null
  const { visit } = found.data
  return (
    <Booking
      key={visitId}
      form={form.data}
      initial={bookingOf(visit, settings.callMinutes)}
      visit={visit}
      onClose={onClose}
    />
  )
}

function Failed({ error, onClose }: { readonly error: unknown; readonly onClose: () => void }) {
  const problem = problemOf(error)
  return (
    <SecondSheet title="Booking" onClose={onClose} backTo="who waits">
      <ProblemNote problem={problem} id={problem.id} />
    </SecondSheet>
  )
}

const NOTHING_YET: readonly ProposedTask[] = []

interface BookingProps {
  readonly form: FormAnswer
  readonly initial: BookingDraft
  readonly visit: VisitShape | null
  readonly onClose: () => void
}

function Booking({ form, initial, visit, onClose }: BookingProps) {
  const { today, locale } = useOffice()
  const { settings } = useOfficeState()
  const say = useSay()
  const { siteId, household } = form.household
  const { draft, setDraft, discard } = useDraft(visit ? `visit-${visit.visitId}` : `visit-new-${siteId}`, initial)
  const planned = useQuery(
    ask.visits.proposal.queryOptions({
      input: { siteId, on: draft.on ?? today },
      placeholderData: (before) => before,
    }),
  ).data
  const picks = useMemo(
    () => stagesToPick(form.units, draft, today, { graceDays: settings.graceDays, locale }, planned ?? NOTHING_YET),
    [form.units, draft, today, settings.graceDays, locale, planned],
  )
  const wanted = wantedOf(siteId, draft, picks)
  const visitId = visit?.visitId ?? null
  const check = useQuery(
    ask.visits.check.queryOptions({
      input: { ...(wanted ?? EMPTY(siteId)), visitId },
      enabled: wanted !== null,
      placeholderData: (before) => before,
    }),
  )
  const minutes = check.data?.minutes ?? settings.callMinutes
  const isGiven = visit !== null && visit.technician === null && draft.technicianId !== null
  const offers = useQuery(ask.visits.freeDays.queryOptions({ input: { siteId, minutes } }))
  const days = [draft.on, ...(offers.data ?? []).map((day) => day.on)]
  const missing = useMissingParts({ siteId, visitId, picks, days })
  const takeBack = useMutation(ask.visits.cancel.mutationOptions())
  const save = useMutation({
    mutationFn: async (ready: WantedVisit) => {
      const knowingly = {
        setAside: draft.setAside
          ? (check.data?.objections ?? []).filter((one) => one.weight === 'asks').map((one) => one.code)
          : [],
        daySeen: check.data?.daySeen ?? null,
      }
      return visit
        ? office.visits.move({ ...ready, ...knowingly, visitId: visit.visitId, version: visit.version, why: draft.why })
        : office.visits.book({ ...ready, ...knowingly })
    },
    onSuccess: (saved, ready) => {
      discard()
      onClose()
      const who = form.technicians.find((one) => one.technicianId === ready.technicianId)?.name ?? null
      const said = savedInWords({ household, who, isMove: visit !== null, isGiven, when: whenInWords(ready, locale) })
      if (visit) return say({ said })
      say({
        said,
        undo: () => takeBack.mutateAsync({ ...saved, why: 'booked by mistake' }),
        undone: 'The booking is taken back.',
      })
    },
  })
  return (
    <SecondSheet
      title={titleOf(household, visit)}
      below={whereAndCall(form.household)}
      onClose={onClose}
      backTo="who waits"
    >
      <BookingForm
        form={form}
        draft={draft}
        onDraft={setDraft}
        picks={picks}
        check={wanted === null ? null : (check.data ?? null)}
        checkProblem={check.error ? problemOf(check.error) : null}
        offers={offers.data ?? []}
        missing={missing}
        isMove={visit !== null}
        isGiven={isGiven}
        isSaving={save.isPending}
        problem={save.error ? problemOf(save.error) : null}
        onSave={wanted === null || draft.others.some(lacksWords) ? null : () => save.mutate(wanted)}
      />
    </SecondSheet>
  )
}

function titleOf(household: string, visit: VisitShape | null): string {
  if (visit === null) return `Book ${household}`
  return visit.technician ? `Move ${household}` : `Give ${household} to someone`
}

function whereAndCall({ line1, town, phone, phoneNote }: FormAnswer['household']): string {
  const filled = (parts: readonly string[], between: string): string =>
    parts.filter((part) => part !== '').join(between)
  return filled([filled([line1, town], ', '), filled([phone, phoneNote], ', ')], ' · ')
}

interface PartsAsked {
  readonly siteId: SiteId
  readonly visitId: VisitId | null
  readonly picks: readonly StageToPick[]
  readonly days: readonly (CalendarDate | null)[]
}

/** What parts of the visit would be missing, by day; days on which all of them are there are left out. */
function useMissingParts({ siteId, visitId, picks, days }: PartsAsked): ReadonlyMap<CalendarDate, readonly string[]> {
  const changed = picks.filter((pick) => pick.picked && pick.proposal.care === 'change')
  const input = {
    siteId,
    visitId,
    stageIds: changed.map((pick) => pick.stage.stageId),
    days: [...new Set(days.flatMap((day) => day ?? []))].toSorted(),
  }
  const asked = useQuery(
    ask.orders.partsForVisit.queryOptions({
      input,
      // A visit that changes nothing uses up what every visit does.
      enabled: picks.some((pick) => pick.picked) && input.days.length > 0,
      placeholderData: (before) => before,
    }),
  )
  return new Map((asked.data ?? []).flatMap(({ on, sentences }) => (sentences.length > 0 ? [[on, sentences]] : [])))
}

interface Saved {
  readonly household: string
  readonly who: string | null
  readonly isMove: boolean
  readonly isGiven: boolean
  readonly when: string
}

function savedInWords({ household, who, isMove, isGiven, when }: Saved): string {
  if (isGiven && who !== null) return `${who} has ${household} now, ${when}.`
  const done = isMove ? `Moved ${household} to ${when}` : `Booked ${household} for ${when}`
  return who === null ? `${done}. Nobody has it yet.` : `${done}.`
}

/** Stands in while nothing is asked: the question is not sent. */
const EMPTY = (siteId: SiteId): WantedVisit => ({
  siteId,
  technicianId: 1 as WantedVisit['technicianId'],
  on: '2000-01-01' as WantedVisit['on'],
  windowFrom: 0 as WantedVisit['windowFrom'],
  windowUntil: 0 as WantedVisit['windowUntil'],
  tasks: [],
  ownMinutes: null,
  note: '',
  promised: false,
})
