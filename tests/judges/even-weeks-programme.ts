import loadSolver from 'highs'
import type { AlikeVisits } from '../../core/visits/look-ahead-shift.ts'

/*
 * The smallest share of its hours that the fullest week can have, as a linear programme (visits may be cut) or an integer one (they
 * may not), written down on its own and solved by HiGHS. It knows nothing of stretches: it spreads every group over its weeks.
 */

export interface YearToEven {
  readonly alike: readonly AlikeVisits[]
  readonly fixed: readonly number[]
  readonly hours: readonly number[]
}

function programmeOf({ alike, fixed, hours }: YearToEven, isWhole: boolean): string {
  const inWeek: string[][] = hours.map(() => [])
  const rows: string[] = []
  const names: string[] = []
  for (const [index, { earliest, latest, minutes, visits }] of alike.entries()) {
    const own: string[] = []
    for (let week = earliest; week <= latest; week += 1) {
      if (hours[week] === 0) continue
      const name = `y${index}_${week}`
      own.push(name)
      inWeek[week]?.push(`${minutes} ${name}`)
    }
    names.push(...own)
    rows.push(`${own.join(' + ')} = ${visits}`)
  }
  for (const [week, there] of hours.entries())
    if (there > 0) rows.push(`${[...(inWeek[week] ?? []), ''].join(' + ')} 0 p - ${there} p <= ${-(fixed[week] ?? 0)}`)
  const constraints = rows.map((row, at) => ` r${at}: ${row}`).join('\n')
  const general = isWhole && names.length > 0 ? `General\n${names.map((name) => ` ${name}`).join('\n')}\n` : ''
  return `Minimize\n obj: p\nSubject To\n${constraints}\nBounds\n p >= 0\n${general}End\n`
}

/** Gives the least share for a year; throws when that is not proved. */
export async function evenWeeksSolver(): Promise<(year: YearToEven, isWhole: boolean) => number> {
  const solver = await loadSolver()
  return (year, isWhole) => {
    const found = solver.solve(programmeOf(year, isWhole), { mip_rel_gap: 0, mip_abs_gap: 0 })
    if (found.Status !== 'Optimal') throw new Error(`The programme was not solved: ${found.Status}`)
    return found.ObjectiveValue
  }
}
