import { useState } from 'react'
import type { HouseholdSheet } from '../../core/due/due-contract.ts'
import { unitTitle } from '../../core/due/household-words.ts'
import type { UnitRules } from '../../core/due/rules-shapes.ts'
import type { StageId } from '../../core/units/ids.ts'
import { notesOfPlan } from '../../core/visits/plan-notes.ts'
import type { HouseholdPlan } from '../../core/visits/plan-shapes.ts'
import { Button } from '../design/Button.tsx'
import { useOffice } from '../design/office-manner.ts'
import { SheetPart } from '../design/Sheet.tsx'
import { StageTrain } from '../design/StageTrain.tsx'
import { StageRulesPart } from './StageRulesPart.tsx'

type Unit = HouseholdSheet['units'][number]

interface UnitPartProps {
  readonly unit: Unit
  /** Undefined while they are fetched. */
  readonly rules: UnitRules | undefined
  readonly plan: HouseholdPlan | undefined
  readonly onChange: () => void
}

/** A unit on the household's sheet: its train with what the plan does with each stage, and the rules behind every date. */
export function UnitPart({ unit, rules, plan, onChange }: UnitPartProps) {
  const office = useOffice()
  const [open, setOpen] = useState<StageId | null>(null)
  const opened = rules?.stages.find((stage) => stage.stageId === open)
  const next = new Set(plan?.visits[0]?.changes.map((change) => change.stageId))
  const stages = plan ? unit.train.map((stage) => ({ ...stage, ringed: next.has(stage.stageId) })) : unit.train
  return (
    <SheetPart
      title={unitTitle(unit.fields)}
      aside={
        <Button kind="quiet" onPress={onChange}>
          Change the unit
        </Button>
      }
    >
      {unit.train.length === 0 ? (
        <p>No stage is written down for this unit, so nothing falls due. Change the unit to add them.</p>
      ) : (
        <StageTrain
          size="large"
          stages={stages}
          notes={plan ? notesOfPlan(plan, office) : NO_NOTES}
          open={open}
          onOpen={setOpen}
        />
      )}
      {rules && opened && (
        <StageRulesPart key={opened.stageId} unit={unit} rules={opened} use={rules.use} onClose={() => setOpen(null)} />
      )}
      {rules?.remarks.map((remark) => (
        <p key={remark} className="household-remark">
          {remark}
        </p>
      ))}
    </SheetPart>
  )
}

const NO_NOTES: ReadonlyMap<StageId, string> = new Map()
