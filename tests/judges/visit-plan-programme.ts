import loadSolver from 'highs'
import type { VisitPlanQuestion } from '../../core/visits/visit-plan.ts'

/*
 * The plan of visits as an integer programme, written down on its own: it knows nothing of forced days or of what may wait. For every
 * stage one unit flows from now to the end of the horizon, each arc from a change to the next one that the grace allows; a visit day is
 * paid once for all the changes on it. Solved by HiGHS. Costs do not depend on the day here.
 */

/** A programme in the CPLEX LP format; all of its variables are whole numbers from 0 to 1. */
export interface Programme {
  readonly text: string
}

/** Arcs from now (-1) or from a change on a day to the change on a later day, or to the end of the horizon. */
export function programmeOf(question: VisitPlanQuestion): Programme {
  const { stages, firstDay, horizonDay } = question
  const cost: string[] = []
  const rows: string[] = []
  const names: string[] = []
  const changed = new Map<string, string[]>()
  const add = (cents: number, name: string) => {
    names.push(name)
    if (cents !== 0) cost.push(`${cents < 0 ? '-' : '+'} ${Math.abs(cents)} ${name}`)
  }
  for (let day = firstDay; day <= horizonDay; day += 1) {
    const differences = question.callDifferences.filter(({ from, until }) => from <= day && day <= until)
    add(
      Math.max(
        0,
        differences.reduce((sum, { cents }) => sum + cents, question.callCents),
      ),
      `z${day}`,
    )
  }
  stages.forEach((stage, index) => {
    const price = Number(stage.costCents)
    const dueAfter = (day: number) => (day < 0 ? stage.dueDay : (stage.next.dueAt[day] ?? 0))
    const into = new Map<number, string[]>()
    const outOf = new Map<number, string[]>()
    const arc = (from: number, to: number, cents: number) => {
      const name = `x${index}_${from < 0 ? 'n' : from}_${to > horizonDay ? 'e' : to}`
      add(cents, name)
      outOf.set(from, [...(outOf.get(from) ?? []), name])
      into.set(to, [...(into.get(to) ?? []), name])
    }
    for (let from = -1; from <= horizonDay; from += 1) {
      if (from >= 0 && from < firstDay) continue
      const due = dueAfter(from)
      const last = Math.max(due + stage.graceDays, from < 0 ? firstDay : 0)
      const isCarried = stages.some((other) => other.carries.includes(index))
      for (let to = Math.max(from + 1, firstDay); to <= Math.min(last, horizonDay); to += 1)
        if (isCarried || !stage.neverEarly || to >= due) arc(from, to, price)
      if (last > horizonDay) {
        const left = Math.max(0, Math.min(due - horizonDay, stage.next.lifeDays))
        arc(from, horizonDay + 1, question.creditsLifeLeft ? -Math.floor((price * left) / stage.next.lifeDays) : 0)
      }
    }
    rows.push(`${(outOf.get(-1) ?? []).join(' + ')} = 1`)
    for (let day = firstDay; day <= horizonDay; day += 1) {
      const arriving = into.get(day) ?? []
      const leaving = outOf.get(day) ?? []
      if (arriving.length + leaving.length > 0)
        rows.push([arriving.join(' + '), ...leaving.map((name) => `- ${name}`)].join(' ').trim().concat(' = 0'))
      if (arriving.length > 0) rows.push(`${arriving.join(' + ')} - z${day} <= 0`)
      changed.set(`${index} ${day}`, arriving)
    }
  })
  stages.forEach((stage, index) => {
    for (const carried of stage.carries)
      for (let day = firstDay; day <= horizonDay; day += 1) {
        const mine = changed.get(`${index} ${day}`) ?? []
        const its = changed.get(`${carried} ${day}`) ?? []
        if (mine.length > 0) rows.push(`${mine.join(' + ')} ${its.map((name) => `- ${name}`).join(' ')} <= 0`)
      }
  })
  return { text: inLpFormat(cost, rows, names) }
}

/**
 * The published form for parts that are new at step 0 and last a fixed number of steps, without grace and without credit: in every
 * window as long as its life each part is replaced at least once, and a step on which anything is replaced is paid once
 * (Almgren, Andreasson, Patriksson, Stromberg, Wojciechowski, Onnheim 2012).
 */
export function publishedProgramme(
  costs: readonly number[],
  lives: readonly number[],
  callCents: number,
  steps: number,
): Programme {
  const cost: string[] = []
  const rows: string[] = []
  const names: string[] = []
  for (let step = 1; step <= steps; step += 1) {
    names.push(`z${step}`)
    cost.push(`+ ${callCents} z${step}`)
  }
  lives.forEach((life, part) => {
    for (let step = 1; step <= steps; step += 1) {
      names.push(`x${part}_${step}`)
      cost.push(`+ ${costs[part] ?? 0} x${part}_${step}`)
      rows.push(`x${part}_${step} - z${step} <= 0`)
    }
    for (let first = 1; first + life - 1 <= steps; first += 1)
      rows.push(`${Array.from({ length: life }, (_, ahead) => `x${part}_${first + ahead}`).join(' + ')} >= 1`)
  })
  return { text: inLpFormat(cost, rows, names) }
}

function inLpFormat(cost: readonly string[], rows: readonly string[], names: readonly string[]): string {
  const inLines = (words: readonly string[]) => words.map((word) => ` ${word}`).join('\n')
  const constraints = rows.map((row, index) => ` r${index}: ${row}`).join('\n')
  return `Minimize\n obj: 0 ${names[0] ?? 'z'}\n${inLines(cost)}\nSubject To\n${constraints}\nBinary\n${inLines(names)}\nEnd\n`
}

/** Loads the solver; `solve` gives the least cost of a programme, whole cents. Throws when it is not proved. */
export async function programmeSolver(): Promise<(programme: Programme) => number> {
  const solver = await loadSolver()
  return ({ text }) => {
    const found = solver.solve(text, { mip_rel_gap: 0, mip_abs_gap: 0.5 })
    if (found.Status !== 'Optimal') throw new Error(`The programme was not solved: ${found.Status}`)
    return Math.round(found.ObjectiveValue)
  }
}
