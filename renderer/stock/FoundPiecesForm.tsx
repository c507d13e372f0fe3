import { useMutation, useQuery } from '@tanstack/react-query'
import type { CountLine } from '../../core/stock/count-contract.ts'
import type { CalendarDate } from '../../core/units/calendar-date.ts'
import { partIdSchema, placeIdSchema } from '../../core/units/ids.ts'
import { Button } from '../design/Button.tsx'
import { CheckField } from '../design/CheckField.tsx'
import { ChoiceField } from '../design/ChoiceField.tsx'
import { DateField } from '../design/DateField.tsx'
import { TextField } from '../design/Field.tsx'
import { NumberField } from '../design/NumberField.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { useDraft } from '../design/use-draft.ts'
import { ask, problemOf } from '../shell/office-door.ts'

interface Draft {
  readonly place: string | null
  readonly part: string | null
  readonly lot: string
  readonly expiresOn: CalendarDate | null
  readonly newLot: boolean
  readonly counted: number | null
}

interface FoundProps {
  readonly countId: number
  readonly rows: readonly CountLine[]
  readonly onDone: () => void
}

/** Pieces of a lot that the round does not look for: where, what, and how many. */
export function FoundPiecesForm({ countId, rows, onDone }: FoundProps) {
  const { draft, setDraft, discard } = useDraft<Draft>(`count-found-${countId}`, {
    ...{ place: rows[0] ? String(rows[0].placeId) : null, part: null, lot: '' },
    ...{ expiresOn: null, newLot: false, counted: null },
  })
  const set = (change: Partial<Draft>): void => setDraft({ ...draft, ...change })
  const parts = useQuery(ask.stock.parts.queryOptions())
  const places = useQuery(ask.stock.places.queryOptions())
  const add = useMutation({
    ...ask.counts.addFound.mutationOptions(),
    onSuccess: () => {
      discard()
      onDone()
    },
  })
  const placeId = placeIdSchema.safeParse(Number(draft.place))
  const partId = partIdSchema.safeParse(Number(draft.part))
  const used = (places.data?.places ?? []).filter((place) => place.closedOn === null && place.kind !== 'transit')
  const run = (): void => {
    if (!placeId.success || !partId.success || draft.counted === null) return
    const { lot, expiresOn, newLot, counted } = draft
    add.mutate({ countId, placeId: placeId.data, partId: partId.data, lot, expiresOn, newLot, counted, note: '' })
  }
  return (
    <form
      className="stock-form"
      onSubmit={(event) => {
        event.preventDefault()
        run()
      }}
    >
      <div className="stock-form-row">
        <ChoiceField
          label="Found in"
          choices={used.map((place) => ({ id: String(place.placeId), words: place.name }))}
          value={draft.place}
          onChange={(place) => set({ place })}
          chars={14}
        />
        <ChoiceField
          label="Part"
          choices={(parts.data ?? []).map((part) => ({
            id: String(part.partId),
            words: `${part.name} ${part.number}`,
          }))}
          value={draft.part}
          onChange={(part) => set({ part })}
          unchosen="Choose a part"
          chars={24}
        />
        <TextField label="Lot, as on the box" value={draft.lot} onChange={(lot) => set({ lot })} chars={14} />
        <NumberField label="Pieces" value={draft.counted} onChange={(counted) => set({ counted })} chars={7} />
        <CheckField value={draft.newLot} onChange={(newLot) => set({ newLot })}>
          This lot is in no book yet
        </CheckField>
        {draft.newLot && (
          <DateField label="Good until" value={draft.expiresOn} onChange={(expiresOn) => set({ expiresOn })} />
        )}
      </div>
      {add.error !== null && <ProblemNote problem={problemOf(add.error)} kept="What you typed is still here." />}
      <div className="stock-form-row">
        <Button
          kind="primary"
          glove
          type="submit"
          isDisabled={!placeId.success || !partId.success || draft.counted === null || draft.lot.trim() === ''}
        >
          Add this lot
        </Button>
        <Button kind="quiet" glove onPress={onDone}>
          Leave it
        </Button>
      </div>
    </form>
  )
}
