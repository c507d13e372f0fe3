import { useMutation, useQuery } from '@tanstack/react-query'
import { type ReactNode, useState } from 'react'
import { aislesOf, moved, turned, upAndDown, type WalkAisle } from '../../core/stock/walk.ts'
import { counted } from '../../core/units/date-words.ts'
import type { PlaceId } from '../../core/units/ids.ts'
import { Button } from '../design/Button.tsx'
import { EmptyPlace } from '../design/EmptyPlace.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { Sheet, SheetPart, Sheets } from '../design/Sheet.tsx'
import { useSay } from '../design/undo.ts'
import { useDraft } from '../design/use-draft.ts'
import { ask, office, problemOf } from '../shell/office-door.ts'
import { OrderedRows } from './OrderedRows.tsx'
import './walk.css'

/** The walk through the warehouse: aisles in the order they are walked, and the bins in each. Pull lists and counts follow it. */
export function WalkPart({ viewChoice }: { readonly viewChoice: ReactNode }) {
  const say = useSay()
  const bins = useQuery(ask.walk.bins.queryOptions())
  const seen = bins.data?.map((bin) => bin.placeId) ?? []
  const { draft, setDraft, discard } = useDraft<readonly PlaceId[] | null>('walk', null)
  const [chosen, setChosen] = useState<string | null>(null)
  const byId = new Map(bins.data?.map((bin) => [bin.placeId, bin]))
  const order = draft ?? seen
  // A draft of other bins than there are now says nothing any more.
  const isDraft = order.length === seen.length && order.every((placeId) => byId.has(placeId))
  const aisles = aislesOf((isDraft ? order : seen).flatMap((placeId) => byId.get(placeId) ?? []))
  const wanted = aisles.flatMap((aisle) => aisle.bins.map((bin) => bin.placeId))
  const isChanged = wanted.join() !== seen.join()
  const put = (next: readonly WalkAisle[]): void =>
    setDraft(next.flatMap((aisle) => aisle.bins.map((bin) => bin.placeId)))
  const save = useMutation({
    ...ask.walk.save.mutationOptions(),
    onSuccess: (done, input) => {
      say({
        said: done.sentence,
        undo: () => office.walk.save({ seen: input.bins, bins: input.seen }),
        undone: 'The walk is as it was.',
      })
      discard()
    },
  })
  const open = aisles.find((aisle) => aisle.aisle === chosen) ?? aisles[0] ?? null
  return (
    <Sheets>
      <Sheet
        title={`The walk: ${counted(seen.length, 'bin')} in ${counted(aisles.length, 'aisle')}`}
        choices={viewChoice}
        actions={
          <>
            <Button isDisabled={aisles.length === 0} onPress={() => put(upAndDown(aisles))}>
              Walk aisles up and down in turn
            </Button>
            {isChanged && (
              <Button kind="quiet" onPress={discard}>
                Leave it as it was
              </Button>
            )}
            <Button
              kind="primary"
              isDisabled={!isChanged || save.isPending}
              onPress={() => save.mutate({ seen, bins: wanted })}
            >
              Save the walk
            </Button>
          </>
        }
      >
        {bins.error && <ProblemNote problem={problemOf(bins.error)} onTryAgain={() => void bins.refetch()} />}
        {save.error && <ProblemNote problem={problemOf(save.error)} kept="Your order is still here." />}
        {bins.data?.length === 0 && (
          <EmptyPlace why="There are no bins to walk yet." todo="Add a bin under bins and vans, with its aisle." />
        )}
        {open && (
          <div className="walk">
            <SheetPart title="Aisles, in the order of the walk" aside="drag them, or move them with the buttons">
              <OrderedRows
                label="Aisles"
                rows={aisles.map((aisle) => ({
                  id: aisle.aisle,
                  name: nameOf(aisle),
                  words: <AisleWords aisle={aisle} />,
                }))}
                chosen={open.aisle}
                onChoose={setChosen}
                onMove={(from, to) => put(moved(aisles, from, to))}
              />
            </SheetPart>
            <SheetPart
              title={`Bins of ${nameOf(open)}`}
              aside={
                <Button
                  kind="quiet"
                  isDisabled={open.bins.length < 2}
                  onPress={() => put(aisles.map((aisle) => (aisle === open ? turned(aisle) : aisle)))}
                >
                  Walk {nameOf(open)} from its other end
                </Button>
              }
            >
              <OrderedRows
                label={`Bins of ${nameOf(open)}`}
                rows={open.bins.map((bin) => ({
                  id: String(bin.placeId),
                  name: bin.name,
                  words: <span className="second small">{pieceWords(byId.get(bin.placeId)?.pieces ?? 0)}</span>,
                }))}
                chosen={null}
                onChoose={null}
                onMove={(from, to) =>
                  put(aisles.map((aisle) => (aisle === open ? { ...aisle, bins: moved(aisle.bins, from, to) } : aisle)))
                }
              />
            </SheetPart>
          </div>
        )}
      </Sheet>
    </Sheets>
  )
}

const nameOf = ({ aisle }: WalkAisle): string => (aisle === '' ? 'bins without an aisle' : `aisle ${aisle}`)
const pieceWords = (pieces: number): string => (pieces === 0 ? 'empty' : counted(pieces, 'piece'))

function AisleWords({ aisle }: { readonly aisle: WalkAisle }) {
  const [first, last] = [aisle.bins[0]?.name ?? '', aisle.bins.at(-1)?.name ?? '']
  return (
    <span className="second small">
      {counted(aisle.bins.length, 'bin')}, {first === last ? first : `${first} to ${last}`}
    </span>
  )
}
