import { setImmediate as breath } from 'node:timers/promises'
import type { Desk } from '../answering.ts'
import { looksIntoEach } from '../customers/search-store.ts'
import { searchWordsOf } from '../customers/search-words.ts'
import type { DueFilter } from './due-contract.ts'
import { countDueSites, type DuePage, endOfStretch, hasManyDueSites, listDueSites } from './due-list-store.ts'

/** Due households from which on nobody else would be answered for too long while all of them are looked through. */
const MANY_DUE = 3_000
/** Households looked through before others have their turn: to look at stages takes ten times as long as to look at names or letters. */
const [STAGES_AT_ONCE, AT_ONCE] = [2_000, 10_000]

type Asked = Pick<Desk, 'read' | 'officeId' | 'dialect'>
type DueSites = Awaited<ReturnType<typeof listDueSites>>

/** How many count as many, and how many are looked through at a time. */
interface Measure {
  readonly many: number
  readonly atOnce: number
}
const usual = ({ stages }: DueFilter): Measure => ({
  many: MANY_DUE,
  atOnce: stages.length > 0 ? STAGES_AT_ONCE : AT_ONCE,
})

/** What is planned for a week, or named by words that few have, is found along a list of its own; all else is found among what is due. */
async function isAmongDue({ read, dialect }: Asked, { search, planned }: DueFilter): Promise<boolean> {
  if (planned !== undefined) return false
  const words = searchWordsOf(search)
  return words.length === 0 || looksIntoEach(read, dialect, words)
}

async function isAmongMany(asked: Asked, { filter, span }: Pick<DuePage, 'filter' | 'span'>, many: number) {
  return (await isAmongDue(asked, filter)) && hasManyDueSites(asked.read, asked.officeId, span, many)
}

/** Each household has to be looked into. */
const looksInto = ({ stages, letters, search }: DueFilter): boolean =>
  stages.length > 0 || letters !== 'any' || search.trim() !== ''

/**
 * A page of what is due. Where that is much, and the order of the list is not that of the dates or each household has to be looked into, the
 * list is walked along its own order, a stretch at a time, so that others are answered in between; it comes to the same page.
 */
export async function dueSites(asked: Asked, page: DuePage, measure?: Measure): Promise<DueSites> {
  const { many, atOnce } = measure ?? usual(page.filter)
  const { read, dialect, officeId } = asked
  const isPlain = page.sort === 'dueOn' && !looksInto(page.filter)
  if (isPlain || !(await isAmongMany(asked, page, many))) return listDueSites(read, dialect, officeId, page)
  const rows: DueSites = []
  for (let { after } = page; ; await breath()) {
    const upTo = await endOfStretch(read, officeId, { ...page, after }, atOnce)
    const limit = page.limit - rows.length
    rows.push(...(await listDueSites(read, dialect, officeId, { ...page, after, limit, stretch: { upTo } })))
    if (upTo === null || rows.length >= page.limit) return rows
    after = upTo
  }
}

/** How many are due, and how many of them late; in stretches likewise. */
export async function dueCount(
  asked: Asked,
  page: Pick<DuePage, 'filter' | 'span'>,
  measure?: Measure,
): Promise<{ total: number; late: number }> {
  const { read, dialect, officeId } = asked
  const { many, atOnce } = measure ?? usual(page.filter)
  if (!looksInto(page.filter) || !(await isAmongMany(asked, page, many)))
    return countDueSites(read, dialect, officeId, { ...page, after: null })
  const sum = { total: 0, late: 0 }
  for (let after: DuePage['after'] = null; ; await breath()) {
    const upTo = await endOfStretch(
      read,
      officeId,
      { sort: 'dueOn', descending: false, after, span: page.span },
      atOnce,
    )
    const part = await countDueSites(read, dialect, officeId, { ...page, after, stretch: { upTo } })
    sum.total += part.total
    sum.late += part.late
    if (upTo === null) return sum
    after = upTo
  }
}
