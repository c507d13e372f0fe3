import type { Result } from './result.ts'
import type { CalendarDate } from './units/calendar-date.ts'
import type {
  CustomerId,
  InstallationId,
  LotId,
  MovementId,
  PartId,
  PlaceId,
  SiteId,
  StageId,
  TechnicianId,
  VisitId,
  VisitTaskId,
} from './units/ids.ts'
import type { Minutes } from './units/time-of-day.ts'

/** One task of a recorded visit, as stock and invoices need to know it. */
export interface RecordedTask {
  readonly taskId: VisitTaskId
  readonly kind: 'change' | 'sanitise' | 'measure' | 'other'
  readonly done: boolean
  readonly stageId: StageId | null
  /** What was fitted; null when nothing was. */
  readonly partId: PartId | null
  readonly lotId: LotId | null
  /** The van or bin it came from. */
  readonly fromPlaceId: PlaceId | null
  readonly quantity: number
  readonly description: string
  readonly minutes: Minutes
  readonly freeOfCharge: boolean
}

/** A visit after it was recorded (or corrected): plain data, whole. */
export interface RecordedVisit {
  readonly visitId: VisitId
  readonly siteId: SiteId
  readonly customerId: CustomerId
  readonly technicianId: TechnicianId | null
  readonly doneOn: CalendarDate
  readonly outcome: 'done' | 'could-not'
  readonly sanitised: boolean
  /** The call itself is not charged; whatever was done, a visit that could not be done charges nothing of its own accord. */
  readonly callFree: boolean
  readonly tasks: readonly RecordedTask[]
}

/**
 * What one job word tells the others, inside the same transaction. The teller does not know who listens:
 * core/office.ts assembles the follow-ups, so that the arrows between the folders hold.
 */
export type Happening =
  | { readonly kind: 'sites-changed'; readonly siteIds: readonly SiteId[] }
  | { readonly kind: 'customer-changed'; readonly customerId: CustomerId }
  | { readonly kind: 'installations-changed'; readonly installationIds: readonly InstallationId[] }
  | { readonly kind: 'part-changed'; readonly partId: PartId }
  | { readonly kind: 'due-rules-changed' }
  /** A figure that plans rest on, but no due date. */
  | { readonly kind: 'plan-figures-changed' }
  | { readonly kind: 'plan-wishes-changed'; readonly siteId: SiteId }
  /** Outside a visit: taken, struck out, or put back. */
  | { readonly kind: 'reading-taken'; readonly installationId: InstallationId; readonly siteId: SiteId }
  /** Recalled, or the recall was taken back. */
  | { readonly kind: 'lot-recalled'; readonly lotId: LotId }
  /** A movement that its counter-movement took back. */
  | { readonly kind: 'movement-put-right'; readonly movementId: MovementId }
  /** The first time somebody asks the office anything on a day. */
  | { readonly kind: 'day-begun' }
  | { readonly kind: 'visit-booked'; readonly visitId: VisitId; readonly siteId: SiteId }
  | {
      readonly kind: 'visit-moved'
      readonly visitId: VisitId
      readonly siteId: SiteId
      /** The day it stood on before. */
      readonly before: { readonly on: CalendarDate; readonly technicianId: TechnicianId | null }
    }
  | { readonly kind: 'visit-cancelled'; readonly visitId: VisitId; readonly siteId: SiteId }
  | { readonly kind: 'visit-recorded'; readonly visit: RecordedVisit }
  | { readonly kind: 'visit-corrected'; readonly before: RecordedVisit; readonly after: RecordedVisit }

/** Hears every happening; refuses when the books would no longer be right, and then nothing of the whole is written. */
export type FollowUp<Books> = (books: Books, happening: Happening) => Promise<Result<void>>
