import { useMutation } from '@tanstack/react-query'
import { useMemo } from 'react'
import type { InstallationId } from '../../core/units/ids.ts'
import type { ReportForm as FormAnswer, VisitReportInput } from '../../core/visits/report-shapes.ts'
import { useOffice } from '../design/office-manner.ts'
import { useSay } from '../design/undo.ts'
import { useDraft } from '../design/use-draft.ts'
import { office, problemOf } from '../shell/office-door.ts'
import { useOfficeState } from '../shell/office-state.ts'
import { ReportFields } from './ReportFields.tsx'
import { type ReadFigures, readTyped, reportInput, reportOf } from './report-draft.ts'

/** Recording a visit, or correcting what was recorded. */
export function ReportSheet({ form, onDone }: { readonly form: FormAnswer; readonly onDone: () => void }) {
  const { visit } = form
  const { today, measures } = useOffice()
  const { meterFactor } = useOfficeState().settings
  const say = useSay()
  const isCorrection = visit.state !== 'booked'
  const initial = useMemo(() => reportOf(form, today, measures), [form, today, measures])
  const { draft, setDraft, discard, isChanged } = useDraft(`visit-report-${visit.visitId}-${visit.version}`, initial)
  const isMembraneChanged = draft.tasks.some(
    (task) =>
      task.done &&
      visit.units.some((unit) => unit.stages.some((one) => one.stageId === task.stageId && one.kind === 'membrane')),
  )
  const read = useMemo(() => {
    const found = new Map<InstallationId, ReadFigures>()
    for (const unit of visit.units) {
      const typed = draft.readings[unit.installationId]
      const earlier = { rejection: isMembraneChanged ? null : unit.lastRejection, meter: unit.lastMeter }
      if (typed) found.set(unit.installationId, readTyped(typed, earlier, { measures, meterFactor }))
    }
    return found
  }, [visit.units, draft.readings, isMembraneChanged, measures, meterFactor])
  const input = reportInput(visit, draft, read)
  const save = useMutation({
    mutationFn: (report: VisitReportInput) =>
      isCorrection ? office.visits.correct({ ...report, why: draft.why }) : office.visits.record(report),
    onSuccess: () => {
      discard()
      onDone()
      const what = `the visit to ${visit.household.household}`
      say({ said: isCorrection ? `Corrected ${what}.` : `Recorded ${what}.` })
    },
  })
  return (
    <ReportFields
      form={form}
      draft={draft}
      onDraft={setDraft}
      read={read}
      isCorrection={isCorrection}
      isSaving={save.isPending}
      problem={save.error ? problemOf(save.error) : null}
      onSave={input === null ? null : () => save.mutate(input)}
      onLeave={onDone}
      onDiscard={isChanged ? discard : null}
    />
  )
}
