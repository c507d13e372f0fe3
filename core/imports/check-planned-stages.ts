import type { StageKind } from '../installations/stage-kinds.ts'
import type { ListHousehold } from './group-rows.ts'
import type { JudgedList } from './judge-list.ts'
import type { ListUnit } from './list-units.ts'
import type { ListRow } from './read-row.ts'
import type { ListStage } from './read-stages.ts'

/** Feed to tap, as the trade builds its units; common practice, no source. The judge's own, beside the planner's. */
const FEED_TO_TAP: readonly StageKind[] = [
  'softener',
  'sediment',
  'carbon',
  'membrane',
  'tank',
  'post-carbon',
  'remineraliser',
  'uv-lamp',
  'other',
]

/**
 * Every stage that a row tells of is planned in its household, once and in order: none is lost, none is there more often than rows
 * tell of it, the latest date stands, and the flow runs from feed to tap.
 */
export function checkPlannedStages(judged: JudgedList, planned: readonly ListHousehold[]): string[] {
  const rowOfLine = new Map(judged.rows.map((row) => [row.line, row]))
  const wholes = new Set(judged.households.map(({ household }) => household.lines.join()))
  return planned.flatMap((household) => {
    const rows = household.lines.flatMap((line) => rowOfLine.get(line) ?? [])
    const isJoined = !wholes.has(household.lines.join())
    const lost = rows.filter((row) => row.stages.length > 0 && household.units.length === 0)
    return [
      ...lost.map((row) => `The unit of line ${row.line} is not planned.`),
      ...household.units.flatMap((unit) => {
        const own = rows.filter((row) => unitOf(household, row) === unit)
        return [...checkUnit(unit, own, judged.usualStages, isJoined), ...checkOrder(unit, own, isJoined)]
      }),
    ]
  })
}

/** The planned unit that a row speaks of: the one it names, else the only one, else the first; null where that is open. */
function unitOf({ units }: ListHousehold, row: ListRow): ListUnit | null {
  const plain = (name: string): string =>
    name
      .normalize('NFD')
      .replaceAll(/[^\p{L}\d]/gu, '')
      .toLowerCase()
  const named =
    units.find((unit) => unit.name === row.unit) ?? units.find((unit) => plain(unit.name) === plain(row.unit))
  return named ?? (units.length === 1 || row.unit === '' ? (units[0] ?? null) : null)
}

function checkUnit(unit: ListUnit, rows: readonly ListRow[], usual: readonly StageKind[], isJoined: boolean): string[] {
  const told = rows.flatMap((row) => row.stages.map((stage) => ({ line: row.line, stage })))
  const filtersOn = rows.map((row) => row.filtersChangedOn)
  const kinds = new Set([...unit.stages.map(({ kind }) => kind), ...told.map(({ stage }) => stage.kind)])
  return [...kinds].flatMap((kind) => {
    const planned = unit.stages.filter((stage) => stage.kind === kind)
    const ofKind = told.filter(({ stage }) => stage.kind === kind)
    const most = Math.max(ofKind.length, usual.filter((one) => one === kind).length)
    const least = leastOf(ofKind, isJoined)
    const known = new Set([...ofKind.map(({ stage }) => stage.changedOn), ...filtersOn, null])
    const late = ofKind.filter(
      ({ stage }) =>
        stage.changedOn !== null && !planned.some(({ changedOn }) => (changedOn ?? '') >= (stage.changedOn ?? '')),
    )
    return [
      ...(planned.length > most ? [`${kind} is planned ${planned.length} times, told of ${most} times.`] : []),
      ...(planned.length < least ? [`${kind} is planned ${planned.length} times, and ${least} are told apart.`] : []),
      ...late.map(({ line }) => `The ${kind} of line ${line} is planned without its date.`),
      ...planned.flatMap(({ changedOn }) =>
        known.has(changedOn) ? [] : [`${kind} has ${changedOn}, told by no row.`],
      ),
    ]
  })
}

/**
 * How many stages of a kind rows tell apart beyond doubt: within one row, and by a number of their own. In households that were
 * joined a number of one may stand for another of the other.
 */
function leastOf(told: readonly { readonly line: number; readonly stage: ListStage }[], isJoined: boolean): number {
  if (told.length === 0) return 0
  const inOneRow = new Map<number, number>()
  for (const { line } of told) inOneRow.set(line, (inOneRow.get(line) ?? 0) + 1)
  const numbered = new Set(told.flatMap(({ stage }) => stage.rank ?? stage.nth ?? []))
  return Math.max(1, isJoined ? 0 : numbered.size, ...inOneRow.values())
}

/**
 * The flow runs as the list places it where it places every stage, else from feed to tap. Households that were joined may each have
 * had places of their own, which nobody can hold against one another.
 */
function checkOrder(unit: ListUnit, rows: readonly ListRow[], isJoined: boolean): string[] {
  const told = rows.flatMap((row) => row.stages)
  const placed = told.filter((stage) => stage.place !== null)
  if (isJoined && placed.length > 0) return []
  if (placed.length === told.length && told.length >= unit.stages.length && told.length > 0)
    return checkPlaces(unit, told)
  const ranks = unit.stages.map(({ kind }) => FEED_TO_TAP.indexOf(kind))
  const at = ranks.findIndex((rank, index) => index > 0 && rank < (ranks[index - 1] ?? 0))
  return at < 0 ? [] : [`${unit.stages[at]?.kind ?? ''} is planned behind what it stands ahead of.`]
}

function checkPlaces(unit: ListUnit, told: readonly ListStage[]): string[] {
  const inPlace = [...told].sort((a, b) => (a.place ?? 0) - (b.place ?? 0)).map(({ kind }) => kind)
  let at = 0
  for (const kind of inPlace) if (unit.stages[at]?.kind === kind) at += 1
  return at === unit.stages.length ? [] : [`${unit.stages[at]?.kind ?? ''} is not planned where the list places it.`]
}
