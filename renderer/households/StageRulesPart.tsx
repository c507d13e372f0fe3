import { useState } from 'react'
import type { HouseholdSheet } from '../../core/due/due-contract.ts'
import type { RuleOnSheet, StageRules, UnitRules } from '../../core/due/rules-shapes.ts'
import { shortDate } from '../../core/units/date-words.ts'
import { Button } from '../design/Button.tsx'
import { useOffice } from '../design/office-manner.ts'
import { DateText, DistanceText } from '../design/Words.tsx'
import { OwnDateForm } from './OwnDateForm.tsx'

type Unit = HouseholdSheet['units'][number]

interface StageRulesPartProps {
  readonly unit: Unit
  readonly rules: StageRules
  readonly use: UnitRules['use']
  readonly onClose: () => void
}

/** Every rule that concerns a stage, side by side: its date, its reason, and how it stands to the others. */
export function StageRulesPart({ unit, rules, use, onClose }: StageRulesPartProps) {
  const [isSetting, setSetting] = useState(false)
  const { locale } = useOffice()
  const since =
    rules.startedOn === null
      ? 'its clock has no beginning'
      : `since ${shortDate(rules.startedOn, locale)}${rules.changedOn === null ? ', the fitting of the unit' : ''}`
  return (
    <section className="stage-rules" aria-label={`Why this date: ${rules.label}`}>
      <header className="stage-rules-head">
        <h4>
          {rules.label}: {rules.dueOn === null ? 'no date' : <DateText date={rules.dueOn} />}{' '}
          {rules.dueOn !== null && <DistanceText date={rules.dueOn} />}
        </h4>
        <Button kind="quiet" onPress={onClose}>
          Close the rules
        </Button>
      </header>
      <table className="plain-table">
        <caption className="second small">
          {since}; {use.words}
        </caption>
        <thead>
          <tr>
            <th scope="col">Rule</th>
            <th scope="col">Due</th>
            <th scope="col">Because</th>
            <th scope="col">Standing</th>
          </tr>
        </thead>
        <tbody>
          {rules.answers.map((answer) => (
            <Answer key={answer.rule} answer={answer} />
          ))}
        </tbody>
      </table>
      {rules.remarks.map((remark) => (
        <p key={remark} className="household-remark">
          {remark}
        </p>
      ))}
      <OwnDateLine rules={rules} isSetting={isSetting} onSet={() => setSetting(!isSetting)} />
      {isSetting && <OwnDateForm unit={unit} rules={rules} onDone={() => setSetting(false)} />}
    </section>
  )
}

function Answer({ answer }: { readonly answer: RuleOnSheet }) {
  return (
    <tr
      data-decides={answer.standing === 'decides' || undefined}
      data-silent={answer.standing === 'silent' || undefined}
    >
      <th scope="row">{answer.name}</th>
      <td>{answer.dueOn === null ? '' : <DateText date={answer.dueOn} />}</td>
      <td>{answer.reason}</td>
      <td>{answer.standingWords}</td>
    </tr>
  )
}

interface OwnDateLineProps {
  readonly rules: StageRules
  readonly isSetting: boolean
  readonly onSet: () => void
}

function OwnDateLine({ rules, isSetting, onSet }: OwnDateLineProps) {
  return (
    <div className="stage-rules-own">
      <span>
        {rules.own === null ? (
          'No date is set by hand.'
        ) : (
          <>
            Set by hand: <DateText date={rules.own.dueOn} />
            {rules.own.note === '' ? '' : `, ${rules.own.note}`}; {rules.own.endWords}.
          </>
        )}
      </span>
      <Button onPress={onSet} aria-expanded={isSetting}>
        {rules.own === null ? 'Set a date by hand' : 'Change that date'}
      </Button>
    </div>
  )
}
