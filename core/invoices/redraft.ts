import type { DraftLine } from './draft-invoice.ts'

/** Lines that a visit asks for: its parts, its call and its labour. Every other line was written by hand. */
export function comesFromVisit(line: Pick<DraftLine, 'visitTaskId' | 'unit'>): boolean {
  return line.visitTaskId !== null || line.unit === 'call' || line.unit === 'work'
}

/** The draft after its visit was corrected: what the visit asks for is taken afresh, lines written by hand stay, behind them. */
export function redraft(present: readonly DraftLine[], fresh: readonly DraftLine[]): DraftLine[] {
  return [...fresh, ...present.filter((line) => !comesFromVisit(line))]
}

/** Whether two bills ask for the same: same words, amounts and tax, in any order. Where the lines came from does not count. */
export function asksForTheSame(one: readonly DraftLine[], other: readonly DraftLine[]): boolean {
  const key = ({ description, quantity, unitPrice, allowance, charge, category, rate }: DraftLine): string =>
    [description, quantity, unitPrice, allowance, charge, category, rate].join('|')
  const sorted = (lines: readonly DraftLine[]): string => lines.map(key).sort().join('\n')
  return sorted(one) === sorted(other)
}
