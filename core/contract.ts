import { invoicesContract } from './invoices/invoices-contract.ts'
import { routesContract } from './routes/routes-contract.ts'
import { officeContract } from './settings/office-contract.ts'
import { visitsContract } from './visits/visits-contract.ts'
import { workContract } from './work/work-contract.ts'

/** Everything that can be asked of the office, by job word. Each folder adds its own contract here. */
export const contract = {
  invoices: invoicesContract,
  office: officeContract,
  routes: routesContract,
  visits: visitsContract,
  work: workContract,
}
export type Contract = typeof contract
