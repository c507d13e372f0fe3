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
import { movedWords } from './moved.ts'

const ACTS = [
  { id: 'move', words: 'move to another place' },
  { id: 'count', words: 'count what lies there' },
  { id: 'scrap', words: 'throw away' },
  { id: 'to-supplier', words: 'give back to the supplier' },
  { id: 'from-household', words: 'take back from a household' },
] as const
type Act = (typeof ACTS)[number]['id']

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
  const { act, pieces, note, to } = draft
  const set = (change: Partial<Draft>): void => setDraft({ ...draft, ...change })
  const places = useQuery(ask.stock.places.queryOptions())
  const onSuccess = (done: Moved): void => {
    say(movedWords(done))
    discard()
    onDone()
  }
  const move = useMutation({ ...ask.stock.move.mutationOptions(), onSuccess })
  const count = useMutation({ ...ask.stock.count.mutationOptions(), onSuccess })
  const scrap = useMutation({ ...ask.stock.scrap.mutationOptions(), onSuccess })
  const giveBack = useMutation({ ...ask.stock.giveBack.mutationOptions(), onSuccess })
  const failure = [move, count, scrap, giveBack].find((each) => each.error !== null)?.error ?? null
  const { lotId } = lot
  const { placeId } = heap
  const run = (): void => {
    const quantity = pieces ?? 0
    const toPlace = placeIdSchema.safeParse(Number(to))
    if (act === 'move' && toPlace.success) move.mutate(moveOf(lotId, placeId, toPlace.data, quantity, note))
    if (act === 'count') count.mutate({ lotId, placeId, seen: heap.quantity, counted: quantity, note })
    if (act === 'scrap') scrap.mutate({ lotId, placeId, quantity, note })
    if (act === 'to-supplier' || act === 'from-household') giveBack.mutate({ lotId, placeId, way: act, quantity, note })
  }
  const others = (places.data?.places ?? []).filter((place) => place.closedOn === null && place.placeId !== placeId)
  const isReady = pieces !== null && (act !== 'move' || to !== null)
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
        <ChoiceField label="What to do" choices={ACTS} value={act} onChange={(chosen) => set({ act: chosen })} />
        <NumberField
          label={act === 'count' ? 'Counted' : 'Pieces'}
          value={pieces}
          onChange={(typed) => set({ pieces: typed })}
          chars={7}
        />
        {act === 'move' && (
          <ChoiceField
            label="To"
            choices={others.map((place) => ({ id: String(place.placeId), words: place.name }))}
            value={to}
            onChange={(chosen) => set({ to: chosen })}
            unchosen="Choose a place"
            chars={14}
          />
        )}
        <TextField label="Why" value={note} onChange={(typed) => set({ note: typed })} chars={24} />
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
  if (act === 'count') return `Write down ${pieces ?? 'the count'}`
  if (act === 'scrap') return `Throw away ${some}`
  if (act === 'to-supplier') return `Give back ${some}`
  return `Take back ${some}`
}
