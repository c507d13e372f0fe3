import { useMutation, useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import { AGE_WORDS, AGES } from '../../core/invoices/ageing.ts'
import {
  INVOICE_PILES,
  type InvoiceList,
  type InvoicePile,
  type InvoiceRow,
} from '../../core/invoices/invoices-contract.ts'
import { counted } from '../../core/units/date-words.ts'
import { addCents, cents } from '../../core/units/money.ts'
import { Button } from '../design/Button.tsx'
import { InlineChoice, InlineChoices } from '../design/ChoiceField.tsx'
import { DataTable } from '../design/DataTable.tsx'
import { Decision } from '../design/Dialog.tsx'
import { useOffice } from '../design/office-manner.ts'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SearchField } from '../design/SearchField.tsx'
import { Sheet, Sheets } from '../design/Sheet.tsx'
import { printPaper } from '../design/save-file.ts'
import { useSay } from '../design/undo.ts'
import { MoneyText } from '../design/Words.tsx'
import { ask, problemOf } from '../shell/office-door.ts'
import { useAddressWord, useOpenRecord } from '../shell/open-record.ts'
import { AccountSheet } from './AccountSheet.tsx'
import { InvoiceSheet } from './InvoiceSheet.tsx'
import { INVOICE_COLUMNS, invoiceName, isLate } from './invoice-columns.tsx'
import './invoices.css'

const PILE_WORDS: Readonly<Record<InvoicePile, string>> = {
  drafts: 'drafts',
  unpaid: 'issued and unpaid',
  paid: 'paid',
  all: 'everything issued',
}
const EMPTY: Readonly<Record<InvoicePile, { why: string; todo: string }>> = {
  drafts: { why: 'No draft waits to be looked at.', todo: 'Record a visit, and its invoice is laid here.' },
  unpaid: {
    why: 'Nobody owes anything.',
    todo: 'Invoices appear here from the day they are issued until they are paid.',
  },
  paid: { why: 'No invoice has been paid yet.', todo: 'Open an unpaid invoice and record what came in.' },
  all: { why: 'No invoice has been issued yet.', todo: 'Look at the drafts and issue them.' },
}

/** Drafts to look at, what is unpaid and how old it is, what is paid; the chosen one as lines beside the list. */
export function InvoicesScreen() {
  const { today } = useOffice()
  const [word, setPile] = useAddressWord('pile')
  const pile = INVOICE_PILES.find((each) => each === word) ?? 'drafts'
  const [search, setSearch] = useState('')
  const [chosen, setChosen] = useState<ReadonlySet<string>>(new Set())
  const [openKey, setOpen] = useOpenRecord()
  const list = useQuery(ask.invoices.list.queryOptions({ input: { pile, search, before: null } }))
  const rows = list.data?.rows ?? null
  const account = openKey?.startsWith('account-') ? Number(openKey.slice(8)) : null
  const second =
    openKey === null ? null : account === null ? (
      <InvoiceSheet key={openKey} invoiceId={Number(openKey)} onClose={() => setOpen(null)} onOpen={setOpen} />
    ) : (
      <AccountSheet key={openKey} customerId={account} onClose={() => setOpen(null)} onOpen={setOpen} />
    )
  const wanted = (rows ?? []).filter(
    (row) => row.state === 'draft' && (chosen.size === 0 || chosen.has(String(row.invoiceId))),
  )
  return (
    <Sheets second={second}>
      <Sheet
        title={titleOf(pile, list.data)}
        aside={list.data && <AsideWords pile={pile} list={list.data} />}
        choices={
          <InlineChoices>
            <InlineChoice
              words="show"
              label="Which invoices"
              choices={INVOICE_PILES.map((id) => ({ id, words: PILE_WORDS[id] }))}
              value={pile}
              onChange={(next) => {
                setChosen(new Set())
                setPile(next)
              }}
            />
            <SearchField label="Find an invoice" value={search} onChange={setSearch} placeholder="Number, name, town" />
          </InlineChoices>
        }
        actions={pile === 'drafts' ? <IssueDrafts drafts={wanted} onIssued={() => setChosen(new Set())} /> : undefined}
      >
        {pile === 'unpaid' && list.data && <Ages list={list.data} />}
        <DataTable
          key={pile}
          name={`invoices-${pile}`}
          label={`Invoices: ${PILE_WORDS[pile]}`}
          columns={INVOICE_COLUMNS[pile]}
          rows={rows}
          rowKey={(row) => String(row.invoiceId)}
          rowName={invoiceName}
          density="two-line"
          total={rows?.length}
          problem={list.error ? { code: 'DATABASE_BUSY', ...problemOf(list.error) } : null}
          onTryAgain={() => void list.refetch()}
          empty={
            search === ''
              ? EMPTY[pile]
              : { why: `Nothing here is called “${search}”.`, todo: 'Look in another pile, or type less.' }
          }
          chosen={chosen}
          onChoose={pile === 'drafts' ? setChosen : undefined}
          onOpen={(row) => setOpen(String(row.invoiceId))}
          openKey={openKey}
          marked={(row) => isLate(row, today)}
          keys={[{ key: 'a', does: 'opens the account', run: ([row]) => row && setOpen(`account-${row.customerId}`) }]}
        />
        {list.data?.more && (
          <p className="second small">
            The newest {list.data.rows.length} are shown; find older ones by number or name.
          </p>
        )}
      </Sheet>
    </Sheets>
  )
}

function titleOf(pile: InvoicePile, list: InvoiceList | undefined): string {
  if (!list) return 'Invoices'
  if (pile === 'drafts')
    return list.counts.drafts === 0 ? 'No drafts' : `${counted(list.counts.drafts, 'draft')} to look at`
  if (pile === 'unpaid')
    return list.counts.unpaid === 0 ? 'Everything is paid' : `${counted(list.counts.unpaid, 'invoice')} not paid yet`
  return pile === 'paid' ? 'Paid invoices' : 'Everything issued'
}

function AsideWords({ pile, list }: { readonly pile: InvoicePile; readonly list: InvoiceList }) {
  const owed = addCents(...AGES.map((age) => list.ages[age]))
  if (pile === 'unpaid')
    return (
      <>
        <MoneyText cents={owed} /> owed
      </>
    )
  return list.counts.unpaid === 0 ? null : <>{counted(list.counts.unpaid, 'invoice')} unpaid</>
}

/** What is owed, by how long it has been owed. */
function Ages({ list }: { readonly list: InvoiceList }) {
  return (
    <dl className="ages">
      {AGES.map((age) => (
        <div key={age}>
          <dt className="second small">{AGE_WORDS[age]}</dt>
          <dd className={age !== 'current' && list.ages[age] > 0 ? 'bold' : undefined}>
            <MoneyText cents={list.ages[age]} bare />
          </dd>
        </div>
      ))}
    </dl>
  )
}

function IssueDrafts({ drafts, onIssued }: { readonly drafts: readonly InvoiceRow[]; readonly onIssued: () => void }) {
  const say = useSay()
  const [asks, setAsks] = useState(false)
  const [numbers, setNumbers] = useState<readonly string[]>([])
  const issue = useMutation(ask.invoices.issue.mutationOptions())
  const words = counted(drafts.length, 'invoice')
  const together = addCents(...drafts.filter((row) => row.kind === 'invoice').map((row) => row.total), cents(0))
  const doIt = (): void =>
    issue.mutate(
      { invoiceIds: drafts.map((row) => row.invoiceId) },
      {
        onSuccess: ({ issued }) => {
          const given = issued.map((each) => each.number)
          setNumbers(given)
          setAsks(false)
          onIssued()
          say({
            said:
              given.length === 1 ? `Issued ${given[0]}.` : `Issued ${given.length}, ${given[0]} to ${given.at(-1)}.`,
          })
        },
      },
    )
  return (
    <>
      {numbers.length > 0 && <PrintToday count={numbers.length} />}
      {drafts.length > 0 && (
        <Button kind="primary" onPress={() => setAsks(true)}>
          Issue {words}
        </Button>
      )}
      <Decision
        isOpen={asks}
        title={`Issue ${words}?`}
        doIt={`Issue ${words}`}
        onDoIt={doIt}
        leaveIt="Look at them again"
        onLeaveIt={() => {
          issue.reset()
          setAsks(false)
        }}
        isBusy={issue.isPending}
      >
        <p>
          Each takes the next number of the year and can no longer be changed; a mistake is put right by a credit note.
          Together <MoneyText cents={together} />.
        </p>
        {issue.error && (
          <ProblemNote
            problem={problemOf(issue.error)}
            id={problemOf(issue.error).id}
            kept="None of them was issued."
          />
        )}
      </Decision>
    </>
  )
}

function PrintToday({ count }: { readonly count: number }) {
  const { today } = useOffice()
  return (
    <Button onPress={() => printPaper(`/papers/invoices-of/${today}.pdf`)}>
      Print today’s {counted(count, 'invoice')}
    </Button>
  )
}
