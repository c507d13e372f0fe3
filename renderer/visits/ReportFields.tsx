import type { InstallationId } from '../../core/units/ids.ts'
import { CAUTIONS } from '../../core/visits/cautions.ts'
import type { ReportForm as FormAnswer } from '../../core/visits/report-shapes.ts'
import { heldParts } from '../../core/water/rejection.ts'
import { Button } from '../design/Button.tsx'
import { CheckField } from '../design/CheckField.tsx'
import { DateField } from '../design/DateField.tsx'
import { TextField } from '../design/Field.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SheetPart } from '../design/Sheet.tsx'
import type { ToldProblem } from '../shell/office-door.ts'
import { ReadingFields } from './ReadingFields.tsx'
import { ReportedTasks } from './ReportedTasks.tsx'
import type { ReadFigures, ReportDraft } from './report-draft.ts'
import './report.css'

interface ReportFieldsProps {
  readonly form: FormAnswer
  readonly draft: ReportDraft
  readonly onDraft: (next: (draft: ReportDraft) => ReportDraft) => void
  readonly read: ReadonlyMap<InstallationId, ReadFigures>
  readonly isCorrection: boolean
  readonly isSaving: boolean
  readonly problem: ToldProblem | null
  /** Null while a figure cannot be read or the day is missing. */
  readonly onSave: (() => void) | null
  readonly onLeave: () => void
  /** Null while nothing was changed. */
  readonly onDiscard: (() => void) | null
}

/** The job card on screen: made for a thumb in a glove, down to a telephone's width. */
export function ReportFields(props: ReportFieldsProps) {
  const { form, draft, onDraft, read, isCorrection, problem } = props
  const change = (part: Partial<ReportDraft>) => onDraft((before) => ({ ...before, ...part }))
  const could = draft.outcome === 'done'
  return (
    <form
      className="report"
      onSubmit={(event) => {
        event.preventDefault()
        props.onSave?.()
      }}
    >
      <div className="report-line">
        <DateField label="Done on" value={draft.doneOn} onChange={(doneOn) => change({ doneOn })} />
        <CheckField glove value={!could} onChange={(couldNot) => change({ outcome: couldNot ? 'could-not' : 'done' })}>
          Could not be done
        </CheckField>
      </div>
      {!could && (
        <TextField
          label="Could not, because"
          value={draft.because}
          onChange={(because) => change({ because })}
          isRequired
        />
      )}
      {could && (
        <>
          <Cautions />
          <ReportedTasks form={form} draft={draft} onDraft={onDraft} />
        </>
      )}
      {form.visit.units.map((unit) => {
        const typed = draft.readings[unit.installationId]
        const figures = read.get(unit.installationId)
        return typed && figures ? (
          <SheetPart
            key={unit.installationId}
            title={form.visit.units.length > 1 ? `Readings, ${unit.name}` : 'Readings'}
            aside={
              unit.lastRejection === null
                ? undefined
                : `last time ${heldParts(unit.lastRejection)} of 100 parts held back`
            }
          >
            <ReadingFields
              typed={typed}
              read={figures}
              confirmed={draft.confirmed}
              onConfirmed={(confirmed) => change({ confirmed })}
              onTyped={(next) => change({ readings: { ...draft.readings, [unit.installationId]: next } })}
            />
          </SheetPart>
        ) : null
      })}
      {could && (
        <SheetPart title="Before leaving">
          <div className="report-checks">
            <CheckField glove value={draft.leakChecked} onChange={(leakChecked) => change({ leakChecked })}>
              No leak under pressure, before leaving
            </CheckField>
            <CheckField glove value={draft.leakCheckedFull} onChange={(leakCheckedFull) => change({ leakCheckedFull })}>
              No leak after the tank has filled
            </CheckField>
            <CheckField glove value={draft.callFree} onChange={(callFree) => change({ callFree })}>
              The call is free of charge
            </CheckField>
          </div>
        </SheetPart>
      )}
      <TextField label="Remarks" value={draft.remarks} onChange={(remarks) => change({ remarks })} lines={2} />
      {isCorrection && (
        <TextField label="Why it is corrected" value={draft.why} onChange={(why) => change({ why })} isRequired />
      )}
      {problem && <ProblemNote problem={problem} id={problem.id} kept="Everything you entered is still here." />}
      <SaveLine {...props} />
    </form>
  )
}

function SaveLine({ draft, isCorrection, isSaving, onSave, onLeave, onDiscard, read }: ReportFieldsProps) {
  const isAsked = [...read.values()].some((one) => one.judged.questions.length > 0) && !draft.confirmed
  const isImpossible = [...read.values()].some((one) => one.judged.impossible.length > 0)
  const misses = draft.outcome === 'could-not' ? draft.because.trim() === '' : false
  const isBlocked = onSave === null || isSaving || isAsked || isImpossible || misses
  return (
    <div className="sheet-actions report-save">
      <Button kind="primary" glove type="submit" isDisabled={isBlocked || (isCorrection && draft.why.trim() === '')}>
        {isCorrection
          ? 'Save the correction'
          : draft.outcome === 'done'
            ? 'Record this visit'
            : 'Record that it could not be done'}
      </Button>
      <Button glove onPress={onLeave}>
        Leave it for later
      </Button>
      {onDiscard && (
        <Button kind="quiet" onPress={onDiscard}>
          Begin again
        </Button>
      )}
    </div>
  )
}

function Cautions() {
  return (
    <details className="cautions">
      <summary>What can hurt: {CAUTIONS.map((caution) => caution.head.toLowerCase()).join(', ')}</summary>
      <ul>
        {CAUTIONS.map((caution) => (
          <li key={caution.head}>
            <b>{caution.head}.</b> {caution.text}
          </li>
        ))}
      </ul>
      <p className="second small">These are the usual cautions; local codes and licensed practice come first.</p>
    </details>
  )
}
