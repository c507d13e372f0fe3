import type { VisitId } from '../units/ids.ts'
import { losingWords } from './losing-words.ts'
import type { LosingVisitRow } from './pull-contract.ts'
import type { LosingVisit } from './pull-shapes.ts'

type PartName = LosingVisitRow['lacks'][number]['part']

/** What the rows of losing visits are told with. */
export interface TellLosers {
  readonly part: (partId: PartName['partId']) => PartName
  readonly visit: (visitId: VisitId) => {
    readonly siteId: LosingVisitRow['siteId']
    readonly household: string
    readonly daysLate: number
    readonly promised: boolean
  } | null
  readonly nextDelivery: (partId: PartName['partId']) => LosingVisitRow['lacks'][number]['nextDelivery']
  /** Pieces that standing pulls hold for a visit. */
  readonly held: (visitId: VisitId) => number
  readonly locale: string
}

/** Losing visits with names and reasons in words. */
export function losingVisitRows(losers: readonly LosingVisit[], tell: TellLosers): LosingVisitRow[] {
  return losers.flatMap((loser) => {
    const visit = tell.visit(loser.visitId)
    if (!visit) return []
    const lacks = loser.lacks.map(({ partId, missing, servedInstead }) => ({
      part: tell.part(partId),
      missing,
      servedInstead: servedInstead.map(({ visitId, quantity }) => {
        const { household = '', daysLate = 0, promised = false } = tell.visit(visitId) ?? {}
        return { visitId, quantity, household, daysLate, promised }
      }),
      nextDelivery: tell.nextDelivery(partId),
    }))
    const inWords = lacks.map((lack) => ({ ...lack, part: `${lack.part.name} ${lack.part.number}` }))
    return [
      {
        visitId: loser.visitId,
        siteId: visit.siteId,
        stop: loser.stop,
        household: visit.household,
        reason: losingWords(inWords, tell.locale),
        lacks: lacks.map((lack) => ({
          ...lack,
          servedInstead: lack.servedInstead.map(({ visitId, quantity, household }) => ({
            visitId,
            quantity,
            household,
          })),
        })),
        pulledAllTheSame: tell.held(loser.visitId),
        couldHave: loser.couldHave,
      },
    ]
  })
}
