import { useMutation, useQueries } from '@tanstack/react-query'
import { useEffect, useRef } from 'react'
import type { OrderInFull, OrderLineRow } from '../../core/orders/order-shapes.ts'
import { counted } from '../../core/units/date-words.ts'
import { type PlaceId, partIdSchema } from '../../core/units/ids.ts'
import { Button } from '../design/Button.tsx'
import { TextField } from '../design/Field.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SheetPart } from '../design/Sheet.tsx'
import { useSay } from '../design/undo.ts'
import { useDraft } from '../design/use-draft.ts'
import { ask, office, problemOf } from '../shell/office-door.ts'
import { DeliveryLot } from './DeliveryLot.tsx'
import { type DeliveryEntry, deliveredOf, entryOf, piecesOf, withinOrder } from './delivery-entry.ts'

interface Typed {
  readonly entries: readonly DeliveryEntry[]
  readonly note: string
}

const NOTHING: Typed = { entries: [], note: '' }

/** The lines of a sent order, and the delivery that is being taken in: a lot an entry, all of it on one receipt. */
export function DeliveryPart({ order, onAgain }: { readonly order: OrderInFull; readonly onAgain: () => void }) {
  const { draft, setDraft, discard } = useDraft<Typed>(`delivery-${order.orderId}`, NOTHING)
  const { entries } = draft
  const setEntries = (next: readonly DeliveryEntry[]): void => setDraft((before) => ({ ...before, entries: next }))
  const begin = (line: OrderLineRow): void => setEntries([...entries, entryOf(line, entries)])
  const suggested = useSuggestions(order, entries)
  const bestOf = (entry: DeliveryEntry) => bestPlace(order, entry, suggested)
  const receive = useReceive(discard)
  const save = (given: readonly DeliveryEntry[], takeAll: boolean): void => {
    const lines = given.flatMap((entry) => deliveredOf(entry, bestOf(entry)) ?? [])
    receive.mutate({ orderId: order.orderId, note: draft.note, takeAll, lines })
  }
  const isReady =
    entries.length > 0 && entries.every((entry) => deliveredOf(entry, bestOf(entry)) !== null) && !receive.isPending
  const lookAgain = (): void => {
    setEntries(entries.map((entry) => ({ ...entry, seen: receivedOf(order, entry) })))
    receive.reset()
    onAgain()
  }
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault()
        if (isReady) save(entries, false)
      }}
    >
      <SheetPart title="Lines" aside={order.open > 0 ? `${counted(order.open, 'piece')} awaited` : undefined}>
        {order.lines.map((line) => (
          <div key={line.lineId} className="order-line">
            <AwaitedLine line={line} entries={entries} onBegin={() => begin(line)} />
            {entries
              .filter((entry) => entry.lineId === line.lineId)
              .map((entry) => (
                <DeliveryLot
                  key={entry.key}
                  entry={entry}
                  line={line}
                  supplier={order.supplier}
                  best={bestOf(entry)}
                  suggested={suggested.get(entry.key) ?? []}
                  isKnown={problemCode(receive.error) === 'STOCK_LOT_KNOWN'}
                  onChange={(next) => setEntries(entries.map((each) => (each.key === entry.key ? next : each)))}
                  onLeave={() => setEntries(entries.filter((each) => each.key !== entry.key))}
                />
              ))}
          </div>
        ))}
        {entries.length > 0 && (
          <div className="order-line">
            <TextField
              label="Note on this delivery"
              value={draft.note}
              onChange={(note) => setDraft((before) => ({ ...before, note }))}
              chars={40}
            />
            <Refusal
              error={receive.error}
              onTakeAll={() => save(entries, true)}
              onTakeOrdered={() => {
                const within = withinOrder(entries, order)
                setEntries(within)
                save(within, false)
              }}
              onLookAgain={lookAgain}
            />
            <div className="order-actions">
              <Button kind="primary" type="submit" isDisabled={!isReady}>
                {deliveryVerb(entries)}
              </Button>
              <Button kind="quiet" onPress={discard}>
                Leave this delivery
              </Button>
            </div>
          </div>
        )}
      </SheetPart>
    </form>
  )
}

const problemCode = (error: unknown): string | undefined =>
  error === null || error === undefined ? undefined : problemOf(error).code

const receivedOf = (order: OrderInFull, entry: DeliveryEntry): number =>
  order.lines.find((line) => line.lineId === entry.lineId)?.received ?? entry.seen

function deliveryVerb(entries: readonly DeliveryEntry[]): string {
  const { accepted, damaged } = piecesOf(entries)
  const aside = `${accepted > 0 ? 'set' : 'Set'} ${damaged} damaged aside`
  if (accepted === 0 && damaged > 0) return aside
  return `Take in ${counted(accepted, 'piece')}${damaged > 0 ? ` and ${aside}` : ''}`
}

function useReceive(discard: () => void) {
  const say = useSay()
  return useMutation({
    ...ask.orders.receive.mutationOptions(),
    onSuccess: ({ sentence, movements }) => {
      discard()
      say({
        said: sentence,
        undo: async () => {
          for (const movementId of movements) await office.stock.putRight({ movementId, note: 'undone at once' })
        },
        undone: 'The delivery is put right: nothing of it counts as received.',
      })
    },
  })
}

type Suggested = readonly { readonly placeId: PlaceId; readonly name: string; readonly words: string }[]

/** Where each lot of the delivery can go, the best first; by the key of its entry. */
function useSuggestions(order: OrderInFull, entries: readonly DeliveryEntry[]): ReadonlyMap<number, Suggested> {
  const answers = useQueries({
    queries: entries.map(({ lineId, lot, expiresOn }) => {
      const partId = order.lines.find((line) => line.lineId === lineId)?.part.partId
      const input = { partId: partId ?? partIdSchema.parse(1), lot: lot.slice(0, 40), expiresOn }
      return { ...ask.putAway.suggest.queryOptions({ input }), enabled: partId !== undefined }
    }),
  })
  return new Map(entries.map((entry, index) => [entry.key, answers[index]?.data ?? []]))
}

function bestPlace(order: OrderInFull, entry: DeliveryEntry, suggested: ReadonlyMap<number, Suggested>) {
  const usual = order.lines.find((line) => line.lineId === entry.lineId)?.usualPlaceId
  return suggested.get(entry.key)?.[0]?.placeId ?? usual ?? undefined
}

interface AwaitedLineProps {
  readonly line: OrderLineRow
  readonly entries: readonly DeliveryEntry[]
  readonly onBegin: () => void
}

function AwaitedLine({ line, entries, onBegin }: AwaitedLineProps) {
  const isBegun = entries.some((entry) => entry.lineId === line.lineId)
  return (
    <div className="order-row">
      <div>
        {line.part.name} <span className="small">{line.part.number}</span>
        <div className="second small">{line.words}</div>
      </div>
      {isBegun ? (
        <Button kind="quiet" onPress={onBegin} aria-label={`Another lot of ${line.part.name}`}>
          Another lot
        </Button>
      ) : line.open > 0 ? (
        <Button onPress={onBegin} aria-label={`Receive ${counted(line.open, 'piece')} of ${line.part.name}`}>
          Receive {counted(line.open, 'piece')}
        </Button>
      ) : (
        <Button kind="quiet" onPress={onBegin} aria-label={`More came of ${line.part.name}`}>
          More came
        </Button>
      )}
    </div>
  )
}

interface RefusalProps {
  readonly error: unknown
  readonly onTakeAll: () => void
  readonly onTakeOrdered: () => void
  readonly onLookAgain: () => void
}

/** Why nothing was written, and for what can be answered at once the answers. */
function Refusal({ error, onTakeAll, onTakeOrdered, onLookAgain }: RefusalProps) {
  const code = problemCode(error)
  const place = useRef<HTMLDivElement>(null)
  useEffect(() => {
    if (code !== undefined) place.current?.scrollIntoView({ block: 'nearest' })
  }, [code])
  if (code === undefined) return null
  return (
    <div ref={place}>
      <ProblemNote problem={problemOf(error)} kept="What you typed is still here; nothing is in the books." />
      {code === 'ORDER_OVER' && (
        <div className="order-actions">
          <Button onPress={onTakeAll}>Take all of it</Button>
          <Button onPress={onTakeOrdered}>Take only what was ordered</Button>
        </div>
      )}
      {code === 'ORDER_LINE_MEANWHILE' && (
        <div>
          <Button onPress={onLookAgain}>Look at it as it stands now</Button>
        </div>
      )}
    </div>
  )
}
