import type { PlaceId } from '../units/ids.ts'
import { PUT_AWAY_REASONS, type PutAwayChoice, type PutAwayQuestion, type PutAwayReason } from './put-away.ts'

/** What is wrong with an answer to where a lot goes; empty when nothing is. Looks at every bin by itself, knows nothing of how it was found. */
export function checkPutAway(question: PutAwayQuestion, choices: readonly PutAwayChoice[]): string[] {
  const faults: string[] = []
  const best = new Map<PlaceId, PutAwayReason>()
  for (const [step, bin] of question.bins.entries()) {
    const reason = bestReason(question, step)
    if (reason !== null) best.set(bin.placeId, reason)
  }
  const rank = (reason: PutAwayReason): number => PUT_AWAY_REASONS.indexOf(reason)
  const named = new Set<PlaceId>()
  choices.forEach((choice, place) => {
    const before = choices[place - 1]
    if (named.has(choice.placeId)) faults.push(`${choice.name} stands twice`)
    named.add(choice.placeId)
    if (best.get(choice.placeId) !== choice.reason) faults.push(`${choice.name} is no bin of the kind ${choice.reason}`)
    if (before && rank(before.reason) > rank(choice.reason)) faults.push(`${choice.name} stands behind a worse one`)
    if (!choice.words.startsWith(`${choice.name}: `)) faults.push(`${choice.name} is not named in its words`)
  })
  const own = [...best.values()].filter((reason) => rank(reason) < rank('free')).length
  const told = choices.filter((each) => rank(each.reason) < rank('free')).length
  if (told !== Math.min(own, 5)) faults.push(`${own} bins hold the part or are its own, ${told} are told`)
  if (question.bins.length > 0 && choices.length === 0 && [...best.values()].some((each) => each !== 'least'))
    faults.push('nothing is told although there are bins')
  return [...faults, ...worseThanLeftOut(question, choices, best)]
}

/** The best that can be said of a bin. */
function bestReason({ bins, lot, usual, usualOfOthers }: PutAwayQuestion, step: number): PutAwayReason | null {
  const bin = bins[step]
  if (!bin) return null
  const lies = bin.heaps.filter((heap) => heap.pieces > 0)
  if (lot !== '' && lies.some((heap) => heap.lot === lot)) return 'same-lot'
  if (usual.includes(bin.placeId)) return 'usual'
  if (lies.length > 0) return 'same-part'
  return bin.others === 0 && !usualOfOthers.has(bin.placeId) ? 'free' : 'least'
}

/** Within one reason, nothing that was left out or stands behind is better. */
function worseThanLeftOut(
  question: PutAwayQuestion,
  choices: readonly PutAwayChoice[],
  best: ReadonlyMap<PlaceId, PutAwayReason>,
): string[] {
  const faults: string[] = []
  const stepOf = (placeId: PlaceId): number => question.bins.findIndex((bin) => bin.placeId === placeId)
  const homes = question.bins.filter((bin) => !['free', 'least'].includes(best.get(bin.placeId) ?? 'least'))
  const cost = (placeId: PlaceId, reason: PutAwayReason): number => {
    const bin = question.bins[stepOf(placeId)]
    const pieces = (bin?.heaps.reduce((all, heap) => all + heap.pieces, 0) ?? 0) + (bin?.others ?? 0)
    if (reason === 'usual') return question.usual.indexOf(placeId)
    if (reason === 'least') return pieces
    if (reason === 'free')
      return homes.length === 0
        ? stepOf(placeId)
        : Math.min(...homes.map((home) => Math.abs(stepOf(home.placeId) - stepOf(placeId))))
    if (reason === 'same-part') return stepOf(placeId)
    const own = bin?.heaps.filter((heap) => heap.lot === question.lot) ?? []
    return -own.reduce((all, heap) => all + heap.pieces, 0)
  }
  for (const reason of PUT_AWAY_REASONS) {
    const told = choices.filter((each) => each.reason === reason).map((each) => each.placeId)
    const costs = told.map((placeId) => cost(placeId, reason))
    if (costs.some((each, place) => place > 0 && each < (costs[place - 1] ?? 0))) faults.push(`${reason}: out of order`)
    for (const [placeId, kind] of best)
      if (kind === reason && told.length > 0 && !told.includes(placeId) && cost(placeId, reason) < Math.max(...costs))
        faults.push(`${reason}: a better bin is left out`)
  }
  return faults
}
