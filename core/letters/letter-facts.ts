import type { PostalAddress } from '../customers/postal-address.ts'
import type { StageKind } from '../installations/stage-kinds.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { CustomerId, InstallationId, SiteId, StageId } from '../units/ids.ts'
import type { Hardness, Millilitres } from '../units/measures.ts'
import type { Cents } from '../units/money.ts'

/** A stage as a letter speaks of it. */
export interface LetterStage {
  readonly stageId: StageId
  readonly installationId: InstallationId
  readonly siteId: SiteId
  /** The unit it stands in, for a heading: "The unit at 7 Millrace Court". */
  readonly unit: string
  readonly kind: StageKind
  readonly label: string
  readonly changedOn: CalendarDate | null
  /** We changed it on a recorded visit. */
  readonly byUs: boolean
  readonly dueOn: CalendarDate | null
  readonly dueRule: string
  readonly dueReason: string
  /** Months set by hand for it or its unit: the household's size then has no part in it. */
  readonly monthsSet: boolean
  readonly ratedMillilitres: Millilitres | null
  readonly lifeLeft: number | null
  readonly daysLate: number
  readonly partName: string
  /** Null when no part is known for it, or its price is not. */
  readonly priceCents: Cents | null
  readonly taxFree: boolean
  readonly fitMinutes: number | null
  /** It is written about in a letter of its own. */
  readonly recalled?: boolean
}

export interface LetterSite {
  readonly siteId: SiteId
  readonly street: string
  readonly town: string
  readonly people: number | null
  readonly hardness: Hardness | null
  /** Days on which a technician is in the town anyway, earliest first. */
  readonly daysInTown: readonly CalendarDate[]
  /** Its installations' stages, one installation after the other, each in flow order. */
  readonly stages: readonly LetterStage[]
}

/** All that a letter to a customer rests on. */
export interface LetterHousehold {
  readonly customerId: CustomerId
  readonly reference: string
  readonly salutation: string
  readonly address: PostalAddress
  readonly taxExempt: boolean
  /** Open places with something due first. */
  readonly sites: readonly LetterSite[]
  /** The letter before this one. */
  readonly writtenBefore: CalendarDate | null
}

export interface LetterOffice {
  readonly name: string
  readonly phone: string
  readonly email: string
}
