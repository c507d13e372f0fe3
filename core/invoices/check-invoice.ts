import type { InvoiceToReckon, InvoiceTotals, TaxAtRate } from './invoice-totals.ts'

/**
 * Judges the foot of an invoice by rules BR-CO-10 to 17 and BR-S-08 of EN 16931, without the reckoner's code: sums are taken
 * again in BigInt, and every rounded amount is held against the two bounds it must lie between.
 * Returns the complaints, one sentence each, empty when all is right.
 */
export function checkInvoice(invoice: InvoiceToReckon, totals: InvoiceTotals): string[] {
  return [
    ...checkLines(invoice, totals),
    ...checkSums(invoice, totals),
    ...totals.taxByRate.flatMap((row) => checkTaxRow(invoice, totals, row)),
    ...checkRatesComplete(invoice, totals),
  ]
}

/** Whether `rounded` is `exact / scale` rounded to the nearest whole, a half going away from zero. */
function isNearest(rounded: number, exact: bigint, scale: bigint): boolean {
  const off = exact - BigInt(rounded) * scale
  if (2n * (off < 0n ? -off : off) < scale) return true
  const isHalf = 2n * (off < 0n ? -off : off) === scale
  return isHalf && (exact < 0n ? off > 0n : off < 0n)
}

function checkLines(invoice: InvoiceToReckon, totals: InvoiceTotals): string[] {
  if (totals.lineNets.length !== invoice.lines.length) return ['Every line needs what it comes to.']
  return invoice.lines.flatMap((line, index) => {
    const net = totals.lineNets[index] ?? Number.NaN
    const before = net + line.allowance - line.charge
    const exact = BigInt(line.quantity) * BigInt(line.unitPrice) * BigInt(10 ** invoice.minorDigits)
    return isNearest(before, exact, 10_000_000n)
      ? []
      : [`Line ${index + 1} comes to ${net}, which is not quantity x price.`]
  })
}

function checkSums(invoice: InvoiceToReckon, totals: InvoiceTotals): string[] {
  const total = (amounts: readonly number[]): bigint => amounts.reduce((sum, amount) => sum + BigInt(amount), 0n)
  const ofKind = (kind: string): bigint =>
    total(invoice.documentAmounts.filter((each) => each.kind === kind).map((each) => each.amount))
  const rules: readonly (readonly [rule: string, found: number, expected: bigint])[] = [
    ['BR-CO-10 lines together', totals.linesTogether, total(totals.lineNets)],
    ['BR-CO-11 allowances', totals.allowances, ofKind('allowance')],
    ['BR-CO-12 charges', totals.charges, ofKind('charge')],
    ['BR-CO-13 without tax', totals.withoutTax, BigInt(totals.linesTogether) - ofKind('allowance') + ofKind('charge')],
    ['BR-CO-14 tax', totals.tax, total(totals.taxByRate.map((row) => row.tax))],
    ['BR-CO-15 with tax', totals.withTax, BigInt(totals.withoutTax) + BigInt(totals.tax)],
    ['BR-CO-16 due', totals.due, BigInt(totals.withTax) - BigInt(totals.prepaid) + BigInt(totals.rounding)],
    ['prepaid', totals.prepaid, BigInt(invoice.prepaid ?? 0)],
    ['rounding', totals.rounding, BigInt(invoice.rounding ?? 0)],
  ]
  return rules
    .filter(([, found, expected]) => BigInt(found) !== expected)
    .map(([rule, found, expected]) => `${rule} is ${found}, should be ${expected}.`)
}

function checkTaxRow(invoice: InvoiceToReckon, totals: InvoiceTotals, row: TaxAtRate): string[] {
  const belongs = (taxed: { category: string; rate: number }): boolean =>
    taxed.category === row.category && taxed.rate === row.rate
  let taxable = 0n
  invoice.lines.forEach((line, index) => {
    if (belongs(line)) taxable += BigInt(totals.lineNets[index] ?? 0)
  })
  for (const each of invoice.documentAmounts.filter(belongs)) {
    taxable += each.kind === 'charge' ? BigInt(each.amount) : -BigInt(each.amount)
  }
  const name = `${row.category} ${row.rate / 1000} %`
  const complaints: string[] = []
  if (BigInt(row.taxable) !== taxable)
    complaints.push(`BR-S-08 taxable at ${name} is ${row.taxable}, should be ${taxable}.`)
  if (!isNearest(row.tax, taxable * BigInt(row.rate), 100_000n))
    complaints.push(`BR-CO-17 tax at ${name} is ${row.tax}.`)
  return complaints
}

function checkRatesComplete(invoice: InvoiceToReckon, totals: InvoiceTotals): string[] {
  const listed = totals.taxByRate.map((row) => `${row.category} ${row.rate}`)
  const used = new Set([...invoice.lines, ...invoice.documentAmounts].map((each) => `${each.category} ${each.rate}`))
  const missing = [...used].filter((key) => !listed.includes(key)).map((key) => `No tax row for ${key}.`)
  return new Set(listed).size === listed.length ? missing : [...missing, 'A rate stands twice in the tax table.']
}
