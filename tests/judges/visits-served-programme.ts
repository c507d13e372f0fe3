import loadSolver from 'highs'
import type { ChoiceQuestion } from '../../core/stock/choose-visits.ts'
import type { PickListInput } from '../../core/stock/pull-shapes.ts'

/*
 * Which visits are served whole, as an integer programme written down on its own: a 0-1 variable a visit, a whole number of pieces for every
 * want of a visit and every heap it may come from. Solved by HiGHS (npm highs). It knows nothing of scarce heaps, groups or prices.
 */

/** A day's question, told from the bare warehouse: every heap is one part at a van or in the bins, less what is promised, spoilt or recalled. */
export function questionOfDay(input: PickListInput): ChoiceQuestion {
  const numbers = new Map<string, number>()
  const pieces: number[] = []
  for (const { partId, vanId, onHand, promised, recalled, expiresOn } of input.stock) {
    if (recalled || (expiresOn !== null && expiresOn < input.fittedOn)) continue
    const key = `${partId} ${vanId}`
    const number = numbers.get(key) ?? pieces.push(0) - 1
    numbers.set(key, number)
    pieces[number] = (pieces[number] ?? 0) + Math.max(0, onHand - promised)
  }
  const visits = input.visits.map(({ vanId, worth, needs }) => {
    const always = input.parts.flatMap((part) =>
      part.perVisitQuantity > 0 ? [{ partId: part.partId, quantity: part.perVisitQuantity, ownPartOnly: false }] : [],
    )
    const wants = [...needs, ...always].map(({ partId, quantity, ownPartOnly }) => {
      const others = ownPartOnly ? [] : (input.parts.find((part) => part.partId === partId)?.substitutes ?? [])
      const heaps = [partId, ...others].flatMap((part) =>
        [`${part} ${vanId}`, `${part} null`].flatMap((key) => numbers.get(key) ?? []),
      )
      return { heaps, quantity }
    })
    return { worth, wants }
  })
  return { pieces, visits }
}

/** The programme in the CPLEX LP format. */
export function visitsServedProgramme(question: ChoiceQuestion): string {
  const rows: string[] = []
  const drawn = question.pieces.map((): string[] => [])
  const pieces: string[] = []
  question.visits.forEach(({ wants }, visit) => {
    wants.forEach(({ heaps, quantity }, index) => {
      const ways = heaps.map((heap) => {
        const name = `y${visit}_${index}_${heap}`
        pieces.push(name)
        drawn[heap]?.push(name)
        return name
      })
      rows.push(`${[...ways, `- ${quantity} x${visit}`].join(' + ').replaceAll('+ -', '-')} = 0`)
    })
  })
  drawn.forEach((names, heap) => {
    if (names.length > 0) rows.push(`${names.join(' + ')} <= ${question.pieces[heap] ?? 0}`)
  })
  const worth = question.visits.map(({ worth: points }, visit) => ` + ${points} x${visit}`).join('\n')
  const named = (names: readonly string[]) => names.map((name) => ` ${name}`).join('\n')
  const general = pieces.length > 0 ? `General\n${named(pieces)}\n` : ''
  const binary = named(question.visits.map((_, visit) => `x${visit}`))
  return `Maximize\n obj:\n${worth}\nSubject To\n${rows.map((row, index) => ` r${index}: ${row}`).join('\n')}\nBinary\n${binary}\n${general}End\n`
}

/** Loads the solver; what it gives is the most worth that can be served. Throws when that is not proved. */
export async function mostWorthSolver(): Promise<(question: ChoiceQuestion) => number> {
  const solver = await loadSolver()
  return (question) => {
    if (question.visits.length === 0) return 0
    const found = solver.solve(visitsServedProgramme(question), { mip_rel_gap: 0, mip_abs_gap: 0.5 })
    if (found.Status !== 'Optimal') throw new Error(`The programme was not solved: ${found.Status}`)
    return Math.round(found.ObjectiveValue)
  }
}
