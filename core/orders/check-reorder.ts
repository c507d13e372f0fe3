import { daysBetween } from '../units/calendar-date.ts'
import type { PartId } from '../units/ids.ts'
import type { ReorderInput, ReorderProposal } from './reorder.ts'

/**
 * The judge of reorder proposals: every complaint in words, none when they are lawful. Counts the due dates, the stock and the
 * orders afresh; for what is used without due dates it only asks that the lines say so.
 */
export function checkReorders(input: ReorderInput, proposals: readonly ReorderProposal[]): string[] {
  const known = partsOf(input)
  const complaints = proposals.flatMap((proposal) => [
    ...checkSum(proposal),
    ...checkCounts(known(proposal.partId), proposal),
    ...checkPacks(proposal),
    ...checkCover(input, known(proposal.partId).part?.leastToKeep ?? 0, proposal),
  ])
  const proposed = new Set(proposals.map((proposal) => proposal.partId))
  const missing = input.parts.filter((part) => !proposed.has(part.partId))
  return [...complaints, ...missing.map((part) => `Part ${part.partId} has no proposal.`)]
}

type Quantities = 'demands' | 'stock' | 'onOrder' | 'drafted' | 'promised'
type OfPart = Pick<ReorderInput, Quantities | 'letterToVisitPercent'> & {
  readonly part: ReorderInput['parts'][number] | undefined
}

/** What the input says of each part. */
function partsOf(input: ReorderInput): (partId: PartId) => OfPart {
  const parts = byPart(input.parts)
  const [demands, stock] = [byPart(input.demands), byPart(input.stock)]
  const [onOrder, drafted] = [byPart(input.onOrder), byPart(input.drafted)]
  const promised = byPart(input.promised)
  return (partId) => ({
    part: parts.get(partId)?.[0],
    demands: demands.get(partId) ?? [],
    stock: stock.get(partId) ?? [],
    onOrder: onOrder.get(partId) ?? [],
    drafted: drafted.get(partId) ?? [],
    promised: promised.get(partId) ?? [],
    letterToVisitPercent: input.letterToVisitPercent,
  })
}

function byPart<Row extends { readonly partId: PartId }>(rows: readonly Row[]): Map<PartId, Row[]> {
  const found = new Map<PartId, Row[]>()
  for (const row of rows) {
    const own = found.get(row.partId)
    if (own) own.push(row)
    else found.set(row.partId, [row])
  }
  return found
}

const add = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0)

function checkSum(proposal: ReorderProposal): string[] {
  const sum = add(proposal.lines.map((line) => line.pieces))
  const agrees = proposal.order > 0 ? sum === proposal.order : sum <= 0
  const whole = proposal.lines.every((line) => Number.isSafeInteger(line.pieces))
  return [
    ...(agrees ? [] : [`Part ${proposal.partId}: the lines add up to ${sum}, not to ${proposal.order}.`]),
    ...(whole ? [] : [`Part ${proposal.partId}: a line speaks of broken pieces.`]),
  ]
}

function checkCounts(input: OfPart, proposal: ReorderProposal): string[] {
  const own = <Row extends { quantity: number }>(rows: readonly Row[], fits: (row: Row) => boolean) =>
    add(rows.filter(fits).map((row) => row.quantity))
  const due = (booked: boolean) => own(input.demands, (row) => row.booked === booked && row.on <= proposal.covers)
  const counts = {
    booked: due(true),
    'on-hand': -own(input.stock, (lot) => !lot.recalled && (lot.expiresOn ?? '9999-12-31') >= proposal.covers),
    'on-order': -own(input.onOrder, () => true),
    drafted: -own(input.drafted, () => true),
    promised: own(input.promised, () => true),
  }
  const said = (kind: string) => add(proposal.lines.filter((line) => line.kind === kind).map((line) => line.pieces))
  const complaints = Object.entries(counts)
    .filter(([kind, count]) => said(kind) !== count && !(count === 0 && said(kind) === 0))
    .map(([kind, count]) => `Part ${proposal.partId}: ${kind} is ${count}, the line says ${said(kind)}.`)
  const share = (due(false) * input.letterToVisitPercent) / 100
  const likely = said('likely')
  if (likely < share - 1e-6 || likely >= share + 1)
    complaints.push(`Part ${proposal.partId}: ${likely} is not the share ${share}, rounded up.`)
  return complaints
}

/** Whole packs, at least the minimum, and never a pack more than needed. */
function checkPacks({ partId, order, short, term }: ReorderProposal): string[] {
  const pack = term?.packSize ?? 1
  const minimum = term?.minimumQuantity ?? 0
  if (order === 0) return short === 0 ? [] : [`Part ${partId}: ${short} are missing and none is ordered.`]
  const complaints: string[] = []
  if (order % pack !== 0) complaints.push(`Part ${partId}: ${order} is no whole number of packs of ${pack}.`)
  if (order < short) complaints.push(`Part ${partId}: ${order} does not cover the ${short} missing.`)
  if (order < minimum) complaints.push(`Part ${partId}: ${order} is below the minimum of ${minimum}.`)
  if (order - pack >= Math.max(short, minimum)) complaints.push(`Part ${partId}: a pack less than ${order} would do.`)
  return complaints
}

/** The order covers lead time and review period, and what is missing is told from what is needed and there. */
function checkCover(input: ReorderInput, least: number, proposal: ReorderProposal): string[] {
  const { partId, term, covers, level, short, lines } = proposal
  const days = (term?.leadTimeDays ?? input.leadTimeDays) + (term?.reviewDays ?? input.reviewPeriodDays)
  const complaints: string[] = []
  if (daysBetween(input.today, covers) !== days) complaints.push(`Part ${partId}: ${covers} is not ${days} days away.`)
  if (level < least) complaints.push(`Part ${partId}: the level ${level} is below the ${least} to keep.`)
  const there = add(
    lines
      .filter((line) => ['promised', 'on-hand', 'on-order', 'drafted'].includes(line.kind))
      .map((line) => line.pieces),
  )
  if (short !== Math.max(0, level + there)) complaints.push(`Part ${partId}: ${short} is not what is missing.`)
  return complaints
}
