import type { InvoiceSheet } from '../../core/invoices/invoices-contract.ts'
import { type Cents, formatTaxRate, negateCents } from '../../core/units/money.ts'
import { useOffice } from '../design/office-manner.ts'
import { MoneyText } from '../design/Words.tsx'

/** The foot of an invoice: together, tax by rate, what is due. */
export function InvoiceFoot({ invoice }: { readonly invoice: Pick<InvoiceSheet, 'totals' | 'kind'> }) {
  const { locale } = useOffice()
  const { totals } = invoice
  return (
    <dl className="invoice-foot">
      {totals.allowances > 0 && <FootLine words="Less" amount={negateCents(totals.allowances)} />}
      {totals.charges > 0 && <FootLine words="Plus" amount={totals.charges} />}
      <FootLine words="Together without tax" amount={totals.withoutTax} />
      {totals.taxByRate.map((row) => (
        <FootLine
          key={`${row.category} ${row.rate}`}
          words={
            row.category === 'standard'
              ? `Tax ${formatTaxRate(row.rate, locale)}`
              : row.category === 'exempt'
                ? 'Exempt from tax'
                : 'No tax'
          }
          amount={row.tax}
        />
      ))}
      {totals.prepaid !== 0 && <FootLine words="Paid already" amount={negateCents(totals.prepaid)} />}
      {totals.rounding !== 0 && <FootLine words="Rounding" amount={totals.rounding} />}
      <FootLine words={invoice.kind === 'credit-note' ? 'Given back' : 'To pay'} amount={totals.due} strong />
    </dl>
  )
}

function FootLine({
  words,
  amount,
  strong = false,
}: {
  readonly words: string
  readonly amount: Cents
  readonly strong?: boolean
}) {
  return (
    <div className={strong ? 'bold' : undefined}>
      <dt>{words}</dt>
      <dd>
        <MoneyText cents={amount} bare={!strong} />
      </dd>
    </div>
  )
}
