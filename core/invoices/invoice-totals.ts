import { addCents, type Cents, cents, divideHalfAwayFromZero, NO_MONEY, type TaxRate } from '../units/money.ts'
import { type DocumentAmount, lineNet, type ReckonedLine, type TaxCategory } from './invoice-lines.ts'

/** One row of the tax table (BG-23): what is taxed at this rate, and the tax on it. */
export interface TaxAtRate {
  readonly category: TaxCategory
  readonly rate: TaxRate
  readonly taxable: Cents
  readonly tax: Cents
}

/** The foot of an invoice. Names in brackets are the terms of EN 16931. */
export interface InvoiceTotals {
  /** What each line comes to, in the order of the lines (BT-131). */
  readonly lineNets: readonly Cents[]
  readonly linesTogether: Cents // BT-106
  readonly allowances: Cents // BT-107
  readonly charges: Cents // BT-108
  readonly withoutTax: Cents // BT-109
  readonly taxByRate: readonly TaxAtRate[] // BG-23
  readonly tax: Cents // BT-110
  readonly withTax: Cents // BT-112
  readonly prepaid: Cents // BT-113
  readonly rounding: Cents // BT-114
  readonly due: Cents // BT-115
}

export interface InvoiceToReckon {
  readonly lines: readonly ReckonedLine[]
  readonly documentAmounts: readonly DocumentAmount[]
  /** Paid before the invoice was written. */
  readonly prepaid?: Cents
  /** Put on the amount due, for instance to end a row of part credits on the cent. */
  readonly rounding?: Cents
  /** Digits after the decimal sign of the currency (`minorDigits`). */
  readonly minorDigits: number
}

/**
 * Reckons an invoice as EN 16931 does (BR-CO-10 to 17, BR-S-08): tax once per category and rate on the sum of its lines,
 * every amount in whole cents, rounded half away from zero. Rates come out highest first.
 */
export function invoiceTotals(invoice: InvoiceToReckon): InvoiceTotals {
  const lineNets = invoice.lines.map((line) => lineNet(line, invoice.minorDigits))
  const linesTogether = addCents(...lineNets)
  const allowances = sumOfKind(invoice.documentAmounts, 'allowance')
  const charges = sumOfKind(invoice.documentAmounts, 'charge')
  const withoutTax = cents(linesTogether - allowances + charges)
  const taxByRate = taxTable(invoice, lineNets)
  const tax = addCents(...taxByRate.map((row) => row.tax))
  const withTax = addCents(withoutTax, tax)
  const prepaid = invoice.prepaid ?? NO_MONEY
  const rounding = invoice.rounding ?? NO_MONEY
  const due = cents(withTax - prepaid + rounding)
  return { lineNets, linesTogether, allowances, charges, withoutTax, taxByRate, tax, withTax, prepaid, rounding, due }
}

/** Tax on an amount at a rate (BR-CO-17): exact, then rounded half away from zero to the cent. */
export function taxOn(taxable: Cents, rate: TaxRate): Cents {
  return cents(divideHalfAwayFromZero(BigInt(taxable) * BigInt(rate), 100_000n))
}

function sumOfKind(amounts: readonly DocumentAmount[], kind: DocumentAmount['kind']): Cents {
  return addCents(...amounts.filter((each) => each.kind === kind).map((each) => each.amount))
}

function taxTable(invoice: InvoiceToReckon, lineNets: readonly Cents[]): TaxAtRate[] {
  const rows = new Map<string, { category: TaxCategory; rate: TaxRate; taxable: number }>()
  const add = (category: TaxCategory, rate: TaxRate, amount: number): void => {
    const key = `${category} ${rate}`
    const row = rows.get(key)
    if (row) row.taxable += amount
    else rows.set(key, { category, rate, taxable: amount })
  }
  invoice.lines.forEach((line, index) => {
    add(line.category, line.rate, lineNets[index] ?? 0)
  })
  for (const each of invoice.documentAmounts) {
    add(each.category, each.rate, each.kind === 'allowance' ? -each.amount : each.amount)
  }
  return [...rows.values()]
    .map(({ category, rate, taxable }) => ({
      category,
      rate,
      taxable: cents(taxable),
      tax: taxOn(cents(taxable), rate),
    }))
    .sort((a, b) => b.rate - a.rate || (a.category < b.category ? -1 : 1))
}
