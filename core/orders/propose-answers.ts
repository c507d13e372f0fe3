import { z } from 'zod'
import type { Desk, KeptQuestion } from '../answering.ts'
import { ok, type Result } from '../result.ts'
import type { PartRow } from '../stock/parts-store.ts'
import type { PartId } from '../units/ids.ts'
import { NO_MONEY } from '../units/money.ts'
import { checkReorders } from './check-reorder.ts'
import { hasManyStages } from './demand-store.ts'
import { gatherOrders } from './gather-orders.ts'
import {
  lettersRecordSchema,
  type OpenedProposal,
  type ProposalDetail,
  proposalDetailSchema,
  type ShortParts,
  supplierProposalsSchema,
} from './proposal-shapes.ts'
import { proposeReorders } from './reorder.ts'
import { type AskedBooks, readReorderInput } from './reorder-from-books-answers.ts'
import type { ReorderProposal } from './reorder-shapes.ts'

/** What runs short with the arithmetic of every part of it: what is kept. */
const keptShortPartsSchema = z.object({
  groups: z.array(supplierProposalsSchema.extend({ proposals: z.array(proposalDetailSchema) })),
  enough: z.int().min(0),
  record: lettersRecordSchema,
})
type KeptShortParts = z.infer<typeof keptShortPartsSchema>

/** From so many stages in want of a part on the proposals are reckoned apart. */
const MANY_STAGES = 20_000

/** What runs short, kept until something is written: the sheet, the draft and the tray all say the same. */
export const keptProposals: KeptQuestion<KeptShortParts> = {
  name: 'short-parts',
  output: keptShortPartsSchema,
  isLarge: ({ read, officeId }) => hasManyStages(read, officeId, MANY_STAGES),
  reckon: reckonProposals,
}

/** What runs short, by supplier, without the arithmetic that is only shown of an opened part. */
export async function proposals(desk: Desk): Promise<Result<ShortParts>> {
  const { groups, enough } = await desk.kept.ask(keptProposals, desk)
  return ok({
    enough,
    groups: groups.map((group) => ({
      ...group,
      proposals: group.proposals.map(
        ({ supplierId: _, supplier: __, wanted: ___, weeks: ____, prices: _____, changes: ______, ...row }) => row,
      ),
    })),
  })
}

/** The arithmetic behind one part's proposal, as it was kept. */
export async function openedProposal(desk: Desk, { partId }: { partId: PartId }): Promise<Result<OpenedProposal>> {
  const { groups, record } = await desk.kept.ask(keptProposals, desk)
  const found = groups.flatMap((group) => group.proposals).find((row) => row.part.partId === partId)
  return ok({ proposal: found ?? null, record })
}

/** What runs short, by supplier, each part with its arithmetic; from the books of this moment, looked at by the judge. */
export async function reckonProposals(asked: AskedBooks): Promise<KeptShortParts> {
  const { input, record, parts } = await readReorderInput(asked)
  const plan = proposeReorders(input)
  const complaints = checkReorders(input, plan)
  if (complaints.length > 0) throw new Error(`Unlawful reorder proposals: ${complaints.join(' ')}`)
  const named = new Map(parts.map((part) => [part.partId, part]))
  const names = new Map(input.suppliers.map((each) => [each.supplierId, each.name]))
  const groups = gatherOrders(plan).map(({ supplierId, cost, lacks, about, proposals: own }) => {
    const supplier = (supplierId === null ? null : names.get(supplierId)) ?? 'No supplier yet'
    const rows = own.map((proposal) => detailOf(proposal, named.get(proposal.partId), { supplierId, supplier }))
    return { supplierId, supplier, cost, lacks, about, proposals: rows }
  })
  const proposed = groups.reduce((sum, group) => sum + group.proposals.length, 0)
  return { groups, enough: plan.proposals.length - proposed, record }
}

function detailOf(
  proposal: ReorderProposal,
  part: PartRow | undefined,
  supplier: Pick<ProposalDetail, 'supplierId' | 'supplier'>,
): ProposalDetail {
  const { partId, term, lines, weeks, prices, changes, ...rest } = proposal
  return {
    ...rest,
    ...supplier,
    part: { partId, number: part?.number ?? '', name: part?.name ?? '' },
    packSize: term?.packSize ?? 1,
    minimumQuantity: term?.minimumQuantity ?? 0,
    listPrice: term?.price ?? NO_MONEY,
    breaks: [...(term?.breaks ?? [])],
    lines: [...lines],
    weeks: [...weeks],
    prices: [...prices],
    changes: [...changes],
  }
}
