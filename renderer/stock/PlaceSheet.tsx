import { useMutation, useQuery } from '@tanstack/react-query'
import type { PlaceLine } from '../../core/stock/stock-contract.ts'
import { type TechnicianId, technicianIdSchema } from '../../core/units/ids.ts'
import { Button } from '../design/Button.tsx'
import { CheckField } from '../design/CheckField.tsx'
import { ChoiceField } from '../design/ChoiceField.tsx'
import { TextField } from '../design/Field.tsx'
import { NumberField } from '../design/NumberField.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SecondSheet } from '../design/Sheet.tsx'
import { useSay } from '../design/undo.ts'
import { useDraft } from '../design/use-draft.ts'
import { ask, problemOf } from '../shell/office-door.ts'
import { RoomField } from './RoomField.tsx'
import { VanPars } from './VanPars.tsx'

interface PlaceSheetProps {
  /** Null for a new one. */
  readonly place: PlaceLine | null
  readonly kind: 'bin' | 'van'
  readonly drivers: readonly { readonly technicianId: TechnicianId; readonly name: string }[]
  readonly onClose: () => void
}

/** A bin's name and place in the walk, or a van and who drives it. */
export function PlaceSheet({ place, kind, drivers, onClose }: PlaceSheetProps) {
  const say = useSay()
  const { draft, setDraft, discard } = useDraft(`place-${place?.placeId ?? `new-${kind}`}`, {
    name: place?.name ?? '',
    aisle: place?.aisle ?? '',
    walkOrder: place?.walkOrder ?? 0,
    driver: place?.van?.technicianId ? String(place.van.technicianId) : 'nobody',
    room: place?.van?.roomMillilitres ?? null,
    pars: place?.van?.pars ?? [],
    inUse: place === null || place.closedOn === null,
  })
  const parts = useQuery({ ...ask.stock.parts.queryOptions(), enabled: kind === 'van' })
  const onSuccess = (): void => {
    say({ said: `${draft.name} is saved.` })
    discard()
    onClose()
  }
  const bin = useMutation({ ...ask.stock.saveBin.mutationOptions(), onSuccess })
  const van = useMutation({ ...ask.stock.saveVan.mutationOptions(), onSuccess })
  const failure = bin.error ?? van.error
  const save = (): void => {
    const { name, aisle, walkOrder, inUse } = draft
    if (kind === 'van') {
      const technicianId = technicianIdSchema.safeParse(Number(draft.driver))
      const driver = technicianId.success ? technicianId.data : null
      van.mutate({
        vanId: place?.van?.vanId ?? null,
        version: place?.van?.version ?? null,
        name,
        technicianId: driver,
        roomMillilitres: draft.room,
        pars: [...draft.pars],
        inUse,
      })
    } else {
      const placeKind = place?.kind === 'quarantine' || place?.kind === 'transit' ? place.kind : 'bin'
      bin.mutate({
        placeId: place?.placeId ?? null,
        version: place?.version ?? null,
        kind: placeKind,
        name,
        aisle,
        walkOrder,
        inUse,
      })
    }
  }
  return (
    <SecondSheet
      title={place?.name ?? (kind === 'van' ? 'A new van' : 'A new bin')}
      onClose={onClose}
      backTo="bins and vans"
    >
      <form
        className="stock-form"
        onSubmit={(event) => {
          event.preventDefault()
          if (draft.name.trim() !== '') save()
        }}
      >
        <TextField
          label="Name"
          value={draft.name}
          onChange={(name) => setDraft({ ...draft, name })}
          chars={20}
          isRequired
        />
        {kind === 'bin' ? (
          <div className="stock-form-row">
            <TextField
              label="Aisle"
              value={draft.aisle}
              onChange={(aisle) => setDraft({ ...draft, aisle })}
              chars={8}
            />
            <NumberField
              label="Place in the walk"
              note="Pick lists go from small to large."
              value={draft.walkOrder}
              onChange={(value) => setDraft({ ...draft, walkOrder: value ?? 0 })}
              chars={8}
            />
          </div>
        ) : (
          <>
            <ChoiceField
              label="Driven by"
              choices={[
                { id: 'nobody', words: 'nobody' },
                ...drivers.map((driver) => ({ id: String(driver.technicianId), words: driver.name })),
              ]}
              value={draft.driver}
              onChange={(driver) => setDraft({ ...draft, driver })}
            />
            <RoomField
              label="Room"
              note="Blank: it takes whatever is pulled."
              value={draft.room}
              onChange={(room) => setDraft({ ...draft, room })}
            />
            <VanPars parts={parts.data ?? []} pars={draft.pars} onChange={(pars) => setDraft({ ...draft, pars })} />
          </>
        )}
        {place !== null && (
          <CheckField value={draft.inUse} onChange={(inUse) => setDraft({ ...draft, inUse })}>
            in use
          </CheckField>
        )}
        {failure !== null && <ProblemNote problem={problemOf(failure)} kept="What you typed is still here." />}
        <div className="stock-form-row">
          <Button kind="primary" type="submit" isDisabled={draft.name.trim() === ''}>
            Save {draft.name || `the ${kind}`}
          </Button>
        </div>
      </form>
    </SecondSheet>
  )
}
