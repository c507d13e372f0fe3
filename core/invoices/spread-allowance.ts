import { type Cents, NO_MONEY, splitCents } from '../units/money.ts'
import { type DocumentAmount, lineNet, type ReckonedLine } from './invoice-lines.ts'

/** An allowance on a whole document, laid on the tax rates of its lines by what each comes to; no cent is lost. */
export function spreadAllowance(
  amount: Cents,
  reason: string,
  lines: readonly ReckonedLine[],
  minorDigits: number,
): DocumentAmount[] {
  const rates = new Map<string, { category: DocumentAmount['category']; rate: DocumentAmount['rate']; net: number }>()
  for (const line of lines) {
    const key = `${line.category} ${line.rate}`
    const row = rates.get(key) ?? { category: line.category, rate: line.rate, net: 0 }
    row.net += lineNet(line, minorDigits)
    rates.set(key, row)
  }
  const rows = [...rates.values()].filter((row) => row.net > 0)
  if (amount <= 0 || rows.length === 0) return []
  const parts = splitCents(
    amount,
    rows.map((row) => row.net),
  )
  return rows
    .map(({ category, rate }, index) => ({
      kind: 'allowance' as const,
      reason,
      amount: parts[index] ?? NO_MONEY,
      category,
      rate,
    }))
    .filter((each) => each.amount > 0)
}
