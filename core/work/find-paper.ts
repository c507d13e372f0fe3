import type { Desk, ReadyPaper } from '../answering.ts'
import { PAPERS } from '../papers.ts'
import { type Result, refused } from '../result.ts'

/** Makes ready the paper at an address such as `/papers/letters/12.pdf`; PAPER_UNKNOWN when nothing lives there. */
export async function findPaper(desk: Desk, path: string, query: URLSearchParams): Promise<Result<ReadyPaper>> {
  for (const paper of PAPERS) {
    const names = matchAddress(paper.address, path)
    if (names) return paper.make(desk, names, query)
  }
  return refused('PAPER_UNKNOWN')
}

/** `/papers/letters/:run` against `/papers/letters/12.pdf` gives { run: '12' }; null when they differ. */
export function matchAddress(address: string, path: string): Record<string, string> | null {
  const wanted = address.split('/')
  const given = path.replace(/\.(pdf|csv)$/, '').split('/')
  if (wanted.length !== given.length) return null
  const names: Record<string, string> = {}
  for (const [index, segment] of wanted.entries()) {
    const actual = given[index] ?? ''
    if (segment.startsWith(':')) names[segment.slice(1)] = decodeURIComponent(actual)
    else if (segment !== actual) return null
  }
  return names
}
