import { useInfiniteQuery, useQuery } from '@tanstack/react-query'
import { useDeferredValue, useState } from 'react'
import { AGE_WORDS, AGES } from '../../core/invoices/ageing.ts'
import {
  INVOICE_PILES,
  type InvoicePage,
  type InvoicePile,
  type InvoiceRow,
  type InvoiceSums,
} from '../../core/invoices/invoices-contract.ts'
import { counted } from '../../core/units/date-words.ts'
import { addCents, cents } from '../../core/units/money.ts'
import { InlineChoice, InlineChoices } from '../design/ChoiceField.tsx'
import { DataTable } from '../design/DataTable.tsx'
import { useOffice } from '../design/office-manner.ts'
import { SearchField } from '../design/SearchField.tsx'
import { Sheet, Sheets } from '../design/Sheet.tsx'
import type { TableSort } from '../design/table-columns.ts'
import { useDraft } from '../design/use-draft.ts'
import { MoneyText } from '../design/Words.tsx'
import { everyPage, moreOfPages, rowsOfPages } from '../shell/every-page.ts'
import { ask, office, problemOf } from '../shell/office-door.ts'
import { useAddressWord, useOpenRecord } from '../shell/open-record.ts'
import { AccountSheet } from './AccountSheet.tsx'
import { InvoiceSheet } from './InvoiceSheet.tsx'
import { IssueDrafts, type PileToIssue } from './IssueDrafts.tsx'
import { INVOICE_COLUMNS, invoiceName, isLate, SORT_OF_COLUMN } from './invoice-columns.tsx'
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

const USUAL_SORTS: Readonly<Record<InvoicePile, TableSort>> = {
  drafts: { column: 'drafted', descending: false },
  unpaid: { column: 'payBy', descending: false },
  paid: { column: 'number', descending: true },
  all: { column: 'number', descending: true },
}

/** Drafts to look at, what is unpaid and how old it is, what is paid; the chosen one as lines beside the list. */
export function InvoicesScreen() {
  const { today } = useOffice()
  const [word, setPile] = useAddressWord('pile')
  const pile = INVOICE_PILES.find((each) => each === word) ?? 'drafts'
  const [search, setSearch] = useState('')
  const [chosen, setChosen] = useState<ReadonlySet<string>>(new Set())
  const { draft: sorts, setDraft: setSorts } = useDraft('invoices-sorts', USUAL_SORTS)
  const [openKey, setOpen] = useOpenRecord()
  const { pages, rows, sums } = usePile(pile, search, sorts[pile])
  const account = openKey?.startsWith('account-') ? Number(openKey.slice(8)) : null
  const second =
    openKey === null ? null : account === null ? (
      <InvoiceSheet key={openKey} invoiceId={Number(openKey)} onClose={() => setOpen(null)} onOpen={setOpen} />
    ) : (
      <AccountSheet key={openKey} customerId={account} onClose={() => setOpen(null)} onOpen={setOpen} />
    )
  return (
    <Sheets second={second}>
      <Sheet
        title={titleOf(pile, sums)}
        aside={sums && <AsideWords pile={pile} sums={sums} />}
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
        actions={
          <IssueDrafts
            pile={pileToIssue(pile, rows ?? [], chosen, search, sums)}
            onIssued={() => setChosen(new Set())}
          />
        }
      >
        {pile === 'unpaid' && sums && <Ages sums={sums} />}
        <DataTable
          key={pile}
          name={`invoices-${pile}`}
          label={`Invoices: ${PILE_WORDS[pile]}`}
          columns={INVOICE_COLUMNS[pile]}
          rows={rows}
          rowKey={(row) => String(row.invoiceId)}
          rowName={invoiceName}
          density="two-line"
          total={search === '' ? totalOf(pile, sums) : undefined}
          loadMore={moreOfPages(pages)}
          sort={sorts[pile]}
          onSort={(sort) => setSorts((before) => ({ ...before, [pile]: sort }))}
          exportRows={() => everyInvoice(pile, search, sorts[pile])}
          problem={pages.error ? { code: 'DATABASE_BUSY', ...problemOf(pages.error) } : null}
          onTryAgain={() => void pages.refetch()}
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
      </Sheet>
    </Sheets>
  )
}

type PageEnd = InvoicePage['next']

const asked = (pile: InvoicePile, search: string, { column, descending }: TableSort) => ({
  pile,
  search,
  sort: SORT_OF_COLUMN[column] ?? 'written',
  descending,
})

/** The pages of a pile fetched so far, and what all piles come to. What is typed is asked for once the hand rests. */
function usePile(pile: InvoicePile, typed: string, sort: TableSort) {
  const search = useDeferredValue(typed)
  const pages = useInfiniteQuery(
    ask.invoices.list.infiniteOptions({
      input: (after: PageEnd) => ({ ...asked(pile, search, sort), after }),
      initialPageParam: null as PageEnd,
      getNextPageParam: (last) => last.next,
    }),
  )
  const sums = useQuery(ask.invoices.sums.queryOptions())
  return { pages, rows: rowsOfPages(pages), sums: sums.data }
}

const everyInvoice = (pile: InvoicePile, search: string, sort: TableSort): Promise<InvoiceRow[]> =>
  everyPage((after: PageEnd) => office.invoices.list({ ...asked(pile, search, sort), after, limit: 500 }))

/** What the button issues: the chosen drafts, or all that are found; without a search every draft there is. */
function pileToIssue(
  pile: InvoicePile,
  rows: readonly InvoiceRow[],
  chosen: ReadonlySet<string>,
  search: string,
  sums: InvoiceSums | undefined,
): PileToIssue | null {
  if (pile !== 'drafts' || sums === undefined) return null
  if (chosen.size === 0 && search === '')
    return sums.lastDraft === null
      ? null
      : { count: sums.drafts, together: sums.draftsTotal, input: { upTo: sums.lastDraft } }
  const wanted = rows.filter((row) => chosen.size === 0 || chosen.has(String(row.invoiceId)))
  if (wanted.length === 0) return null
  const together = addCents(...wanted.filter((row) => row.kind === 'invoice').map((row) => row.total), cents(0))
  return { count: wanted.length, together, input: { invoiceIds: wanted.map((row) => row.invoiceId) } }
}

function titleOf(pile: InvoicePile, sums: InvoiceSums | undefined): string {
  if (!sums) return 'Invoices'
  if (pile === 'drafts') return sums.drafts === 0 ? 'No drafts' : `${counted(sums.drafts, 'draft')} to look at`
  if (pile === 'unpaid')
    return sums.unpaid === 0 ? 'Everything is paid' : `${counted(sums.unpaid, 'invoice')} not paid yet`
  return pile === 'paid' ? 'Paid invoices' : 'Everything issued'
}

/** How many rows the pile has, where that is known. */
function totalOf(pile: InvoicePile, sums: InvoiceSums | undefined): number | undefined {
  if (pile === 'drafts') return sums?.drafts
  return pile === 'unpaid' ? sums?.unpaid : undefined
}

function AsideWords({ pile, sums }: { readonly pile: InvoicePile; readonly sums: InvoiceSums }) {
  const owed = addCents(...AGES.map((age) => sums.ages[age]))
  if (pile === 'unpaid')
    return (
      <>
        <MoneyText cents={owed} /> owed
      </>
    )
  return sums.unpaid === 0 ? null : <>{counted(sums.unpaid, 'invoice')} unpaid</>
}

/** What is owed, by how long it has been owed. */
function Ages({ sums }: { readonly sums: InvoiceSums }) {
  return (
    <dl className="ages">
      {AGES.map((age) => (
        <div key={age}>
          <dt className="second small">{AGE_WORDS[age]}</dt>
          <dd className={age !== 'current' && sums.ages[age] > 0 ? 'bold' : undefined}>
            <MoneyText cents={sums.ages[age]} bare />
          </dd>
        </div>
      ))}
    </dl>
  )
}
