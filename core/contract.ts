import { deskContract } from './desk/desk-contract.ts'
import { invoicesContract } from './invoices/invoices-contract.ts'
import { routesContract } from './routes/routes-contract.ts'
import { officeContract } from './settings/office-contract.ts'
import { pullContract } from './stock/pull-contract.ts'
import { stockContract } from './stock/stock-contract.ts'
import { visitsContract } from './visits/visits-contract.ts'
import { workContract } from './work/work-contract.ts'

/** Everything that can be asked of the office, by job word. Each folder adds its own contract here. */
export const contract = {
  desk: deskContract,
  invoices: invoicesContract,
  office: officeContract,
  routes: routesContract,
  visits: visitsContract,
  pull: pullContract,
  stock: stockContract,
  work: workContract,
}
export type Contract = typeof contract
