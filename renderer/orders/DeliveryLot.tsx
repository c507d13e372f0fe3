import { useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import type { OrderLineRow } from '../../core/orders/order-shapes.ts'
import { differenceWords, priceDifference } from '../../core/orders/price-difference.ts'
import { deliveryOfScan } from '../../core/stock/scanned-delivery.ts'
import type { PlaceId } from '../../core/units/ids.ts'
import { Button } from '../design/Button.tsx'
import { CheckField } from '../design/CheckField.tsx'
import { ChoiceField } from '../design/ChoiceField.tsx'
import { DateField } from '../design/DateField.tsx'
import { TextField } from '../design/Field.tsx'
import { MoneyField } from '../design/MoneyField.tsx'
import { NumberField } from '../design/NumberField.tsx'
import { useOffice } from '../design/office-manner.ts'
import { MoneyText } from '../design/Words.tsx'
import { ask } from '../shell/office-door.ts'
import { PutAwayChoices } from '../stock/PutAwayChoices.tsx'
import type { DeliveryEntry } from './delivery-entry.ts'

interface DeliveryLotProps {
  readonly entry: DeliveryEntry
  readonly line: OrderLineRow
  readonly supplier: string
  /** Where it goes while nobody chose, and where else it can go. */
  readonly best: PlaceId | undefined
  readonly suggested: readonly { readonly placeId: PlaceId; readonly name: string; readonly words: string }[]
  /** The office said that a lot of the delivery is in the books already. */
  readonly isKnown: boolean
  readonly onChange: (entry: DeliveryEntry) => void
  readonly onLeave: () => void
}

/** One lot of a delivery: what stands on the box, what is good and what is not, where it goes, what it is charged at. */
export function DeliveryLot(props: DeliveryLotProps) {
  const { entry, line, supplier, best, isKnown, onChange, onLeave } = props
  const set = (change: Partial<DeliveryEntry>): void => onChange({ ...entry, ...change })
  const places = useQuery(ask.stock.places.queryOptions())
  const bins = (places.data?.places ?? []).filter((each) => each.kind === 'bin' && each.closedOn === null)
  const scan = useScannedLot(entry, line, bins, set)
  const place = entry.place ?? (best === undefined ? null : String(best))
  return (
    <fieldset
      className="order-fields order-lot"
      onKeyDown={(event) => {
        // A scanner presses Enter by itself: that ends the scan, and takes nothing in yet.
        if (event.key === 'Enter' && scan.take()) event.preventDefault()
      }}
    >
      <legend className="small">A lot of {line.part.name}</legend>
      <LotFields entry={entry} bins={bins} place={place} scan={scan} set={set} />
      <PutAwayChoices choices={props.suggested} place={place} onChoose={(placeId) => set({ place: String(placeId) })} />
      {places.data && bins.length === 0 && (
        <p className="second">There is no bin yet. Add one under Stock, bins and vans.</p>
      )}
      <DamagedWords entry={entry} supplier={supplier} onChange={onChange} />
      <PriceWords entry={entry} line={line} supplier={supplier} onChange={onChange} />
      {(isKnown || entry.furtherDelivery) && (
        <CheckField value={entry.furtherDelivery} onChange={(furtherDelivery) => set({ furtherDelivery })}>
          a further delivery of the same lot
        </CheckField>
      )}
      <div>
        <Button kind="quiet" onPress={onLeave} aria-label={`Leave this lot out, ${line.part.name}`}>
          Leave this lot out
        </Button>
      </div>
    </fieldset>
  )
}

type Change = (change: Partial<DeliveryEntry>) => void
type Bin = { readonly placeId: PlaceId; readonly name: string }

interface ScannedLot {
  /** Why a code does not go with this delivery; null when nothing is wrong. */
  readonly problem: string | null
  /** Fills in what a code in the field of the lot says; true when there was one. */
  readonly take: () => boolean
  readonly forget: () => void
}

function useScannedLot(entry: DeliveryEntry, line: OrderLineRow, bins: readonly Bin[], set: Change): ScannedLot {
  const { today } = useOffice()
  const [problem, setProblem] = useState<string | null>(null)
  const take = (): boolean => {
    const scan = deliveryOfScan(entry.lot, { number: line.part.number, gtin: line.gtin }, today)
    if (scan === null) return false
    const bin = bins.find((each) => each.name === scan.bin)
    set({
      lot: scan.lot ?? '',
      ...(scan.expiresOn === null ? {} : { expiresOn: scan.expiresOn }),
      ...(bin ? { place: String(bin.placeId) } : {}),
    })
    setProblem(scan.problem ?? (scan.bin !== null && !bin ? `No bin is called ${scan.bin}.` : null))
    return true
  }
  return { problem, take, forget: () => setProblem(null) }
}

interface LotFieldsProps {
  readonly entry: DeliveryEntry
  readonly bins: readonly Bin[]
  readonly place: string | null
  readonly scan: ScannedLot
  readonly set: Change
}

function LotFields({ entry, bins, place, scan, set }: LotFieldsProps) {
  return (
    <div className="order-fields-row">
      <TextField
        label="Lot, as on the box"
        value={entry.lot}
        onChange={(lot) => {
          scan.forget()
          set({ lot })
        }}
        onBlur={() => void scan.take()}
        problem={scan.problem}
        chars={13}
        autoFocus
      />
      <DateField label="Good until" value={entry.expiresOn} onChange={(expiresOn) => set({ expiresOn })} chars={13} />
      <NumberField label="Pieces" value={entry.accepted} onChange={(accepted) => set({ accepted })} chars={6} />
      <NumberField label="Damaged" value={entry.damaged} onChange={(damaged) => set({ damaged })} chars={6} />
      <ChoiceField
        label="Into"
        choices={bins.map((each) => ({ id: String(each.placeId), words: each.name }))}
        value={place}
        onChange={(chosen) => set({ place: chosen })}
        unchosen="Choose a bin"
        chars={11}
      />
      <MoneyField label="Charged a piece" value={entry.price} onChange={(price) => set({ price })} chars={8} />
    </div>
  )
}

type WordsProps = Pick<DeliveryLotProps, 'entry' | 'supplier' | 'onChange'>

function DamagedWords({ entry, supplier, onChange }: WordsProps) {
  if ((entry.damaged ?? 0) <= 0) return null
  return (
    <div>
      <p className="small">
        Damaged pieces go into quarantine and do not count as received
        {entry.replaced ? ': they stay awaited.' : ', and nobody waits for them.'}
      </p>
      <CheckField value={entry.replaced} onChange={(replaced) => onChange({ ...entry, replaced })}>
        {supplier} sends them again
      </CheckField>
    </div>
  )
}

function PriceWords({ entry, line, supplier, onChange }: WordsProps & { readonly line: OrderLineRow }) {
  const { currency, locale } = useOffice()
  const { price, accepted } = entry
  if (price === null) return null
  const pieces = Math.max(1, accepted ?? 0)
  const difference = priceDifference(line.price, price, pieces)
  if (difference === null) return null
  return (
    <div>
      <p className="small bold">{differenceWords(difference, pieces, { currency, locale })}</p>
      <CheckField value={entry.keepPrice} onChange={(keepPrice) => onChange({ ...entry, keepPrice })}>
        <span>
          from now on {supplier} charges <MoneyText cents={price} /> a piece
        </span>
      </CheckField>
    </div>
  )
}
