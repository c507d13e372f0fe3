import { useQuery } from '@tanstack/react-query'
import { AGE_WORDS, AGES } from '../../core/invoices/ageing.ts'
import { type CustomerId, customerIdSchema } from '../../core/units/ids.ts'
import { cents } from '../../core/units/money.ts'
import { Button } from '../design/Button.tsx'
import { EmptyPlace } from '../design/EmptyPlace.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SecondSheet, SheetPart } from '../design/Sheet.tsx'
import { printPaper, savePaper } from '../design/save-file.ts'
import { DateText, DistanceText, MoneyText } from '../design/Words.tsx'
import { ask, problemOf } from '../shell/office-door.ts'
import { PaymentList } from './PaymentList.tsx'

interface AccountSheetProps {
  readonly customerId: number
  readonly onClose: () => void
  readonly onOpen: (key: string | null) => void
}

/** A customer's account: what is owed and how old it is, every entry of the last year with its balance, the statement. */
export function AccountSheet({ customerId, onClose, onOpen }: AccountSheetProps) {
  const key = customerIdSchema.safeParse(customerId)
  const found = useQuery(
    ask.invoices.account.queryOptions({
      input: { customerId: key.data ?? (1 as CustomerId), from: null },
      enabled: key.success,
    }),
  )
  const account = found.data
  const failure = found.error ? problemOf(found.error) : null
  return (
    <SecondSheet
      title={account ? account.customer : 'Account'}
      below={account?.reference}
      onClose={onClose}
      backTo="the invoices"
    >
      {failure && <ProblemNote problem={failure} id={failure.id} onTryAgain={() => void found.refetch()} />}
      {!key.success && <EmptyPlace why="There is no such account." todo="Choose an invoice and open its account." />}
      {account && (
        <>
          <p>
            {account.balance > 0 ? (
              <>
                Owes{' '}
                <b>
                  <MoneyText cents={account.balance} />
                </b>
                .
              </>
            ) : account.balance < 0 ? (
              <>
                Has{' '}
                <b>
                  <MoneyText cents={cents(-account.balance)} />
                </b>{' '}
                to their credit.
              </>
            ) : (
              'Owes nothing.'
            )}
          </p>
          <dl className="ages">
            {AGES.map((age) => (
              <div key={age}>
                <dt className="second small">{AGE_WORDS[age]}</dt>
                <dd>
                  <MoneyText cents={account.ages[age]} bare />
                </dd>
              </div>
            ))}
          </dl>
          <div className="form-foot">
            <Button kind="primary" onPress={() => printPaper(`/papers/statements/${customerId}.pdf`)}>
              Print the statement
            </Button>
            <Button
              onPress={() =>
                savePaper(`/papers/statements/${customerId}.pdf?save=1`, `statement-${account.reference}.pdf`)
              }
            >
              Save as PDF
            </Button>
          </div>
          {account.open.length > 0 && (
            <SheetPart title="Open">
              <ul className="payments">
                {account.open.map((invoice) => (
                  <li key={invoice.invoiceId}>
                    <Button kind="quiet" onPress={() => onOpen(String(invoice.invoiceId))}>
                      {invoice.number}
                    </Button>
                    <span>
                      to pay by <DateText date={invoice.dueOn} /> <DistanceText date={invoice.dueOn} />
                    </span>
                    <span className="figures">
                      <MoneyText cents={invoice.open} />
                    </span>
                    <span />
                  </li>
                ))}
              </ul>
            </SheetPart>
          )}
          <SheetPart title="Entries of the last year" aside={account.currency}>
            <table className="entries">
              <thead>
                <tr>
                  <th>Date</th>
                  <th>Entry</th>
                  <th className="figures">Amount</th>
                  <th className="figures">Balance</th>
                </tr>
              </thead>
              <tbody>
                <tr>
                  <td>
                    <DateText date={account.from} />
                  </td>
                  <td>Brought forward</td>
                  <td />
                  <td className="figures">
                    <MoneyText cents={account.broughtForward} bare />
                  </td>
                </tr>
                {account.lines.map((line, index) => (
                  <tr key={`${line.words} ${line.on} ${String(index)}`}>
                    <td>
                      <DateText date={line.on} />
                    </td>
                    <td>{line.words}</td>
                    <td className="figures">
                      <MoneyText
                        cents={
                          line.kind === 'invoice' || line.kind === 'payment-undone' ? line.amount : cents(-line.amount)
                        }
                        bare
                      />
                    </td>
                    <td className="figures">
                      <MoneyText cents={line.balance} bare />
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </SheetPart>
          <PaymentList payments={account.payments} />
        </>
      )}
    </SecondSheet>
  )
}
