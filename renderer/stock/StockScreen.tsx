import { useQuery } from '@tanstack/react-query'
import { Link } from '@tanstack/react-router'
import { useState } from 'react'
import { counted } from '../../core/units/date-words.ts'
import { partIdSchema } from '../../core/units/ids.ts'
import { Button } from '../design/Button.tsx'
import { InlineChoice, InlineChoices } from '../design/ChoiceField.tsx'
import { DataTable } from '../design/DataTable.tsx'
import { SearchField } from '../design/SearchField.tsx'
import { Sheet, Sheets } from '../design/Sheet.tsx'
import { ask, problemOf } from '../shell/office-door.ts'
import { useAddressWord, useOpenRecord } from '../shell/open-record.ts'
import { CountsLedger } from './CountsLedger.tsx'
import { LabelsPart } from './LabelsPart.tsx'
import { OnHandLedger } from './OnHandLedger.tsx'
import { NewPart, PartSheet } from './PartSheet.tsx'
import { PlaceSheet } from './PlaceSheet.tsx'
import { PART_COLUMNS, PLACE_COLUMNS } from './stock-columns.tsx'
import { UnderwayLedger } from './UnderwayLedger.tsx'
import { WalkPart } from './WalkPart.tsx'
import { WorthLedger } from './WorthLedger.tsx'
import './stock.css'
import './count.css'

const VIEWS = [
  { id: 'parts', words: 'parts' },
  { id: 'places', words: 'bins and vans' },
  { id: 'on-hand', words: 'on hand, on any day' },
  { id: 'counts', words: 'counting' },
  { id: 'on-the-way', words: 'on the way' },
  { id: 'walk', words: 'the walk' },
  { id: 'labels', words: 'labels' },
  { id: 'worth', words: 'what it is worth' },
] as const

const WHICH = [
  { id: 'used', words: 'in use' },
  { id: 'all', words: 'in use and out of use' },
] as const

/** The ledger of parts, what is where; and the bins and vans themselves. */
export function StockScreen() {
  const [view, setView] = useAddressWord('view')
  const choiceOf = (value: (typeof VIEWS)[number]['id']) => (
    <InlineChoice words="look at" label="What to look at" choices={VIEWS} value={value} onChange={setView} />
  )
  if (view === 'walk') return <WalkPart viewChoice={choiceOf('walk')} />
  if (view === 'labels') return <LabelsPart viewChoice={choiceOf('labels')} />
  if (view === 'on-hand') return <OnHandLedger viewChoice={choiceOf('on-hand')} />
  if (view === 'counts') return <CountsLedger viewChoice={choiceOf('counts')} />
  if (view === 'on-the-way') return <UnderwayLedger viewChoice={choiceOf('on-the-way')} />
  if (view === 'worth') return <WorthLedger viewChoice={choiceOf('worth')} />
  return view === 'places' ? <PlacesLedger onView={setView} /> : <PartsLedger onView={setView} />
}

function ViewChoice({
  value,
  onView,
}: {
  readonly value: 'parts' | 'places'
  readonly onView: (view: string) => void
}) {
  return (
    <InlineChoices>
      <InlineChoice words="look at" label="What to look at" choices={VIEWS} value={value} onChange={onView} />
    </InlineChoices>
  )
}

function PartsLedger({ onView }: { readonly onView: (view: string) => void }) {
  const [open, setOpen] = useOpenRecord()
  const [typed, setTyped] = useState('')
  const parts = useQuery(ask.stock.parts.queryOptions())
  const words = typed.toLowerCase().split(/\s+/).filter(Boolean)
  const rows =
    parts.data?.filter(
      (part) => !part.closed && words.every((word) => `${part.name} ${part.number}`.toLowerCase().includes(word)),
    ) ?? null
  const openId = partIdSchema.safeParse(Number(open))
  const second =
    open === 'new' ? (
      <NewPart onClose={() => setOpen(null)} onSaved={(partId) => setOpen(String(partId))} />
    ) : openId.success ? (
      <PartSheet key={openId.data} partId={openId.data} onClose={() => setOpen(null)} />
    ) : null
  return (
    <Sheets second={second}>
      <Sheet
        title={`Stock: ${counted(rows?.length ?? 0, 'part')}`}
        choices={<ViewChoice value="parts" onView={onView} />}
        actions={
          <>
            <SearchField label="Find a part" placeholder="Find a part" value={typed} onChange={setTyped} />
            <Button onPress={() => setOpen('new')}>Add a part</Button>
            <Link className="link" to="/recall">
              Recalled lots
            </Link>
          </>
        }
      >
        <DataTable
          name="stock"
          label="Parts and what is there of them"
          columns={PART_COLUMNS}
          rows={rows}
          rowKey={(part) => String(part.partId)}
          rowName={(part) => part.name}
          density="two-line"
          problem={parts.error ? problemOf(parts.error) : null}
          onTryAgain={() => void parts.refetch()}
          empty={
            typed === ''
              ? { why: 'No parts are in the books yet.', todo: 'Add a part, then receive its first lot into a bin.' }
              : { why: `No part is called “${typed}”.`, todo: 'Look for fewer letters, or add the part.' }
          }
          onOpen={(part) => setOpen(String(part.partId))}
          openKey={open}
        />
      </Sheet>
    </Sheets>
  )
}

function PlacesLedger({ onView }: { readonly onView: (view: string) => void }) {
  const [open, setOpen] = useOpenRecord()
  const places = useQuery(ask.stock.places.queryOptions())
  const [which, setWhich] = useAddressWord('which')
  const rows = places.data?.places.filter((place) => which === 'all' || place.closedOn === null) ?? null
  const chosen = rows?.find((place) => String(place.placeId) === open) ?? null
  const isNew = open === 'new-bin' || open === 'new-van'
  const second =
    chosen !== null || isNew ? (
      <PlaceSheet
        key={open}
        place={chosen}
        kind={open === 'new-van' || chosen?.kind === 'van' ? 'van' : 'bin'}
        drivers={places.data?.drivers ?? []}
        onClose={() => setOpen(null)}
      />
    ) : null
  return (
    <Sheets second={second}>
      <Sheet
        title="Bins and vans"
        choices={
          <InlineChoices>
            <InlineChoice words="look at" label="What to look at" choices={VIEWS} value="places" onChange={onView} />
            <InlineChoice
              words="those"
              label="Which of them"
              choices={WHICH}
              value={which === 'all' ? 'all' : 'used'}
              onChange={setWhich}
            />
          </InlineChoices>
        }
        actions={
          <>
            <Button onPress={() => setOpen('new-bin')}>Add a bin</Button>
            <Button onPress={() => setOpen('new-van')}>Add a van</Button>
          </>
        }
      >
        <DataTable
          name="places"
          label="Bins and vans"
          columns={PLACE_COLUMNS}
          rows={rows}
          rowKey={(place) => String(place.placeId)}
          rowName={(place) => place.name}
          quiet={(place) => place.closedOn !== null}
          problem={places.error ? problemOf(places.error) : null}
          onTryAgain={() => void places.refetch()}
          empty={{ why: 'There are no bins and vans yet.', todo: 'Add a bin, then receive parts into it.' }}
          onOpen={(place) => setOpen(String(place.placeId))}
          openKey={open}
        />
      </Sheet>
    </Sheets>
  )
}
