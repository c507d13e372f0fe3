import { useQuery } from '@tanstack/react-query'
import { lotIdSchema } from '../../core/units/ids.ts'
import { DataTable } from '../design/DataTable.tsx'
import { Sheet, Sheets } from '../design/Sheet.tsx'
import { ask, problemOf } from '../shell/office-door.ts'
import { useAddressWord } from '../shell/open-record.ts'
import { RecallSheet } from './RecallSheet.tsx'
import { RECALLED_COLUMNS } from './recall-columns.tsx'
import './stock.css'

/** Recalled lots; `?lot=12` is the sheet of one, recalled or about to be. */
export function RecallScreen() {
  const [lot, setLot] = useAddressWord('lot')
  const lotId = lotIdSchema.safeParse(Number(lot))
  return lotId.success ? <RecallSheet key={lotId.data} lotId={lotId.data} /> : <RecalledLots onOpen={setLot} />
}

function RecalledLots({ onOpen }: { readonly onOpen: (lotId: string) => void }) {
  const lots = useQuery(ask.recall.lots.queryOptions())
  return (
    <Sheets>
      <Sheet title="Recalled lots" aside="Open one to see where each piece is and which homes hold it">
        <DataTable
          name="recalled-lots"
          label="Lots that are recalled"
          columns={RECALLED_COLUMNS}
          rows={lots.data ?? null}
          rowKey={(each) => String(each.lotId)}
          rowName={(each) => `${each.lot}, ${each.partName}`}
          density="two-line"
          problem={lots.error ? problemOf(lots.error) : null}
          onTryAgain={() => void lots.refetch()}
          empty={{
            why: 'No lot is recalled.',
            todo: 'When a supplier writes, open the part in Stock, choose the lot, and recall it there.',
          }}
          onOpen={(each) => onOpen(String(each.lotId))}
        />
      </Sheet>
    </Sheets>
  )
}
