import { type KeptNames, keptNamesOf } from '../customers/customer-names.ts'
import type { DemoHousehold } from './demo-records.ts'

/** The names of a household as the books keep them. */
export function demoNames(household: DemoHousehold): KeptNames {
  return keptNamesOf(
    household.business
      ? { kind: 'business', name: household.family }
      : { kind: 'person', given: household.given, family: household.family },
  )
}
