import type { CustomerFields, SiteFields } from '../../core/customers/customers-contract.ts'
import type { InstallationFields, StageFields } from '../../core/installations/installations-contract.ts'
import type { StageKind } from '../../core/installations/stage-kinds.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'

/** Corinne Abernathy-Vance; say what matters. */
export function someCustomer(fields: Partial<CustomerFields> = {}): CustomerFields {
  return {
    kind: 'person',
    sortName: 'Abernathy-Vance, Corinne',
    letterName: 'Corinne Abernathy-Vance',
    salutation: 'Dear Corinne Abernathy-Vance',
    phone: '555-0142',
    phoneNote: 'mornings',
    email: 'corinne@example.com',
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
    ...fields,
  }
}

export function someSite(fields: Partial<SiteFields> = {}): SiteFields {
  return {
    line1: '18 Weirside Lane',
    line2: '',
    town: 'Tollard Mill',
    region: 'XX',
    postalCode: '00142',
    country: 'US',
    accessNote: '',
    waterSource: 'mains',
    hardness: null,
    feedTds: null,
    people: 6,
    drunkPerDay: null,
    monthsAway: '',
    ...fields,
  }
}

export function someUnit(fields: Partial<InstallationFields> = {}): InstallationFields {
  return {
    name: 'The unit under the kitchen sink',
    fittedOn: calendarDate('2021-05-03'),
    recoveryPercent: null,
    people: null,
    drunkPerDay: null,
    ownMonths: null,
    note: '',
    ...fields,
  }
}

/** A new stage, last changed on a day. */
export function newStage(kind: StageKind, changedOn: string | null, fields: Partial<StageFields> = {}): StageFields {
  return {
    stageId: null,
    kind,
    label: '',
    partId: null,
    ownPartOnly: false,
    changedOn: changedOn === null ? null : calendarDate(changedOn),
    ownMonths: null,
    ownDueOn: null,
    ownDueNote: '',
    ownDueEndsOn: null,
    ...fields,
  }
}
