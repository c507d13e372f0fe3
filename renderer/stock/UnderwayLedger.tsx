import { useMutation, useQuery } from '@tanstack/react-query'
import type { ReactNode } from 'react'
import type { OnTheWay } from '../../core/stock/stock-contract.ts'
import { counted } from '../../core/units/date-words.ts'
import { placeIdSchema } from '../../core/units/ids.ts'
import { Button } from '../design/Button.tsx'
import { ChoiceField, InlineChoices } from '../design/ChoiceField.tsx'
import { DataTable } from '../design/DataTable.tsx'
import { TextField } from '../design/Field.tsx'
import { NumberField } from '../design/NumberField.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SecondSheet, Sheet, Sheets } from '../design/Sheet.tsx'
import { useSay } from '../design/undo.ts'
import { useDraft } from '../design/use-draft.ts'
import { ask, problemOf } from '../shell/office-door.ts'
import { useOpenRecord } from '../shell/open-record.ts'
import { WhoField } from '../shell/WhoField.tsx'
import { UNDERWAY_COLUMNS } from './count-columns.tsx'
import { movedWords } from './moved.ts'

const keyOf = (row: OnTheWay): string => `${row.lotId}-${row.transitPlaceId}-${row.boundForPlaceId ?? 0}`

/** What left one place for another and has not arrived. */
export function UnderwayLedger({ viewChoice }: { readonly viewChoice: ReactNode }) {
  const [open, setOpen] = useOpenRecord()
  const rows = useQuery(ask.stock.onTheWay.queryOptions())
  const chosen = rows.data?.find((row) => keyOf(row) === open) ?? null
  const pieces = rows.data?.reduce((sum, row) => sum + row.quantity, 0) ?? 0
  return (
    <Sheets second={chosen && <Arrival key={keyOf(chosen)} row={chosen} onClose={() => setOpen(null)} />}>
      <Sheet title={`On the way: ${counted(pieces, 'piece')}`} choices={<InlineChoices>{viewChoice}</InlineChoices>}>
        <DataTable
          name="on-the-way"
          label="What is on the way"
          columns={UNDERWAY_COLUMNS}
          rows={rows.data ?? null}
          rowKey={keyOf}
          rowName={(row) => `${row.part}, lot ${row.lot}`}
          density="two-line"
          problem={rows.error ? problemOf(rows.error) : null}
          onTryAgain={() => void rows.refetch()}
          empty={{
            why: 'Nothing is on the way between two places.',
            todo: 'Open a part, choose a lot and send some of it to another bin or van.',
          }}
          onOpen={(row) => setOpen(keyOf(row))}
          openKey={open}
        />
      </Sheet>
    </Sheets>
  )
}

function Arrival({ row, onClose }: { readonly row: OnTheWay; readonly onClose: () => void }) {
  const say = useSay()
  const bound = row.boundForPlaceId === null ? null : String(row.boundForPlaceId)
  const { draft, setDraft, discard } = useDraft(`arrival-${keyOf(row)}`, { pieces: row.quantity, to: bound, note: '' })
  const places = useQuery(ask.stock.places.queryOptions())
  const arrive = useMutation({
    ...ask.stock.arrive.mutationOptions(),
    onSuccess: (done) => {
      say(movedWords(done))
      discard()
      onClose()
    },
  })
  const to = placeIdSchema.safeParse(Number(draft.to))
  const choices = (places.data?.places ?? [])
    .filter((place) => place.closedOn === null && place.kind !== 'transit')
    .map((place) => ({ id: String(place.placeId), words: place.name }))
  const run = (): void => {
    const { lotId, transitPlaceId, boundForPlaceId } = row
    if (to.success)
      arrive.mutate({
        ...{ lotId, transitPlaceId, boundForPlaceId, toPlaceId: to.data },
        ...{ quantity: draft.pieces, note: draft.note },
      })
  }
  return (
    <SecondSheet title={row.part} below={`${row.number}, lot ${row.lot}`} onClose={onClose} backTo="what is on the way">
      <form
        className="stock-form"
        onSubmit={(event) => {
          event.preventDefault()
          run()
        }}
      >
        <p>
          {counted(row.quantity, 'piece')} on the way{row.boundFor === '' ? '' : ` to ${row.boundFor}`}.
        </p>
        <div className="stock-form-row">
          <NumberField
            label="Arrived"
            value={draft.pieces}
            onChange={(typed) => setDraft({ ...draft, pieces: typed ?? 0 })}
            chars={7}
          />
          <ChoiceField
            label="In"
            choices={choices}
            value={draft.to}
            onChange={(chosen) => setDraft({ ...draft, to: chosen })}
            unchosen="Choose a place"
            chars={14}
          />
          <TextField
            label="Note"
            value={draft.note}
            onChange={(typed) => setDraft({ ...draft, note: typed })}
            chars={24}
          />
          <WhoField />
        </div>
        {arrive.error !== null && (
          <ProblemNote problem={problemOf(arrive.error)} kept="What you typed is still here." />
        )}
        <div className="stock-form-row">
          <Button kind="primary" type="submit" isDisabled={!to.success || draft.pieces === 0}>
            Take in {counted(draft.pieces, 'piece')}
          </Button>
        </div>
      </form>
    </SecondSheet>
  )
}
