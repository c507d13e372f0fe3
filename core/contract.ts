import { officeContract } from './settings/office-contract.ts'
import { workContract } from './work/work-contract.ts'

/** Everything that can be asked of the office, by job word. Each folder adds its own contract here. */
export const contract = {
  office: officeContract,
  work: workContract,
}
export type Contract = typeof contract
