import { useMutation, useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import type { VisitId } from '../../core/units/ids.ts'
import { minutesInWords } from '../../core/visits/planned-minutes.ts'
import type { ReportForm as FormAnswer } from '../../core/visits/report-shapes.ts'
import type { VisitShape } from '../../core/visits/visit-shapes.ts'
import { VISIT_STATE_WORDS } from '../../core/visits/visit-shapes.ts'
import { whenInWords, workInWords } from '../../core/visits/visit-words.ts'
import { Button } from '../design/Button.tsx'
import { Decision } from '../design/Dialog.tsx'
import { Facts } from '../design/Facts.tsx'
import { TextField } from '../design/Field.tsx'
import { useOffice } from '../design/office-manner.ts'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SecondSheet, SheetPart } from '../design/Sheet.tsx'
import { StageTrain } from '../design/StageTrain.tsx'
import { printPaper } from '../design/save-file.ts'
import { useSay } from '../design/undo.ts'
import { useDraft } from '../design/use-draft.ts'
import { DateText } from '../design/Words.tsx'
import { ask, problemOf } from '../shell/office-door.ts'
import { useAddressWord, useGoTo } from '../shell/open-record.ts'
import { ReportSheet } from './ReportSheet.tsx'
import { VisitInvoices } from './VisitInvoices.tsx'
import { WhatWasDone } from './WhatWasDone.tsx'

/** One visit: what is booked or what was done, and what can be done with it. */
export function VisitSheet({ visitId, onClose }: { readonly visitId: VisitId; readonly onClose: () => void }) {
  const found = useQuery(ask.visits.one.queryOptions({ input: { visitId } }))
  const [doing, setDoing] = useAddressWord('do')
  const close = () => {
    setDoing(null)
    onClose()
  }
  if (found.error || !found.data) {
    const failure = found.error ? problemOf(found.error) : null
    return (
      <SecondSheet title="Visit" onClose={close} backTo="the week">
        {failure && <ProblemNote problem={failure} id={failure.id} onTryAgain={() => void found.refetch()} />}
      </SecondSheet>
    )
  }
  const { visit } = found.data
  const { household } = visit
  const below = [household.line1, household.town, household.phone, household.phoneNote]
  return (
    <SecondSheet
      title={household.household}
      below={below.filter((part) => part !== '').join(' · ')}
      onClose={close}
      backTo="the week"
    >
      {doing === 'report' && visit.state !== 'cancelled' ? (
        <ReportSheet form={found.data} onDone={() => setDoing(null)} />
      ) : (
        <VisitAtRest form={found.data} onReport={() => setDoing('report')} />
      )}
    </SecondSheet>
  )
}

function VisitAtRest({ form, onReport }: { readonly form: FormAnswer; readonly onReport: () => void }) {
  const { visit } = form
  const { today } = useOffice()
  const goTo = useGoTo()
  const isBooked = visit.state === 'booked'
  return (
    <>
      <BookedFacts visit={visit} />
      <div className="sheet-actions visit-actions">
        {isBooked && (
          <Button kind="primary" onPress={onReport} isDisabled={visit.on > today}>
            Record this visit
          </Button>
        )}
        {isBooked && (
          <Button onPress={() => goTo('/bookings', `visit-${visit.visitId}`)}>
            {visit.technician === null ? 'Give it to someone' : 'Move it'}
          </Button>
        )}
        {isBooked && <CancelVisit visit={visit} />}
        {(visit.state === 'done' || visit.state === 'could-not') && (
          <Button onPress={onReport}>Correct this report</Button>
        )}
        <Button kind="quiet" onPress={() => printPaper(`/papers/job-cards/${visit.visitId}.pdf`)}>
          Print its job card
        </Button>
      </div>
      {isBooked && visit.on > today && <p className="second small">It can be recorded once the day has come.</p>}
      {visit.units.map((unit) => (
        <SheetPart key={unit.installationId} title={unit.name || 'The unit'}>
          <StageTrain stages={unit.stages.map((stage) => stage.train)} size="full" />
        </SheetPart>
      ))}
      {!isBooked && <WhatWasDone visit={visit} />}
      {!isBooked && <VisitInvoices visitId={visit.visitId} />}
      <SheetPart title="What the books say">
        <ul className="visit-trace">
          {form.trace.map((entry, index) => (
            <li key={`${entry.on}-${String(index)}`}>
              <span className="second">
                <DateText date={entry.on} as="day" />
              </span>
              <span>
                {entry.sentence}
                {entry.details !== '' && <span className="second"> {entry.details}</span>}
              </span>
            </li>
          ))}
        </ul>
        {form.trace.length === 0 && <p className="second">Nothing was written down about it yet.</p>}
      </SheetPart>
    </>
  )
}

function BookedFacts({ visit }: { readonly visit: VisitShape }) {
  const { locale } = useOffice()
  const state =
    visit.reason === '' ? VISIT_STATE_WORDS[visit.state] : `${VISIT_STATE_WORDS[visit.state]}: ${visit.reason}`
  const facts = [
    { label: 'When', value: whenInWords(visit, locale) },
    {
      label: 'Who',
      value:
        visit.technician?.name ??
        (visit.state === 'booked' ? 'nobody yet: nothing is pulled until someone has it' : 'nobody'),
    },
    { label: 'Work', value: `${workInWords(visit.tasks)} · ${minutesInWords(visit.plannedMinutes)}` },
    { label: 'At the door', value: visit.household.accessNote },
    { label: 'Note', value: visit.note },
    { label: 'State', value: state },
  ]
  return (
    <div className="visit-facts">
      <Facts facts={facts.filter((fact) => fact.value !== '')} />
    </div>
  )
}

function CancelVisit({ visit }: { readonly visit: VisitShape }) {
  const { locale } = useOffice()
  const say = useSay()
  const [isOpen, setOpen] = useState(false)
  const { draft: why, setDraft: setWhy, discard } = useDraft(`visit-cancel-${visit.visitId}`, '')
  const cancel = useMutation(
    ask.visits.cancel.mutationOptions({
      onSuccess: () => {
        discard()
        setOpen(false)
        say({ said: `Cancelled the visit of ${whenInWords(visit, locale)}.` })
      },
    }),
  )
  const failure = cancel.error ? problemOf(cancel.error) : null
  return (
    <>
      <Button onPress={() => setOpen(true)}>Cancel it</Button>
      <Decision
        isOpen={isOpen}
        title={`Cancel the visit of ${whenInWords(visit, locale)}`}
        doIt="Cancel the visit"
        onDoIt={() => cancel.mutate({ visitId: visit.visitId, version: visit.version, why })}
        leaveIt="Keep it booked"
        onLeaveIt={() => setOpen(false)}
        isBusy={cancel.isPending}
        isBlocked={why.trim() === ''}
      >
        <TextField label="Why" value={why} onChange={setWhy} autoFocus />
        {failure && <ProblemNote problem={failure} id={failure.id} />}
      </Decision>
    </>
  )
}
