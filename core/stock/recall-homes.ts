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
  readonly changes: boolean
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
  readonly visit: VisitOfHome | null
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
  const visit = visits.find((each) => each.changes) ?? visits[0] ?? null
  return [
    {
      ...{ siteId, customerId, household, reference, street, town, phone, phoneNote },
      stages: stagesInWords(stages),
      fittedOn: stages.flatMap((stage) => stage.fittedOn ?? []).sort()[0] ?? null,
      pieces: stages.length,
      noLetter: noLetterFor(first),
      writtenOn,
      visit: visit && { visitId: visit.visitId, on: visit.on, technician: visit.technician, changes: visit.changes },
    },
  ]
}

function noLetterFor({ noMail, moved, addressed }: StageOfHome): NoLetter | null {
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
