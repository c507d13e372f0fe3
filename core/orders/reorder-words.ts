import { counted, shortDate, spanInWords } from '../units/date-words.ts'
import { cents, formatCents } from '../units/money.ts'
import { priceOf } from './choose-quantity.ts'
import type { DraftProposal } from './draft-proposal.ts'
import { packsInWords } from './order-quantity.ts'
import type { Wanted } from './proposal-shapes.ts'
import { type MoneyManner, total } from './reorder-lines.ts'

/** What to do about a part, and why, in one or two sentences. */
export function sentenceOf(draft: DraftProposal, order: number, { locale }: MoneyManner): string {
  const { part, term, level, missing, covers, chosen } = draft
  const until = shortDate(covers, locale)
  const there = thereOf(draft)
  if (order === 0 && missing <= 0)
    return `Enough of ${part.name} until ${until}: ${level} needed, ${there} there or on their way.`
  if (order === 0)
    return `${counted(missing, 'piece is', 'pieces are')} missing by ${until}, but the least that is sold would expire unused. Ask for fewer, or order by hand.`
  const packs = term && term.packSize > 1 ? ` in ${packsInWords(order, term.packSize)}` : ''
  const nobody = term ? '' : ' No supplier is set for it yet.'
  if (missing <= 0) return `Order ${order}${packs} along: enough until ${until}, needed next.${nobody}`
  const promised = promisedOf(draft)
  const why = `until ${until} as many as ${level + promised} may be wanted, and ${there} are there or on their way`
  const less = chosen.quantity < missing ? ' More would expire unused.' : ''
  return `Order ${order}${packs}: ${why}.${less}${nobody}`
}

/** The same for a line of an order. */
export function whyOf({ missing, covers }: DraftProposal, order: number, { locale }: MoneyManner): string {
  const until = shortDate(covers, locale)
  if (order === 0) return ''
  return missing > 0 ? `${missing} missing by ${until}` : `needed after ${until}, to reach the least order`
}

const promisedOf = ({ there }: DraftProposal): number => total(there.filter((line) => line.kind === 'promised'))

/** What is there and on its way, without what is promised of it. */
function thereOf({ there }: DraftProposal): number {
  return Math.max(0, -total(there.filter((line) => line.kind !== 'promised')))
}

/** What would make it another quantity, a sentence each. */
export function changesOf(draft: DraftProposal, order: number, manner: MoneyManner): string[] {
  const { awaited, stock, wanted, part } = draft
  const changes: string[] = []
  if (wanted && wanted.possible > 0) changes.push(...levelWords(wanted))
  if (wanted && wanted.possible > 0)
    changes.push('A household that books before then counts in full, one that says no counts for nothing.')
  if (awaited.late > 0)
    changes.push(
      `${counted(awaited.late, 'piece is', 'pieces are')} ${spanInWords(awaited.daysLate)} late: without ${awaited.late === 1 ? 'it, one more is' : 'them, so many more are'} missing.`,
    )
  if (stock.expiring > 0) changes.push(`${counted(stock.expiring, 'piece')} on the shelf will expire unused.`)
  if (!wanted && part.usedADay.mean > 0)
    changes.push('It has no due dates: when it is used faster or slower than of late, so is this.')
  return [...changes, ...nextPriceWords(draft, order, manner)]
}

/** The level at a higher and a lower service level, by the very distribution. */
function levelWords(wanted: Wanted): string[] {
  const levelAt = (share: number): number => {
    let sum = 0
    for (const [at, chance] of wanted.chances.entries()) {
      sum += chance
      if (sum >= share) return wanted.from + at
    }
    return wanted.from + wanted.chances.length - 1
  }
  return [80, 99]
    .filter((percent) => Math.abs(percent - wanted.servicePercent) > 1)
    .flatMap((percent) => {
      const difference = levelAt(percent / 100) - wanted.level
      if (difference === 0 || percent < wanted.servicePercent !== difference < 0) return []
      const words = counted(Math.abs(difference), 'piece')
      return [
        difference > 0
          ? `To have enough in ${percent} of 100 cases it takes ${words} more.`
          : `Enough in ${percent} of 100 cases would take ${words} fewer.`,
      ]
    })
}

/** The next price, and what it would cost more or less. */
function nextPriceWords({ term }: DraftProposal, order: number, { locale, currency }: MoneyManner): string[] {
  const next = term?.breaks.filter((step) => step.from > order).toSorted((a, b) => a.from - b.from)[0]
  if (!term || !next || order === 0) return []
  const difference = next.from * next.price - order * priceOf(term, order)
  const money = formatCents(cents(Math.abs(difference)), currency, locale)
  const each = formatCents(next.price, currency, locale)
  return [`From ${next.from} on a piece costs ${each}: ${money} ${difference < 0 ? 'less' : 'more'} in all.`]
}
