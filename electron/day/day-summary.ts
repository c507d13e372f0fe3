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
  return {
    on,
    office: state.address.name,
    currency: state.settings.currency,
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

function piecesOf(lines: readonly { readonly quantity: number }[]): number {
  return lines.reduce((sum, line) => sum + line.quantity, 0)
}
