import { ReachFlow, type Want } from './reach-flow.ts'
import type { ScarceQuestion } from './scarce-prices.ts'
import { MOST_EFFORT, serveScarceStepwise } from './serve-scarce.ts'
import { inOneGo, type Stepwise } from './stepwise.ts'

/** Who wants pieces of which heaps; heaps and visits are called by their number. */
export type ChoiceQuestion = ScarceQuestion

export interface Choice {
  /** Whether each visit is served whole. */
  readonly served: readonly boolean[]
  /** False when there was too much to weigh: the best set that was found. */
  readonly proved: boolean
}

/** One want of a visit. */
interface OpenWant {
  readonly visit: number
  readonly want: Want
}

/**
 * Which visits are served whole: the set that is worth most, exactly; of equals the one with more visits, then with those earlier in the order
 * given. Only what a shortage touches is searched: a heap that holds enough for everybody who could ever draw on it binds nobody, so
 * wants that can come from it fall away; what is left falls apart into groups that share no heap, and each is searched for itself.
 */
export function chooseVisits(question: ChoiceQuestion, mostEffort: number = MOST_EFFORT): Choice {
  return inOneGo(chooseVisitsStepwise(question, mostEffort))
}

/** The same, stopping for breath. */
export function* chooseVisitsStepwise(question: ChoiceQuestion, mostEffort: number = MOST_EFFORT): Stepwise<Choice> {
  const served = question.visits.map(() => true)
  const left = scarceWants(question, served)
  let proved = true
  for (const group of groupsOf(left, question.pieces.length)) {
    const visits = [...new Set(group.map((each) => each.visit))].sort((a, b) => a - b)
    const heaps = [...new Set(group.flatMap((each) => each.want.heaps))].sort((a, b) => a - b)
    const own = new Map(heaps.map((heap, index) => [heap, index]))
    const scarce: ScarceQuestion = {
      pieces: heaps.map((heap) => question.pieces[heap] ?? 0),
      visits: visits.map((visit) => ({
        worth: question.visits[visit]?.worth ?? 0,
        wants: group
          .filter((each) => each.visit === visit)
          .map(({ want }) => ({ ...want, heaps: want.heaps.map((heap) => own.get(heap) ?? 0) })),
      })),
    }
    if (canServeAll(scarce)) continue
    const answer = yield* serveScarceStepwise(scarce, mostEffort)
    if (!answer.proved) proved = false
    visits.forEach((visit, index) => {
      served[visit] = answer.served[index] ?? false
    })
  }
  return { served, proved }
}

/**
 * The wants that somebody may have to go without. Takes out, until nothing more falls away: visits that want more than all of their
 * heaps hold (marked as not served), and wants with a heap that holds enough for all who could draw on it. A want that fell away
 * draws on that heap and on no other, and no other want that is left can draw on that one.
 */
function scarceWants(question: ChoiceQuestion, served: boolean[]): OpenWant[] {
  let left = question.visits.flatMap(({ wants }, visit) => wants.map((want) => ({ visit, want })))
  for (;;) {
    for (const { visit, want } of left) {
      const there = want.heaps.reduce((sum, heap) => sum + (question.pieces[heap] ?? 0), 0)
      if (there < want.quantity) served[visit] = false
    }
    const drawn = question.pieces.map(() => 0)
    const open = left.filter(({ visit }) => served[visit])
    for (const { want } of open) for (const heap of want.heaps) drawn[heap] = (drawn[heap] ?? 0) + want.quantity
    const isEnough = (heap: number) => (drawn[heap] ?? 0) <= (question.pieces[heap] ?? 0)
    const scarce = open.filter(({ want }) => !want.heaps.some(isEnough))
    if (scarce.length === left.length) return scarce
    left = scarce
  }
}

/** Wants that share a heap, or belong to one visit, hang together. */
function groupsOf(wants: readonly OpenWant[], heaps: number): OpenWant[][] {
  const parent = new Map<number, number>()
  const root = (node: number): number => {
    let top = node
    for (let up = parent.get(top) ?? top; up !== top; up = parent.get(top) ?? top) top = up
    if (top !== node) parent.set(node, top)
    return top
  }
  for (const { visit, want } of wants)
    for (const heap of want.heaps) {
      const [a, b] = [root(heap), root(heaps + visit)]
      if (a !== b) parent.set(Math.max(a, b), Math.min(a, b))
    }
  const groups = new Map<number, OpenWant[]>()
  for (const each of wants) {
    const top = root(heaps + each.visit)
    const group = groups.get(top)
    if (group) group.push(each)
    else groups.set(top, [each])
  }
  return [...groups.values()]
}

function canServeAll(question: ScarceQuestion): boolean {
  const flow = new ReachFlow(question.pieces)
  return question.visits.every(({ wants }) =>
    flow.giveAll(wants.map(({ heaps, quantity }) => ({ kind: flow.kind(heaps.join(), heaps), quantity }))),
  )
}
