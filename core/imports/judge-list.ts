import type { StageKind } from '../installations/stage-kinds.ts'
import { counted } from '../units/date-words.ts'
import { type Choice, findLikenesses, type KnownHousehold, type Likeness } from './find-likeness.ts'
import type { ListSheet } from './find-sheet.ts'
import { groupRows, type ListHousehold, type RefusedRow } from './group-rows.ts'
import { judgeManner, type OfficeManner } from './list-manner.ts'
import type { ListMapping } from './list-mapping.ts'
import { type ListRow, readRow } from './read-row.ts'
import { columnPlaces } from './row-cells.ts'
import { PIECES_A_STEP, type Reckoning, toTheEnd } from './steps.ts'

export interface JudgedHousehold {
  readonly household: ListHousehold
  readonly likeness: Likeness | null
}

/** A list read to the last row: what will be created, what looks like whom, what is refused, and what was judged of the whole. */
export interface JudgedList {
  readonly households: readonly JudgedHousehold[]
  readonly refused: readonly RefusedRow[]
  /** What every row tells, taken or refused. */
  readonly rows: readonly ListRow[]
  /** What a unit is made up of where the list names no stages. */
  readonly usualStages: readonly StageKind[]
  readonly said: readonly string[]
  readonly openDates: boolean
}

/** Judges every row before anything is written. */
export function judgeList(
  sheet: ListSheet,
  mapping: ListMapping,
  office: OfficeManner,
  books: readonly KnownHousehold[],
): JudgedList {
  return toTheEnd(judgeListInSteps(sheet, mapping, office, books))
}

/** The same, pausing every thousand rows. */
export function* judgeListInSteps(
  sheet: ListSheet,
  mapping: ListMapping,
  office: OfficeManner,
  books: readonly KnownHousehold[],
): Reckoning<JudgedList> {
  const manner = judgeManner(sheet, mapping, office)
  const places = columnPlaces(sheet, mapping)
  const rows: ListRow[] = []
  for (const row of sheet.rows) {
    rows.push(readRow(row, places, manner))
    if (rows.length % PIECES_A_STEP === 0)
      yield { done: rows.length, total: sheet.rows.length, saying: 'reading the rows' }
  }
  const { households, refused } = groupRows(rows, mapping.usualStages)
  const likenesses = yield* findLikenesses(households, books)
  return {
    households: households.map((household, index) => ({ household, likeness: likenesses[index] ?? null })),
    refused,
    rows,
    usualStages: mapping.usualStages,
    said: manner.said,
    openDates: manner.openDates,
  }
}

/** The key under which a choice for a household is kept while the list is looked at: its first line. */
export function householdKey(household: ListHousehold): string {
  return String(household.lines[0] ?? 0)
}

/** What is done with a household: what somebody chose, else what is sensible. Without a likeness it can only be new or left out. */
export function choiceFor({ household, likeness }: JudgedHousehold, chosen: Readonly<Record<string, Choice>>): Choice {
  const own = chosen[householdKey(household)]
  if (likeness === null) return own === 'leave-out' ? 'leave-out' : 'new'
  return own ?? likeness.advice
}

/** "1 unit, 5 stages, 2 further telephones": what a household brings, in words. */
export function bringsInWords(household: ListHousehold): string {
  const stages = household.units.reduce((sum, unit) => sum + unit.stages.length, 0)
  const undated = household.units
    .flatMap((unit) => unit.stages)
    .filter((stage) => stage.changedOn === null && stage.dueOn === null).length
  const parts = [
    household.units.length === 0 ? 'no unit' : counted(household.units.length, 'unit'),
    ...(stages > 0 ? [counted(stages, 'stage')] : []),
    ...(undated > 0 ? [`${undated} without a date`] : []),
  ]
  return parts.join(', ')
}
