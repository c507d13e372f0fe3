import { changesInWords, type FieldWords } from '../customers/changes-in-words.ts'
import type { InstallationFields, StageFields } from './installations-contract.ts'
import { STAGE_KIND_WORDS } from './stage-kinds.ts'

/** What the fields of a unit are called, on forms and in the log. */
export const UNIT_WORDS: FieldWords<InstallationFields> = {
  name: 'where it stands',
  fittedOn: 'fitted on',
  recoveryPercent: 'recovery',
  people: 'people who drink from it',
  drunkPerDay: 'water drunk a day',
  ownMonths: 'months for its filters',
  note: 'note',
}

export const STAGE_WORDS: FieldWords<StageFields> = {
  stageId: 'number',
  kind: 'kind',
  label: 'name',
  partId: 'part',
  ownPartOnly: 'that part only',
  changedOn: 'last changed',
  ownMonths: 'own months',
  ownDueOn: 'date set by hand',
  ownDueNote: 'why that date',
  ownDueEndsOn: 'that date stands until',
}

interface Unit {
  readonly fields: InstallationFields
  readonly stages: readonly StageFields[]
}

/** What differs between a unit as it was seen and as it is: its own fields, then stage by stage; null when nothing does. */
export function unitChangesInWords(seen: Unit, now: Unit): string | null {
  const clauses = [changesInWords(seen.fields, now.fields, UNIT_WORDS)]
  for (const stage of now.stages) {
    const before = seen.stages.find((other) => other.stageId !== null && other.stageId === stage.stageId)
    const name = stageName(stage)
    if (!before) clauses.push(`${name} was added`)
    else {
      const changes = changesInWords(before, stage, STAGE_WORDS)
      if (changes !== null) clauses.push(`${name}, ${changes}`)
    }
  }
  for (const stage of seen.stages)
    if (stage.stageId !== null && !now.stages.some((other) => other.stageId === stage.stageId))
      clauses.push(`${stageName(stage)} was taken out`)
  const order = (unit: Unit) => unit.stages.map((stage) => stage.stageId).join()
  const said = clauses.filter((clause) => clause !== null)
  if (said.length === 0 && order(seen) !== order(now)) said.push('the stages stand in another order')
  return said.length === 0 ? null : said.join('; ')
}

function stageName(stage: StageFields): string {
  return (stage.label === '' ? STAGE_KIND_WORDS[stage.kind].name : stage.label).toLowerCase()
}
