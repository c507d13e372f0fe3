import { useMutation, useQuery } from '@tanstack/react-query'
import type { PartDetail } from '../../core/stock/stock-contract.ts'
import type { CalendarDate } from '../../core/units/calendar-date.ts'
import { placeIdSchema } from '../../core/units/ids.ts'
import { Button } from '../design/Button.tsx'
import { CheckField } from '../design/CheckField.tsx'
import { ChoiceField } from '../design/ChoiceField.tsx'
import { DateField } from '../design/DateField.tsx'
import { TextField } from '../design/Field.tsx'
import { NumberField } from '../design/NumberField.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { useSay } from '../design/undo.ts'
import { useDraft } from '../design/use-draft.ts'
import { ask, problemOf } from '../shell/office-door.ts'
import { movedWords } from './moved.ts'

interface Draft {
  readonly lot: string
  readonly expiresOn: CalendarDate | null
  readonly quantity: number | null
  readonly place: string | null
  readonly furtherDelivery: boolean
}

/** A delivery goes into its bin: lot, date, pieces. */
export function ReceiveForm({ part, onDone }: { readonly part: PartDetail; readonly onDone: () => void }) {
  const say = useSay()
  const usual = part.bins[0]?.placeId ?? part.lots[0]?.heaps.find((heap) => heap.kind === 'bin')?.placeId
  const first: Draft = {
    lot: '',
    expiresOn: null,
    quantity: null,
    place: usual === undefined ? null : String(usual),
    furtherDelivery: false,
  }
  const { draft, setDraft, discard } = useDraft<Draft>(`receive-${part.partId}`, first)
  const places = useQuery(ask.stock.places.queryOptions())
  const receive = useMutation({
    ...ask.stock.receive.mutationOptions(),
    onSuccess: (done) => {
      say(movedWords(done))
      discard()
      onDone()
    },
  })
  const failure = receive.error === null ? null : problemOf(receive.error)
  const placeId = placeIdSchema.safeParse(Number(draft.place))
  const save = (): void => {
    const { lot, expiresOn, quantity, furtherDelivery } = draft
    if (placeId.success && quantity !== null)
      receive.mutate({
        partId: part.partId,
        lot,
        expiresOn,
        quantity,
        placeId: placeId.data,
        cost: null,
        note: '',
        furtherDelivery,
      })
  }
  return (
    <div className="stock-form">
      <div className="stock-form-row">
        <TextField
          label="Lot, as on the box"
          value={draft.lot}
          onChange={(lot) => setDraft({ ...draft, lot })}
          chars={16}
          autoFocus
        />
        <DateField
          label="Good until"
          value={draft.expiresOn}
          onChange={(expiresOn) => setDraft({ ...draft, expiresOn })}
          chars={14}
        />
        <NumberField
          label="Pieces"
          value={draft.quantity}
          onChange={(quantity) => setDraft({ ...draft, quantity })}
          chars={7}
        />
        <ChoiceField
          label="Into"
          choices={(places.data?.places ?? [])
            .filter((place) => place.kind !== 'van' && place.closedOn === null)
            .map((place) => ({ id: String(place.placeId), words: place.name }))}
          value={draft.place}
          onChange={(place) => setDraft({ ...draft, place })}
          unchosen="Choose a bin"
          chars={12}
        />
      </div>
      {failure !== null && <ProblemNote problem={failure} kept="What you typed is still here." />}
      {(failure?.code === 'STOCK_LOT_KNOWN' || draft.furtherDelivery) && (
        <CheckField
          value={draft.furtherDelivery}
          onChange={(furtherDelivery) => setDraft({ ...draft, furtherDelivery })}
        >
          a further delivery of the same lot
        </CheckField>
      )}
      <div className="stock-form-row">
        <Button kind="primary" onPress={save} isDisabled={!placeId.success || draft.quantity === null}>
          Receive {draft.quantity ?? ''} pieces
        </Button>
        <Button kind="quiet" onPress={onDone}>
          Leave it
        </Button>
      </div>
    </div>
  )
}
