import { keepPreviousData, useInfiniteQuery, useQuery } from '@tanstack/react-query'
import { useNavigate } from '@tanstack/react-router'
import { useDeferredValue, useMemo } from 'react'
import { DUE_SORTS, type DueFilter, type DueRow, type DueSort } from '../../core/due/due-contract.ts'
import { addDays, calendarDateSchema } from '../../core/units/calendar-date.ts'
import { siteIdSchema } from '../../core/units/ids.ts'
import { Button } from '../design/Button.tsx'
import { InlineChoice, InlineChoices } from '../design/ChoiceField.tsx'
import { DataTable } from '../design/DataTable.tsx'
import { useOffice } from '../design/office-manner.ts'
import { SearchField } from '../design/SearchField.tsx'
import { Sheet, Sheets } from '../design/Sheet.tsx'
import type { TableSort } from '../design/table-columns.ts'
import { useDraft } from '../design/use-draft.ts'
import { HouseholdSheet } from '../households/HouseholdSheet.tsx'
import { everyPage, moreOfPages, type PageEnd, rowsOfPages } from '../shell/every-page.ts'
import { ask, office, problemOf } from '../shell/office-door.ts'
import { useAddressWord, useGoTo, useOpenRecord } from '../shell/open-record.ts'
import { ALL_TOWNS, LETTERS, STAGES, titleOf, USUAL_FILTER, WITHIN, withinInWords, writeWords } from './due-choices.ts'
import { dueColumns } from './due-columns.tsx'
import './due.css'

const PAGE = 60
const USUAL_SORT: TableSort = { column: 'dueOn', descending: false }
const NOBODY: readonly string[] = []
const rowKey = (row: DueRow): string => String(row.siteId)

/** What is due, by household; beside it the household. Space chooses, Enter opens, B books, L writes letters. */
export function DueScreen() {
  const planned = usePlanned()
  // Whoever comes from the look-ahead narrows and chooses anew; what was chosen before is still there on the way back.
  const { draft: narrowed, setDraft: setFilter } = useDraft(`due-filter${wordOf(planned)}`, USUAL_FILTER)
  const filter = useMemo(() => ({ ...narrowed, planned }), [narrowed, planned])
  const { draft: sort, setDraft: setSort } = useDraft('due-sort', USUAL_SORT)
  const { draft: chosen, setDraft: setChosen } = useDraft(`due-chosen${wordOf(planned)}`, NOBODY)
  const [open, setOpen] = useOpenRecord()
  const goTo = useGoTo()
  const { locale } = useOffice()
  const writeLetters = useWriteLetters(planned)
  const { pages, rows, count } = useDueList(filter, sort)
  const book = (row: { readonly siteId: number } | undefined): void => {
    if (row) goTo('/bookings', String(row.siteId))
  }
  const chosenIds = chosen.map(Number)
  const writeToChosen = async (): Promise<void> =>
    writeLetters(chosenIds.length > 0 ? chosenIds : (await everyRow(filter, sort)).map((row) => row.siteId))
  const opened = siteIdSchema.safeParse(Number(open))
  const total = count?.total
  return (
    <Sheets
      second={
        open !== null && opened.success ? (
          <HouseholdSheet key={open} siteId={opened.data} backTo="what is due" onClose={() => setOpen(null)} />
        ) : null
      }
    >
      <Sheet
        title={total === undefined ? 'Due' : titleOf(total, filter, locale)}
        aside={count && count.late > 0 ? `${count.late.toLocaleString('en-US')} late` : undefined}
        choices={<Filters filter={filter} onFilter={setFilter} />}
        actions={
          <>
            <span className="second">{chosenIds.length} chosen</span>
            <Button
              kind="primary"
              isDisabled={chosenIds.length === 0 && (planned === undefined || !total)}
              onPress={() => void writeToChosen()}
            >
              {writeWords(chosenIds.length, planned === undefined ? undefined : total)}
            </Button>
            <Button isDisabled={chosenIds.length !== 1} onPress={() => book({ siteId: chosenIds[0] ?? 0 })}>
              Book
            </Button>
          </>
        }
      >
        <DataTable
          name="due"
          label="Households that are due"
          columns={dueColumns}
          rows={rows}
          density={open === null ? 'two-line' : 'three-line'}
          rowKey={rowKey}
          rowName={(row) => row.household}
          total={total}
          loadMore={moreOfPages(pages)}
          sort={sort}
          onSort={setSort}
          chosen={new Set(chosen)}
          onChoose={(keys) => setChosen([...keys])}
          onOpen={(row) => setOpen(rowKey(row))}
          openKey={open}
          keys={[
            { key: 'b', does: 'books', run: ([row]) => book(row) },
            { key: 'l', does: 'writes a letter', run: (items) => writeLetters(items.map((row) => row.siteId)) },
          ]}
          marked={(row) => row.daysLate > 0}
          problem={pages.error ? problemOf(pages.error) : null}
          onTryAgain={() => void pages.refetch()}
          exportRows={() => everyRow(filter, sort)}
          empty={emptyWords(filter)}
        />
      </Sheet>
    </Sheets>
  )
}

interface FiltersProps {
  readonly filter: DueFilter
  readonly onFilter: (change: (before: DueFilter) => DueFilter) => void
}

function Filters({ filter, onFilter }: FiltersProps) {
  const goTo = useGoTo()
  const towns = useQuery(ask.due.towns.queryOptions()).data ?? []
  const change = (part: Partial<DueFilter>): void => onFilter((before) => ({ ...before, ...part }))
  const townChoices = [{ id: ALL_TOWNS, words: 'all' }, ...towns.map((town) => ({ id: town, words: town }))]
  return (
    <InlineChoices>
      {filter.planned === undefined ? (
        <InlineChoice
          words="within"
          label="How far ahead"
          choices={WITHIN}
          value={String(filter.withinDays)}
          onChange={(days) => change({ withinDays: Number(days) })}
        />
      ) : (
        <Button kind="quiet" onPress={() => goTo('/due')}>
          Look at all that is due
        </Button>
      )}
      <InlineChoice
        words="towns"
        label="Which towns"
        choices={townChoices}
        value={filter.towns[0] ?? ALL_TOWNS}
        onChange={(town) => change({ towns: town === ALL_TOWNS ? [] : [town] })}
      />
      <InlineChoice
        words="stages"
        label="Which stages"
        choices={STAGES}
        value={filter.stages[0] ?? 'any'}
        onChange={(kind) => change({ stages: kind === 'any' ? [] : [kind] })}
      />
      <InlineChoice
        words="letters"
        label="Which letters were sent"
        choices={LETTERS}
        value={filter.letters}
        onChange={(letters) => change({ letters })}
      />
      <div className="due-search">
        <SearchField
          label="Search what is due"
          placeholder="Find in the list"
          value={filter.search}
          onChange={(search) => change({ search })}
        />
      </div>
    </InlineChoices>
  )
}

/** The pages fetched so far, and how many there are. What is typed is asked for once the hand rests. */
function useDueList(filter: DueFilter, sort: TableSort) {
  const wanted = useDeferredValue(filter)
  const pages = useInfiniteQuery(
    ask.due.list.infiniteOptions({
      input: (after: PageEnd) => ({ ...wanted, ...sortOf(sort), after, limit: PAGE }),
      initialPageParam: null as PageEnd,
      getNextPageParam: (last) => last.next,
      placeholderData: keepPreviousData,
    }),
  )
  const count = useQuery(ask.due.count.queryOptions({ input: wanted, placeholderData: keepPreviousData }))
  return { pages, rows: rowsOfPages(pages), count: count.data }
}

function sortOf(sort: TableSort): { readonly sort: DueSort; readonly descending: boolean } {
  return { sort: DUE_SORTS.find((known) => known === sort.column) ?? 'dueOn', descending: sort.descending }
}

const everyRow = (filter: DueFilter, sort: TableSort): Promise<DueRow[]> =>
  everyPage((after: PageEnd) => office.due.list({ ...filter, ...sortOf(sort), after, limit: 500 }))

/** Leads to the letters with the chosen households in the address; those of a week ahead are written to before their time. */
function useWriteLetters(planned: DueFilter['planned']): (siteIds: readonly number[]) => void {
  const navigate = useNavigate()
  const ahead = planned === undefined || planned === 'late' ? undefined : addDays(planned, 6)
  return (siteIds) => {
    if (siteIds.length > 0) void navigate({ to: '/letters', search: { households: siteIds.join(','), ahead } })
  }
}

const wordOf = (planned: DueFilter['planned']): string => (planned === undefined ? '' : `-${planned}`)

/** The week of the look-ahead whose households are looked at, by its Monday, or the late ones; from the address. */
function usePlanned(): DueFilter['planned'] {
  const [word] = useAddressWord('planned')
  return word === 'late' ? word : calendarDateSchema.safeParse(word).data
}

function emptyWords(filter: DueFilter) {
  const narrowed =
    filter.search !== '' || filter.towns.length > 0 || filter.stages.length > 0 || filter.letters !== 'any'
  if (filter.planned !== undefined && !narrowed)
    return {
      why: filter.planned === 'late' ? 'No household is past its grace.' : 'No next visit is planned in this week.',
      todo: 'Look at all that is due, or choose another week on the desk.',
    }
  if (narrowed)
    return { why: 'No household fits all of this.', todo: 'Look further ahead, or take one of the choices above back.' }
  return {
    why: `Nothing is ${withinInWords(filter.withinDays)}.`,
    todo: 'Look further ahead, or bring in a list of households.',
  }
}
