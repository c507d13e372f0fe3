import { createORPCClient } from '@orpc/client'
import { RPCLink } from '@orpc/client/fetch'
import type { ContractRouterClient } from '@orpc/contract'
import { createTanstackQueryUtils, type RouterUtils } from '@orpc/tanstack-query'
import type { Contract } from '../../core/contract.ts'
import { whoSitsHere } from './who-sits-here.ts'

const link = new RPCLink({
  url: () => `${location.origin}/rpc`,
  // Who sits here is written beside whatever this window changes.
  headers: () => ({ 'penstock-who': encodeURIComponent(whoSitsHere()) }),
})

/** The office, asked directly: `await office.visits.book(input)`. Rejects with what `problemOf` reads. */
export const office: ContractRouterClient<Contract> = createORPCClient(link)

/** The office for queries and mutations: `useQuery(ask.due.list.queryOptions({ input }))`. */
export const ask: RouterUtils<typeof office> = createTanstackQueryUtils(office)

export { problemOf, type ToldProblem } from './told-problem.ts'
