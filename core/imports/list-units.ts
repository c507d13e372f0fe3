import type { StageKind } from '../installations/stage-kinds.ts'
import { STAGE_KIND_WORDS } from '../installations/stage-kinds.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import { type Finding, note } from './finding.ts'
import type { ListRow } from './read-row.ts'
import type { ListStage } from './read-stages.ts'
import { isSameStage } from './same-stage.ts'

/** One stage of a unit as the list has it, in flow order. */
export interface UnitStage {
  readonly kind: StageKind
  /** Which of its kind in the unit it is, where a refused row brought again says so; else null. */
  readonly rank: number | null
  readonly label: string
  readonly changedOn: CalendarDate | null
  readonly dueOn: CalendarDate | null
  readonly months: number | null
  readonly part: string
}

/** One treatment unit of a household as the list has it. */
export interface ListUnit {
  /** Empty where the list names no unit. */
  readonly name: string
  readonly installedOn: CalendarDate | null
  readonly everyMonths: number | null
  readonly stages: readonly UnitStage[]
}

/** Flow order by kind, where the list gives no places; common practice, no source. */
const FLOW_RANK: Readonly<Record<StageKind, number>> = {
  softener: 0,
  sediment: 1,
  carbon: 2,
  membrane: 3,
  tank: 4,
  'post-carbon': 5,
  remineraliser: 6,
  'uv-lamp': 7,
  other: 8,
}

/** What "all filters changed" means: the cartridges, not the membrane and not the tank. */
const CARTRIDGES: ReadonlySet<StageKind> = new Set<StageKind>(['sediment', 'carbon', 'post-carbon', 'remineraliser'])

export function flowRank(kind: StageKind): number {
  return FLOW_RANK[kind]
}

/** Gathers the units of one household from its rows, each named unit for itself, stages in flow order. */
export function gatherUnits(
  rows: readonly ListRow[],
  usualStages: readonly StageKind[],
  findings: Finding[],
): ListUnit[] {
  const names = [...new Set(rows.map((row) => row.unit))]
  // Rows that name no unit speak of the one unit that is named, if there is just one.
  const named = names.filter((name) => name !== '')
  const only = named.length === 1 ? named[0] : undefined
  const wanted = only !== undefined ? [only] : names
  return wanted.flatMap((name) => {
    const own = rows.filter((row) => row.unit === name || (only !== undefined && row.unit === ''))
    const unit = gatherUnit(name, own, usualStages, findings)
    const isThere = unit.stages.length > 0 || unit.installedOn !== null || unit.everyMonths !== null || name !== ''
    return isThere ? [unit] : []
  })
}

function gatherUnit(
  name: string,
  rows: readonly ListRow[],
  usualStages: readonly StageKind[],
  findings: Finding[],
): ListUnit {
  const told: ListStage[] = []
  for (const row of rows) for (const stage of row.stages) addStage(told, stage, row.line, findings)
  const filtersChangedOn = latest(rows.map((row) => row.filtersChangedOn))
  const stages = withUsual(told, usualStages, filtersChangedOn)
  return {
    name,
    installedOn: firstOf(rows.map((row) => row.installedOn)),
    everyMonths: firstOf(rows.map((row) => row.everyMonths)),
    stages: inFlowOrder(stages).map(({ kind, rank, label, changedOn, dueOn, months, part }) => ({
      kind,
      rank,
      label,
      changedOn,
      dueOn,
      months,
      part,
    })),
  }
}

/** Adds a row's stage, or takes it for another date of one that is there: the later date stands. */
function addStage(stages: ListStage[], stage: ListStage, line: number, findings: Finding[]): void {
  const at = stages.findIndex((known) => isSameStage(known, stage))
  const known = stages[at]
  if (known === undefined) {
    stages.push(stage)
    return
  }
  const changedOn = latest([known.changedOn, stage.changedOn])
  stages[at] = {
    ...known,
    changedOn,
    dueOn: changedOn === null ? (known.dueOn ?? stage.dueOn) : null,
    months: known.months ?? stage.months,
    part: stage.changedOn !== null && stage.changedOn === changedOn && stage.part !== '' ? stage.part : known.part,
  }
  if (known.changedOn !== null && stage.changedOn !== null && known.changedOn !== stage.changedOn) {
    findings.push(note(line, '', `${STAGE_KIND_WORDS[stage.kind].name} has several dates; the latest stands.`))
  }
}

function withUsual(
  told: readonly ListStage[],
  usual: readonly StageKind[],
  filtersChangedOn: CalendarDate | null,
): ListStage[] {
  const stages = [...told]
  if (usual.length > 0 && (told.length === 0 || filtersChangedOn !== null)) {
    for (const kind of new Set(usual)) {
      const wanted = usual.filter((other) => other === kind).length
      for (let have = stages.filter((stage) => stage.kind === kind).length; have < wanted; have++)
        stages.push(plainStage(kind))
    }
  }
  if (filtersChangedOn === null) return stages
  return stages.map((stage) =>
    CARTRIDGES.has(stage.kind) && stage.changedOn === null
      ? { ...stage, changedOn: filtersChangedOn, dueOn: null }
      : stage,
  )
}

function plainStage(kind: StageKind): ListStage {
  return { kind, nth: null, rank: null, place: null, label: '', changedOn: null, dueOn: null, months: null, part: '' }
}

function inFlowOrder(stages: readonly ListStage[]): ListStage[] {
  const placed = stages.length > 0 && stages.every((stage) => stage.place !== null)
  return stages
    .map((stage, index) => ({ stage, index }))
    .sort((a, b) => {
      if (placed) return (a.stage.place ?? 0) - (b.stage.place ?? 0) || a.index - b.index
      return (
        flowRank(a.stage.kind) - flowRank(b.stage.kind) || numberOf(a.stage) - numberOf(b.stage) || a.index - b.index
      )
    })
    .map(({ stage }) => stage)
}

function numberOf(stage: ListStage): number {
  return stage.rank ?? stage.nth ?? 1
}

function firstOf<T>(values: readonly (T | null)[]): T | null {
  return values.find((value) => value !== null) ?? null
}

function latest(dates: readonly (CalendarDate | null)[]): CalendarDate | null {
  return dates.reduce<CalendarDate | null>(
    (last, date) => (date !== null && (last === null || date > last) ? date : last),
    null,
  )
}
