import { useInfiniteQuery, useQuery } from '@tanstack/react-query'
import { useMemo } from 'react'
import { counted } from '../../core/units/date-words.ts'
import { siteIdSchema, visitIdSchema } from '../../core/units/ids.ts'
import type { WaitingHousehold } from '../../core/visits/visits-contract.ts'
import { InlineChoice, InlineChoices } from '../design/ChoiceField.tsx'
import { DataTable } from '../design/DataTable.tsx'
import { useOffice } from '../design/office-manner.ts'
import { Sheet, Sheets } from '../design/Sheet.tsx'
import { everyPage, moreOfPages } from '../shell/every-page.ts'
import { ask, office, problemOf } from '../shell/office-door.ts'
import { useAddressWord, useOpenRecord } from '../shell/open-record.ts'
import { MovingSheet, NewBookingSheet } from './BookingSheet.tsx'
import { NobodyYet } from './NobodyYet.tsx'
import { waitingColumns } from './waiting-columns.tsx'

const WHO = [
  { id: 'with-letter', words: 'those who were written to' },
  { id: 'all-due', words: 'all who are due' },
] as const

type WaitingEnd = NonNullable<Awaited<ReturnType<typeof office.visits.waiting>>['next']>

const rowKey = (row: WaitingHousehold) => String(row.siteId)

/** Who waits for a booking, and the booking beside it. Opened by a household, or by a visit that is to be moved ("visit-12"). */
export function BookingsScreen() {
  const { today } = useOffice()
  const [typed, setWho] = useAddressWord('who')
  const who = typed === 'all-due' ? 'all-due' : 'with-letter'
  const [open, setOpen] = useOpenRecord()
  const pages = useInfiniteQuery(
    ask.visits.waiting.infiniteOptions({
      input: (after: WaitingEnd | null) => ({ who, after }),
      initialPageParam: null as WaitingEnd | null,
      getNextPageParam: (page) => page.next,
    }),
  )
  const rows = useMemo(() => pages.data?.pages.flatMap((page) => page.rows) ?? null, [pages.data])
  const [first] = pages.data?.pages ?? []
  const nobody = useQuery(ask.visits.nobodyYet.queryOptions())
  const count = first?.count ?? 0
  const late = first?.late ?? 0
  return (
    <Sheets second={open === null ? null : <Opened open={open} onClose={() => setOpen(null)} />}>
      <Sheet
        title={titleOf(who, count)}
        aside={late > 0 ? `${late} late` : undefined}
        choices={
          <InlineChoices>
            <InlineChoice words="show" label="Which households" value={who} onChange={setWho} choices={WHO} />
          </InlineChoices>
        }
      >
        <NobodyYet visits={nobody.data ?? []} onGive={(visit) => setOpen(`visit-${visit.visitId}`)} />
        <DataTable
          name="waiting"
          label="Households that wait for a booking"
          columns={waitingColumns}
          rows={rows}
          density={open === null ? 'two-line' : 'three-line'}
          rowKey={rowKey}
          rowName={(row) => row.household}
          total={first?.count}
          loadMore={moreOfPages(pages)}
          exportRows={() => everyPage((after: WaitingEnd | null) => office.visits.waiting({ who, after }))}
          onOpen={(row) => setOpen(rowKey(row))}
          openKey={open}
          keys={[{ key: 'b', does: 'books', run: ([row]) => row && setOpen(rowKey(row)) }]}
          marked={(row) => row.dueOn < today}
          problem={pages.error ? problemOf(pages.error) : null}
          onTryAgain={() => void pages.refetch()}
          empty={
            who === 'with-letter'
              ? {
                  why: 'Nobody who was written to is without a booking.',
                  todo: 'Show all who are due instead, or write letters.',
                }
              : { why: 'Nobody who is due is without a booking.', todo: 'Look at the week under Visits.' }
          }
        />
      </Sheet>
    </Sheets>
  )
}

function titleOf(who: 'with-letter' | 'all-due', count: number): string {
  const households = counted(count, 'household')
  if (who === 'all-due') return `${households} ${count === 1 ? 'is' : 'are'} due without a booking`
  return `${households} ${count === 1 ? 'waits' : 'wait'} for a call back`
}

function Opened({ open, onClose }: { readonly open: string; readonly onClose: () => void }) {
  const visit = visitIdSchema.safeParse(Number(/^visit-(\d+)$/.exec(open)?.[1] ?? Number.NaN))
  if (visit.success) return <MovingSheet key={open} visitId={visit.data} onClose={onClose} />
  const site = siteIdSchema.safeParse(Number(open))
  return site.success ? <NewBookingSheet key={open} siteId={site.data} onClose={onClose} /> : null
}
