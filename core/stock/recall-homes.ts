import { listed } from '../installations/stage-train-words.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { CustomerId, SiteId, VisitId } from '../units/ids.ts'

/** A stage that holds a piece of the lot, with its household. */
export interface StageOfHome {
  readonly siteId: SiteId
  readonly customerId: CustomerId
  readonly household: string
  readonly reference: string
  readonly street: string
  readonly town: string
  readonly phone: string
  readonly phoneNote: string
  readonly noMail: boolean
  readonly moved: boolean
  readonly addressed: boolean
  readonly unit: string
  readonly label: string
  readonly fittedOn: CalendarDate | null
}

export interface VisitOfHome {
  readonly visitId: VisitId
  readonly on: CalendarDate
  readonly technician: string | null
  /** Pieces of the lot that it changes, and how many of these free of charge. */
  readonly changes: number
  readonly free: number
}

export type NoLetter = 'asked for no mail' | 'moved away' | 'no address to write to'

export interface HomeTouched {
  readonly siteId: SiteId
  readonly customerId: CustomerId
  readonly household: string
  readonly reference: string
  readonly street: string
  readonly town: string
  readonly phone: string
  readonly phoneNote: string
  readonly stages: string
  readonly fittedOn: CalendarDate | null
  readonly pieces: number
  readonly noLetter: NoLetter | null
  readonly writtenOn: CalendarDate | null
  /** `changes`: whether it changes every piece that is recalled. */
  readonly visit: (Pick<VisitOfHome, 'visitId' | 'on' | 'technician'> & { readonly changes: boolean }) | null
}

/**
 * A home from the stages that hold the lot (all of one household) and its booked visits, the nearest first. The visit named is the
 * first that changes what is recalled, else the nearest; the date is the earliest fitting. Nothing when there are no stages.
 */
export function homeOf(
  stages: readonly StageOfHome[],
  visits: readonly VisitOfHome[],
  writtenOn: CalendarDate | null,
): HomeTouched[] {
  const [first] = stages
  if (!first) return []
  const { siteId, customerId, household, reference, street, town, phone, phoneNote } = first
  const visit = visitFor(visits)
  return [
    {
      ...{ siteId, customerId, household, reference, street, town, phone, phoneNote },
      stages: stagesInWords(stages),
      fittedOn: stages.flatMap((stage) => stage.fittedOn ?? []).sort()[0] ?? null,
      pieces: stages.length,
      noLetter: noLetterFor(first),
      writtenOn,
      visit: visit && {
        ...{ visitId: visit.visitId, on: visit.on, technician: visit.technician },
        changes: visit.changes >= stages.length,
      },
    },
  ]
}

/** Of a home's booked visits, the nearest first: the one that changes most of what is recalled, else the nearest. */
export function visitFor<V extends VisitOfHome>(visits: readonly V[]): V | null {
  const most = Math.max(0, ...visits.map((visit) => visit.changes))
  return visits.find((visit) => visit.changes === most) ?? null
}

/** Why a household is rung up instead of written to; null when a letter may go. */
export function noLetterFor({
  noMail,
  moved,
  addressed,
}: Pick<StageOfHome, 'noMail' | 'moved' | 'addressed'>): NoLetter | null {
  if (moved) return 'moved away'
  if (noMail) return 'asked for no mail'
  return addressed ? null : 'no address to write to'
}

/** "carbon", "carbon and post carbon"; with the unit's name where a household has several units. */
function stagesInWords(stages: readonly StageOfHome[]): string {
  const several = new Set(stages.map((stage) => stage.unit)).size > 1
  return listed(
    stages.map(({ label, unit }) =>
      several && unit !== '' ? `${label.toLowerCase()} (${unit})` : label.toLowerCase(),
    ),
  )
}
