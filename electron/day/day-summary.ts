import { createORPCClient } from '@orpc/client'
import { RPCLink } from '@orpc/client/fetch'
import type { ContractRouterClient } from '@orpc/contract'
import type { Contract } from '../../core/contract.ts'
import type { Office } from '../../core/office.ts'
import type { CalendarDate } from '../../core/units/calendar-date.ts'

/** The counts of a day, as day.json has them. Pieces and letters are whole; money is cents of the office's currency. */
export interface DaySummary {
  readonly on: CalendarDate
  readonly office: string
  readonly currency: string
  readonly letters: {
    readonly owed: number
    readonly first: number
    readonly second: number
    readonly final: number
    readonly unaddressed: number
  }
  readonly invoices: {
    readonly issued: number
    readonly issuedCents: number
    readonly drafts: number
    readonly draftCents: number
  }
  readonly visits: number
  readonly visitsByTechnician: readonly {
    readonly technician: string
    readonly visits: number
    readonly driveMinutes: number
  }[]
  readonly pull: readonly {
    readonly van: string
    readonly stops: number
    readonly pieces: number
    readonly aboard: number
    readonly short: number
  }[]
  readonly shortages: readonly {
    readonly van: string
    readonly part: string
    readonly pieces: number
    readonly stops: readonly number[]
    readonly nextDelivery: CalendarDate | null
  }[]
}

/** The office asked as its window asks it: through the same door. */
export function clientOf(office: Pick<Office, 'handle'>): ContractRouterClient<Contract> {
  const link = new RPCLink({ url: 'http://office/rpc', fetch: (request) => office.handle(request) })
  return createORPCClient(link)
}

/** Counts of a day, from the same answers that the screens show. */
export async function daySummary(office: Pick<Office, 'handle'>, on: CalendarDate): Promise<DaySummary> {
  const ask = clientOf(office)
  const state = await ask.office.state()
  const routes = await ask.routes.day({ on, technicianId: null })
  const pull = await ask.pull.day({ on })
  const { rows: owed, unaddressed } = await ask.letters.owed()
  return {
    on,
    office: state.address.name,
    currency: state.settings.currency,
    letters: {
      owed: owed.length,
      first: owed.filter((row) => row.kind === 'first').length,
      second: owed.filter((row) => row.kind === 'second').length,
      final: owed.filter((row) => row.kind === 'final').length,
      unaddressed: unaddressed.length,
    },
    invoices: await invoicesOf(ask, on),
    visits: routes.reduce((sum, route) => sum + route.stops.length, 0),
    visitsByTechnician: routes.map((route) => ({
      technician: route.technician.name,
      visits: route.stops.length,
      driveMinutes: route.driveMinutes,
    })),
    pull: pull.vans.map((van) => ({
      van: van.van,
      stops: van.stops,
      pieces: piecesOf(van.lines),
      aboard: piecesOf(van.aboard),
      short: piecesOf(van.shortages),
    })),
    shortages: pull.vans.flatMap((van) =>
      van.shortages.map((shortage) => ({
        van: van.van,
        part: `${shortage.part.number} ${shortage.part.name}`,
        pieces: shortage.quantity,
        stops: shortage.totes.map((tote) => tote.stop),
        nextDelivery: shortage.nextDelivery?.on ?? null,
      })),
    ),
  }
}

/** Issued on the day, and the drafts that stand ready; totals with tax, in cents. */
async function invoicesOf(ask: ReturnType<typeof clientOf>, on: CalendarDate): Promise<DaySummary['invoices']> {
  const issued = (await allInvoices(ask, 'all')).filter((row) => row.issuedOn === on)
  const drafts = await allInvoices(ask, 'drafts')
  return { issued: issued.length, issuedCents: total(issued), drafts: drafts.length, draftCents: total(drafts) }
}

type InvoiceRow = Awaited<ReturnType<ReturnType<typeof clientOf>['invoices']['list']>>['rows'][number]
const total = (rows: readonly InvoiceRow[]) => rows.reduce((sum, row) => sum + row.total, 0)

async function allInvoices(ask: ReturnType<typeof clientOf>, pile: 'all' | 'drafts'): Promise<InvoiceRow[]> {
  const rows: InvoiceRow[] = []
  type Page = Awaited<ReturnType<typeof ask.invoices.list>>
  for (let after: Page['next'] = null; ; ) {
    const page: Page = await ask.invoices.list({ pile, after, limit: 500 })
    rows.push(...page.rows)
    if (page.next === null) return rows
    after = page.next
  }
}

function piecesOf(lines: readonly { readonly quantity: number }[]): number {
  return lines.reduce((sum, line) => sum + line.quantity, 0)
}
