import { useMutation, useQuery } from '@tanstack/react-query'
import { Link } from '@tanstack/react-router'
import type { LotDetail, Moved } from '../../core/stock/stock-contract.ts'
import { counted } from '../../core/units/date-words.ts'
import { type PlaceId, placeIdSchema } from '../../core/units/ids.ts'
import { Button } from '../design/Button.tsx'
import { ChoiceField } from '../design/ChoiceField.tsx'
import { TextField } from '../design/Field.tsx'
import { NumberField } from '../design/NumberField.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { useSay } from '../design/undo.ts'
import { useDraft } from '../design/use-draft.ts'
import { ask, problemOf } from '../shell/office-door.ts'
import { WhoField } from '../shell/WhoField.tsx'
import { movedWords } from './moved.ts'

const ACTS = [
  { id: 'move', words: 'move to another place' },
  { id: 'send', words: 'send: on the way until it arrives' },
  { id: 'count', words: 'count what lies there' },
  { id: 'scrap', words: 'throw away' },
  { id: 'to-supplier', words: 'give back to the supplier' },
  { id: 'from-household', words: 'take back from a household' },
] as const
type Act = (typeof ACTS)[number]['id']

type Kind = LotDetail['heaps'][number]['kind']

/** What can be done with pieces, by where they lie: what is on the way arrives elsewhere, what is set aside is released. */
function actsAt(kind: Kind): readonly { readonly id: Act; readonly words: string }[] {
  if (kind === 'transit') return ACTS.filter((each) => each.id === 'count' || each.id === 'scrap')
  if (kind !== 'quarantine') return ACTS
  return ACTS.map((each) => (each.id === 'move' ? { ...each, words: 'release from quarantine, into' } : each))
}

interface Draft {
  readonly act: Act
  readonly pieces: number | null
  readonly note: string
  readonly to: string | null
}
const NOTHING_YET: Draft = { act: 'move', pieces: null, note: '', to: null }

interface LotFormProps {
  readonly lot: LotDetail
  readonly heap: LotDetail['heaps'][number]
  readonly onDone: () => void
}

/** What can be done with the pieces of a lot at a place; each is a movement with its reason. */
export function LotForm({ lot, heap, onDone }: LotFormProps) {
  const say = useSay()
  const { draft, setDraft, discard } = useDraft<Draft>(`heap-${lot.lotId}-${heap.placeId}`, NOTHING_YET)
  const { pieces, note, to } = draft
  const acts = actsAt(heap.kind)
  const act = acts.some((each) => each.id === draft.act) ? draft.act : 'count'
  const goes = act === 'move' || act === 'send'
  const set = (change: Partial<Draft>): void => setDraft({ ...draft, ...change })
  const places = useQuery(ask.stock.places.queryOptions())
  const onSuccess = (done: Moved): void => {
    say(movedWords(done))
    discard()
    onDone()
  }
  const move = useMutation({ ...ask.stock.move.mutationOptions(), onSuccess })
  const send = useMutation({ ...ask.stock.send.mutationOptions(), onSuccess })
  const count = useMutation({ ...ask.stock.count.mutationOptions(), onSuccess })
  const scrap = useMutation({ ...ask.stock.scrap.mutationOptions(), onSuccess })
  const giveBack = useMutation({ ...ask.stock.giveBack.mutationOptions(), onSuccess })
  const failure = [move, send, count, scrap, giveBack].find((each) => each.error !== null)?.error ?? null
  const { lotId } = lot
  const { placeId } = heap
  const run = (): void => {
    const quantity = pieces ?? 0
    const toPlace = placeIdSchema.safeParse(Number(to))
    if (act === 'move' && toPlace.success) move.mutate(moveOf(lotId, placeId, toPlace.data, quantity, note))
    if (act === 'send' && toPlace.success)
      send.mutate({ lotId, fromPlaceId: placeId, boundForPlaceId: toPlace.data, quantity, note })
    if (act === 'count') count.mutate({ lotId, placeId, seen: heap.quantity, counted: quantity, note })
    if (act === 'scrap') scrap.mutate({ lotId, placeId, quantity, note })
    if (act === 'to-supplier' || act === 'from-household') giveBack.mutate({ lotId, placeId, way: act, quantity, note })
  }
  const others = (places.data?.places ?? []).filter(
    (place) => place.closedOn === null && place.kind !== 'transit' && place.placeId !== placeId,
  )
  const isReady = pieces !== null && (!goes || to !== null)
  return (
    <form
      className="stock-form"
      onSubmit={(event) => {
        event.preventDefault()
        if (isReady) run()
      }}
    >
      <p className="second">
        Lot {lot.lot} in {heap.place}: the books say {heap.quantity}.
      </p>
      <div className="stock-form-row">
        <ChoiceField label="What to do" choices={acts} value={act} onChange={(chosen) => set({ act: chosen })} />
        <NumberField
          label={act === 'count' ? 'Counted' : 'Pieces'}
          value={pieces}
          onChange={(typed) => set({ pieces: typed })}
          chars={7}
        />
        {goes && (
          <ChoiceField
            label="To"
            choices={others.map((place) => ({ id: String(place.placeId), words: place.name }))}
            value={to}
            onChange={(chosen) => set({ to: chosen })}
            unchosen="Choose a place"
            chars={14}
          />
        )}
        <TextField
          label={heap.kind === 'quarantine' ? 'Why (must be said)' : 'Why'}
          value={note}
          onChange={(typed) => set({ note: typed })}
          chars={24}
        />
        <WhoField />
      </div>
      {failure !== null && <ProblemNote problem={problemOf(failure)} kept="What you typed is still here." />}
      <div className="stock-form-row">
        <Button kind="primary" type="submit" isDisabled={!isReady}>
          {buttonWords(act, pieces)}
        </Button>
        <Button kind="quiet" onPress={onDone}>
          Leave it
        </Button>
        <Link className="link" to="/recall" search={{ lot: String(lotId) }}>
          {lot.recalledOn === null ? `Recall lot ${lot.lot} …` : `The recall of lot ${lot.lot}`}
        </Link>
      </div>
    </form>
  )
}

const moveOf = (
  lotId: LotDetail['lotId'],
  fromPlaceId: PlaceId,
  toPlaceId: PlaceId,
  quantity: number,
  note: string,
) => ({ lotId, fromPlaceId, toPlaceId, quantity, note })

function buttonWords(act: Act, pieces: number | null): string {
  const some = pieces === null ? 'pieces' : counted(pieces, 'piece')
  if (act === 'move') return `Move ${some}`
  if (act === 'send') return `Send ${some}`
  if (act === 'count') return `Write down ${pieces ?? 'the count'}`
  if (act === 'scrap') return `Throw away ${some}`
  if (act === 'to-supplier') return `Give back ${some}`
  return `Take back ${some}`
}
