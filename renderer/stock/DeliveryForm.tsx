import { keepPreviousData, useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import { deliveryOfScan } from '../../core/stock/scanned-delivery.ts'
import type { PartDetail } from '../../core/stock/stock-contract.ts'
import type { CalendarDate } from '../../core/units/calendar-date.ts'
import { counted } from '../../core/units/date-words.ts'
import { type PlaceId, placeIdSchema } from '../../core/units/ids.ts'
import { Button } from '../design/Button.tsx'
import { CheckField } from '../design/CheckField.tsx'
import { ChoiceField } from '../design/ChoiceField.tsx'
import { DateField } from '../design/DateField.tsx'
import { TextField } from '../design/Field.tsx'
import { NumberField } from '../design/NumberField.tsx'
import { useOffice } from '../design/office-manner.ts'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { useDraft } from '../design/use-draft.ts'
import { ask, problemOf } from '../shell/office-door.ts'
import { PutAwayChoices } from './PutAwayChoices.tsx'
import './stock.css'

/** What stands on the box, and where it goes. */
export interface Delivery {
  readonly lot: string
  readonly expiresOn: CalendarDate | null
  readonly quantity: number
  /** Set aside in quarantine beside the others. */
  readonly damaged: number
  readonly placeId: PlaceId
  readonly furtherDelivery: boolean
  /** Whether each piece gets a label. */
  readonly labels: boolean
}

interface DeliveryFormProps {
  /** Names the draft: what is typed stays until it is received. */
  readonly name: string
  readonly part: PartDetail
  readonly error: unknown
  readonly isBusy: boolean
  /** `over` is called once the delivery is in the books. */
  readonly onReceive: (delivery: Delivery, over: () => void) => void
  readonly onDone: () => void
}

interface Draft {
  readonly lot: string
  readonly expiresOn: CalendarDate | null
  readonly quantity: number | null
  readonly damaged: number | null
  /** Null while nobody chose: the best of what is suggested. */
  readonly place: string | null
  readonly furtherDelivery: boolean
  readonly labels: boolean
}

const NOTHING_YET: Draft = {
  lot: '',
  expiresOn: null,
  quantity: null,
  damaged: null,
  place: null,
  furtherDelivery: false,
  labels: false,
}

/**
 * A delivery goes into its bin: lot, date, pieces. Without an order behind it. A scan into the lot fills in what the code says.
 * Enter receives, Escape leaves.
 */
export function DeliveryForm({ name, part, error, isBusy, onReceive, onDone }: DeliveryFormProps) {
  const { draft, setDraft, discard } = useDraft<Draft>(name, NOTHING_YET)
  const set = (change: Partial<Draft>): void => setDraft({ ...draft, ...change })
  const { today } = useOffice()
  const [scanned, setScanned] = useState<string | null>(null)
  const places = useQuery(ask.stock.places.queryOptions())
  const failure = error === null || error === undefined ? null : problemOf(error)
  const { lot, expiresOn, quantity, damaged, furtherDelivery } = draft
  const suggested = useQuery({
    ...ask.putAway.suggest.queryOptions({ input: { partId: part.partId, lot: lot.slice(0, 40), expiresOn } }),
    placeholderData: keepPreviousData,
  })
  const place = draft.place ?? suggested.data?.[0]?.placeId.toString() ?? null
  const placeId = placeIdSchema.safeParse(Number(place))
  const isReady = placeId.success && (quantity !== null || damaged !== null) && !isBusy
  /** True when the field of the lot held a code that says more than a lot. */
  const takeScan = (): boolean => {
    const scan = deliveryOfScan(lot, part.fields, today)
    if (scan === null) return false
    const bin = places.data?.places.find((each) => each.kind === 'bin' && each.name === scan.bin)
    set({
      lot: scan.lot ?? '',
      ...(scan.expiresOn === null ? {} : { expiresOn: scan.expiresOn }),
      ...(bin ? { place: String(bin.placeId) } : {}),
    })
    setScanned(scan.problem ?? (scan.bin !== null && !bin ? `No bin is called ${scan.bin}.` : null))
    return true
  }
  const save = (): void => {
    if (!placeId.success || !isReady) return
    const pieces = { quantity: quantity ?? 0, damaged: damaged ?? 0 }
    onReceive({ lot, expiresOn, ...pieces, placeId: placeId.data, furtherDelivery, labels: draft.labels }, () => {
      discard()
      onDone()
    })
  }
  return (
    <form
      className="stock-form"
      onSubmit={(event) => {
        event.preventDefault()
        save()
      }}
    >
      <div className="stock-form-row">
        <TextField
          label="Lot, as on the box"
          value={lot}
          onChange={(typed) => {
            setScanned(null)
            set({ lot: typed })
          }}
          onBlur={takeScan}
          onEnter={takeScan}
          problem={scanned}
          chars={14}
          autoFocus
        />
        <DateField label="Good until" value={expiresOn} onChange={(date) => set({ expiresOn: date })} chars={13} />
        <NumberField label="Pieces" value={quantity} onChange={(pieces) => set({ quantity: pieces })} chars={7} />
        <NumberField
          label="Damaged"
          note={damaged === null ? undefined : 'go into quarantine'}
          value={damaged}
          onChange={(pieces) => set({ damaged: pieces })}
          chars={7}
        />
        <ChoiceField
          label="Into"
          choices={(places.data?.places ?? [])
            .filter((each) => each.kind !== 'van' && each.closedOn === null)
            .map((each) => ({ id: String(each.placeId), words: each.name }))}
          value={place}
          onChange={(chosen) => set({ place: chosen })}
          unchosen="Choose a bin"
          chars={12}
        />
      </div>
      <PutAwayChoices
        choices={suggested.data ?? []}
        place={place}
        onChoose={(placeId) => set({ place: String(placeId) })}
      />
      {places.data?.places.every((each) => each.kind === 'van' || each.closedOn !== null) && (
        <p className="second">There is no bin yet. Add one under Stock, bins and vans.</p>
      )}
      {failure !== null && <ProblemNote problem={failure} kept="What you typed is still here." />}
      {(failure?.code === 'STOCK_LOT_KNOWN' || furtherDelivery) && (
        <CheckField value={furtherDelivery} onChange={(value) => set({ furtherDelivery: value })}>
          a further delivery of the same lot
        </CheckField>
      )}
      <CheckField value={draft.labels} onChange={(labels) => set({ labels })}>
        {quantity === null || quantity < 1 ? 'print a label for each piece' : `print ${counted(quantity, 'label')}`}
      </CheckField>
      <div className="stock-form-row">
        <Button kind="primary" type="submit" isDisabled={!isReady}>
          {receiveWords(quantity, damaged)}
        </Button>
        <Button kind="quiet" onPress={onDone}>
          Leave it
        </Button>
      </div>
    </form>
  )
}

function receiveWords(quantity: number | null, damaged: number | null): string {
  if (quantity === null && damaged !== null) return `Set ${counted(damaged, 'piece')} aside`
  return `Receive ${quantity === null ? 'the pieces' : counted(quantity, 'piece')}`
}
