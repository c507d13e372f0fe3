import type { Asking, Desk, KeptQuestion } from '../answering.ts'
import type { ReadDb } from '../database/handles.ts'
import { ok, type Result } from '../result.ts'
import { readSettings } from '../settings/settings-store.ts'
import { listParts } from '../stock/parts-store.ts'
import { addDays } from '../units/calendar-date.ts'
import type { PartId } from '../units/ids.ts'
import { cents, NO_MONEY } from '../units/money.ts'
import { checkReorders } from './check-reorder.ts'
import {
  bookedPieces,
  dueStages,
  fittedByDay,
  hasManyStages,
  lotsInHand,
  orderedPieces,
  promisedParts,
  visitsDoneByDay,
} from './demand-store.ts'
import { groupBySupplier, lackToMinimum } from './group-by-supplier.ts'
import { type OpenedProposal, type ProposalRow, type ShortParts, shortPartsSchema } from './proposals-contract.ts'
import { proposeReorders, type ReorderInput, type ReorderProposal } from './reorder.ts'
import { dailyPace } from './reorder-point.ts'
import { listSuppliers, listTerms } from './suppliers-store.ts'

type Asked = Pick<Asking, 'officeId' | 'today'> & { readonly read: ReadDb }

/** What to order of every part, from the books of this moment; looked at by the judge. */
export async function proposeFromBooks(asked: Asked): Promise<ReorderProposal[]> {
  const input = await readReorderInput(asked)
  const proposals = proposeReorders(input)
  const complaints = checkReorders(input, proposals)
  if (complaints.length > 0) throw new Error(`Unlawful reorder proposals: ${complaints.join(' ')}`)
  return proposals
}

async function readReorderInput({ read, officeId, today }: Asked): Promise<ReorderInput> {
  const settings = await readSettings(read, officeId)
  const terms = await listTerms(read, officeId)
  const since = addDays(today, -settings.paceDays)
  const used = await fittedByDay(read, officeId, since)
  const longest = terms.reduce(
    (most, term) => Math.max(most, term.leadTimeDays + (term.reviewDays ?? settings.reviewPeriodDays)),
    settings.leadTimeDays + settings.reviewPeriodDays,
  )
  const until = addDays(today, longest)
  const parts = (await listParts(read, officeId)).filter((part) => part.closedOn === null)
  return {
    today,
    locale: settings.locale,
    parts: parts.map((part) => ({
      partId: part.partId,
      name: part.name,
      perVisitQuantity: part.perVisitQuantity,
      leastToKeep: part.leastToKeep,
      serviceLevelPercent: part.serviceLevelPercent ?? settings.serviceLevelPercent,
      terms: terms.filter((term) => term.partId === part.partId),
      usedADay: paceOf(used.get(part.partId) ?? [], settings.paceDays),
    })),
    demands: [...(await bookedPieces(read, officeId, until)), ...(await dueStages(read, officeId, until))],
    stock: await lotsInHand(read, officeId),
    promised: await promisedParts(read, officeId),
    onOrder: await orderedPieces(read, officeId, 'sent'),
    drafted: await orderedPieces(read, officeId, 'draft'),
    visitsADay: paceOf(await visitsDoneByDay(read, officeId, since), settings.paceDays),
    leadTimeDays: settings.leadTimeDays,
    reviewPeriodDays: settings.reviewPeriodDays,
    letterToVisitPercent: settings.letterToVisitPercent,
  }
}

/** A pace over all days looked at: days on which nothing happened count as none. */
function paceOf(counts: readonly number[], days: number) {
  if (counts.length === 0) return { mean: 0, deviation: 0 }
  return dailyPace([...counts, ...Array.from({ length: Math.max(0, days - counts.length) }, () => 0)])
}

/** From so many stages in want of a part on the proposals are reckoned apart. */
const MANY_STAGES = 20_000

/** What runs short, kept until something is written: the sheet, the draft and the tray all say the same. */
export const keptProposals: KeptQuestion<ShortParts> = {
  name: 'short-parts',
  output: shortPartsSchema,
  isLarge: ({ read, officeId }) => hasManyStages(read, officeId, MANY_STAGES),
  reckon: reckonProposals,
}

export async function proposals(desk: Desk): Promise<Result<ShortParts>> {
  return ok(await desk.kept.ask(keptProposals, desk))
}

/** The arithmetic behind one part's proposal, as it was kept. */
export async function openedProposal(desk: Desk, { partId }: { partId: PartId }): Promise<Result<OpenedProposal>> {
  const { groups } = await desk.kept.ask(keptProposals, desk)
  const group = groups.find(({ proposals: own }) => own.some((row) => row.part.partId === partId))
  const row = group?.proposals.find((each) => each.part.partId === partId)
  const record = { within: [], young: 0, priorLetters: 0, priorPercent: 0, sentences: [] }
  if (!group || !row) return ok({ proposal: null, record })
  const { supplierId, supplier } = group
  return ok({ proposal: { ...row, supplierId, supplier, wanted: null, weeks: [], prices: [], changes: [] }, record })
}

/** What runs short, by supplier, each part with its arithmetic; from the books of this moment. */
export async function reckonProposals(asked: Asked): Promise<ShortParts> {
  const { read, officeId } = asked
  const all = await proposeFromBooks(asked)
  const parts = new Map((await listParts(read, officeId)).map((part) => [part.partId, part]))
  const suppliers = new Map((await listSuppliers(read, officeId)).map((each) => [each.supplierId, each]))
  const rowOf = (proposal: ReorderProposal): ProposalRow => ({
    part: {
      partId: proposal.partId,
      number: parts.get(proposal.partId)?.number ?? '',
      name: parts.get(proposal.partId)?.name ?? '',
    },
    order: proposal.order,
    short: proposal.short,
    level: proposal.level,
    usable: proposal.usable,
    packSize: proposal.term?.packSize ?? 1,
    price: proposal.term?.price ?? NO_MONEY,
    cost: proposal.cost,
    covers: proposal.covers,
    runsOutOn: null,
    sentence: proposal.sentence,
    why: proposal.sentence,
    lines: [...proposal.lines],
  })
  const groups = groupBySupplier(all).map(({ supplierId, proposals: own, cost }) => {
    const supplier = supplierId === null ? null : suppliers.get(supplierId)
    return {
      supplierId,
      supplier: supplier?.name ?? 'No supplier yet',
      cost,
      lacks: lackToMinimum(cost, supplier?.minimumOrder ?? cents(0)),
      about: '',
      proposals: own.map(rowOf),
    }
  })
  return { groups, enough: all.filter((proposal) => proposal.order === 0).length }
}
