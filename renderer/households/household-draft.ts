import { keptNamesOf, readPersonName } from '../../core/customers/customer-names.ts'
import type { CustomerFields, SiteFields } from '../../core/customers/customers-contract.ts'

/** What is typed of a household, and what it was opened with. */
export interface HouseholdDraft {
  readonly customer: CustomerFields
  readonly site: SiteFields
  readonly seen: { readonly customer: CustomerFields; readonly site: SiteFields }
}

/** A blank form, with the office's own state and country. */
export function newHousehold(office: { readonly region: string; readonly country: string }): HouseholdDraft {
  const customer: CustomerFields = {
    kind: 'person',
    sortName: '',
    letterName: '',
    salutation: '',
    phone: '',
    phoneNote: '',
    email: '',
    mailElsewhere: false,
    mailLine1: '',
    mailLine2: '',
    mailTown: '',
    mailRegion: '',
    mailPostalCode: '',
    mailCountry: '',
    noMail: false,
    taxExempt: false,
    paymentTermsDays: null,
    note: '',
  }
  const site: SiteFields = {
    line1: '',
    line2: '',
    town: '',
    region: office.region,
    postalCode: '',
    country: office.country,
    accessNote: '',
    waterSource: 'unknown',
    hardness: null,
    feedTds: null,
    people: null,
    drunkPerDay: null,
    monthsAway: '',
  }
  return { customer, site, seen: { customer, site } }
}

/** The three names a customer has, from the one that was typed: for the lists, the envelope, and the letter. */
export function namesFrom(
  typed: string,
  kind: CustomerFields['kind'],
): Pick<CustomerFields, 'sortName' | 'letterName' | 'salutation'> {
  if (typed.trim() === '') return { sortName: '', letterName: '', salutation: '' }
  return keptNamesOf(kind === 'business' ? { kind, name: typed } : readPersonName(typed))
}
