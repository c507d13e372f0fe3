import { keepPreviousData, useInfiniteQuery, useQuery } from '@tanstack/react-query'
import { useDeferredValue } from 'react'
import { HOUSEHOLD_SORTS, type HouseholdRow, type HouseholdSort } from '../../core/customers/customers-contract.ts'
import { counted } from '../../core/units/date-words.ts'
import { siteIdSchema } from '../../core/units/ids.ts'
import { Button } from '../design/Button.tsx'
import { InlineChoice, InlineChoices } from '../design/ChoiceField.tsx'
import { DataTable } from '../design/DataTable.tsx'
import { SearchField } from '../design/SearchField.tsx'
import { Sheet, Sheets } from '../design/Sheet.tsx'
import type { TableSort } from '../design/table-columns.ts'
import { useDraft } from '../design/use-draft.ts'
import { everyPage, moreOfPages, type PageEnd, rowsOfPages } from '../shell/every-page.ts'
import { ask, office, problemOf } from '../shell/office-door.ts'
import { useGoTo, useOpenRecord } from '../shell/open-record.ts'
import { HouseholdForm } from './HouseholdForm.tsx'
import { HouseholdSheet } from './HouseholdSheet.tsx'
import { householdColumns } from './household-columns.tsx'
import './households.css'

const PAGE = 100
const USUAL = { search: '', withClosed: false }
const USUAL_SORT: TableSort = { column: 'household', descending: false }
const NEW = 'new'
const SHOWN = [
  { id: 'open', words: 'open' },
  { id: 'all', words: 'open and closed' },
] as const
const rowKey = (row: HouseholdRow): string => String(row.siteId)

/** The ledger of households; beside it one of them, or a new one. */
export function HouseholdsScreen() {
  const { draft: wanted, setDraft: setWanted } = useDraft('households-wanted', USUAL)
  const { draft: sort, setDraft: setSort } = useDraft('households-sort', USUAL_SORT)
  const [open, setOpen] = useOpenRecord()
  const goTo = useGoTo()
  const { pages, rows, total } = useLedger(wanted, sort)
  const isSearching = wanted.search !== ''
  return (
    <Sheets second={open === null ? null : <Opened open={open} onOpen={setOpen} />}>
      <Sheet
        title={
          total === undefined || (total === 0 && !isSearching)
            ? 'Households'
            : isSearching
              ? `${counted(total, 'household')} found`
              : counted(total, 'household')
        }
        choices={
          <InlineChoices>
            <div className="households-search">
              <SearchField
                label="Search households"
                placeholder="Name, street, telephone, e-mail"
                value={wanted.search}
                onChange={(search) => setWanted((before) => ({ ...before, search }))}
              />
            </div>
            <InlineChoice
              words="show"
              label="Which households"
              choices={SHOWN}
              value={wanted.withClosed ? 'all' : 'open'}
              onChange={(shown) => setWanted((before) => ({ ...before, withClosed: shown === 'all' }))}
            />
          </InlineChoices>
        }
        actions={
          <>
            <Button onPress={() => goTo('/import')}>Bring in a list</Button>
            <Button kind="primary" onPress={() => setOpen(NEW)}>
              Add a household
            </Button>
          </>
        }
      >
        <DataTable
          name="households"
          label="Households"
          columns={householdColumns}
          rows={rows}
          rowKey={rowKey}
          rowName={(row) => row.household}
          total={total}
          loadMore={moreOfPages(pages)}
          sort={sort}
          onSort={setSort}
          onOpen={(row) => setOpen(rowKey(row))}
          openKey={open}
          keys={[{ key: 'b', does: 'books', run: ([row]) => row && goTo('/bookings', rowKey(row)) }]}
          quiet={(row) => row.closed}
          problem={pages.error ? problemOf(pages.error) : null}
          onTryAgain={() => void pages.refetch()}
          exportRows={() => everyRow(wanted, sort)}
          empty={
            isSearching
              ? {
                  why: `No household holds “${wanted.search}”.`,
                  todo: 'Try fewer letters, or another part of the name, street or telephone.',
                }
              : { why: 'No household is in the books yet.', todo: 'Add one, or bring in the list you have.' }
          }
        />
      </Sheet>
    </Sheets>
  )
}

function Opened({ open, onOpen }: { readonly open: string; readonly onOpen: (key: string | null) => void }) {
  const opened = siteIdSchema.safeParse(Number(open))
  if (open === NEW)
    return (
      <HouseholdForm key={open} household={null} onDone={(siteId) => onOpen(siteId === null ? null : String(siteId))} />
    )
  return opened.success ? (
    <HouseholdSheet key={open} siteId={opened.data} backTo="the households" onClose={() => onOpen(null)} />
  ) : null
}

function sortOf(sort: TableSort): { readonly sort: HouseholdSort; readonly descending: boolean } {
  return { sort: HOUSEHOLD_SORTS.find((known) => known === sort.column) ?? 'household', descending: sort.descending }
}

function useLedger(typed: typeof USUAL, sort: TableSort) {
  const wanted = useDeferredValue(typed)
  const pages = useInfiniteQuery(
    ask.households.list.infiniteOptions({
      input: (after: PageEnd) => ({ ...wanted, ...sortOf(sort), after, limit: PAGE }),
      initialPageParam: null as PageEnd,
      getNextPageParam: (last) => last.next,
      placeholderData: keepPreviousData,
    }),
  )
  const count = useQuery(ask.households.count.queryOptions({ input: wanted, placeholderData: keepPreviousData }))
  return { pages, rows: rowsOfPages(pages), total: count.data?.total }
}

const everyRow = (wanted: typeof USUAL, sort: TableSort): Promise<HouseholdRow[]> =>
  everyPage((after: PageEnd) => office.households.list({ ...wanted, ...sortOf(sort), after, limit: 500 }))
