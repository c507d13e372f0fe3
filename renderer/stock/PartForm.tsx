import { useMutation, useQuery } from '@tanstack/react-query'
import { STAGE_KIND_WORDS, STAGE_KINDS, stageKindSchema } from '../../core/installations/stage-kinds.ts'
import { gtinFault, gtinFaultWords } from '../../core/stock/gtin.ts'
import { type PartFields, partFieldsSchema } from '../../core/stock/stock-contract.ts'
import { type PartId, type PlaceId, partIdSchema, placeIdSchema } from '../../core/units/ids.ts'
import { cents } from '../../core/units/money.ts'
import { Button } from '../design/Button.tsx'
import { CheckField } from '../design/CheckField.tsx'
import { ChoiceField } from '../design/ChoiceField.tsx'
import { TextField } from '../design/Field.tsx'
import { formProblems } from '../design/form-problems.ts'
import { MoneyField } from '../design/MoneyField.tsx'
import { NumberField } from '../design/NumberField.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { useSay } from '../design/undo.ts'
import { useDraft } from '../design/use-draft.ts'
import { ask, problemOf } from '../shell/office-door.ts'
import { OrderedChoices } from './OrderedChoices.tsx'
import { RoomField } from './RoomField.tsx'

interface PartFormProps {
  readonly partId: PartId | null
  readonly version: number | null
  readonly fields: PartFields
  readonly substitutes: readonly PartId[]
  readonly bins: readonly PlaceId[]
  readonly onSaved: (partId: PartId) => void
}

interface Draft {
  readonly fields: PartFields
  readonly substitutes: readonly string[]
  readonly bins: readonly string[]
}

const KINDS = [
  { id: 'none', words: 'no stage: a fitting or a consumable' },
  ...STAGE_KINDS.map((kind) => ({ id: kind, words: STAGE_KIND_WORDS[kind].name })),
]

/** What a GTIN lacks, once it is long enough to be one. */
function gtinProblem(gtin: string): string | null {
  const fault = gtin === '' ? null : gtinFault(gtin)
  if (fault === null || (fault.kind === 'length' && gtin.length < 8)) return null
  return `This does not add up: ${gtinFaultWords(fault)}. Read it off the box once more, or scan it.`
}

/** What the books say of a part. */
export function PartForm({ partId, version, fields, substitutes, bins, onSaved }: PartFormProps) {
  const say = useSay()
  const first: Draft = { fields, substitutes: substitutes.map(String), bins: bins.map(String) }
  const { draft, setDraft, discard } = useDraft<Draft>(`part-fields-${partId ?? 'new'}`, first)
  const set = (change: Partial<PartFields>): void => setDraft({ ...draft, fields: { ...draft.fields, ...change } })
  const parts = useQuery(ask.stock.parts.queryOptions())
  const places = useQuery(ask.stock.places.queryOptions())
  const save = useMutation({
    ...ask.stock.savePart.mutationOptions(),
    onSuccess: (saved) => {
      say({ said: `${draft.fields.name} is saved.` })
      discard()
      onSaved(saved.partId)
    },
  })
  const problems = formProblems(partFieldsSchema, draft.fields)
  const run = (): void => {
    save.mutate({
      partId,
      version,
      fields: draft.fields,
      substitutes: draft.substitutes.map((id) => partIdSchema.parse(Number(id))),
      bins: draft.bins.map((id) => placeIdSchema.parse(Number(id))),
    })
  }
  const { fields: now } = draft
  return (
    <div className="stock-form">
      <div className="stock-form-row">
        <TextField
          label="Number"
          value={now.number}
          onChange={(number) => set({ number })}
          chars={14}
          problem={now.number ? problems.number : null}
          isRequired
        />
        <TextField
          label="Name"
          value={now.name}
          onChange={(name) => set({ name })}
          chars={30}
          problem={now.name ? problems.name : null}
          isRequired
        />
        <TextField
          label="GTIN"
          value={now.gtin}
          onChange={(gtin) => set({ gtin: gtin.trim() })}
          chars={15}
          inputMode="numeric"
          problem={gtinProblem(now.gtin)}
        />
      </div>
      <div className="stock-form-row">
        <MoneyField label="Price" value={now.price} onChange={(price) => set({ price: price ?? cents(0) })} chars={9} />
        <MoneyField label="Cost" value={now.cost} onChange={(cost) => set({ cost: cost ?? cents(0) })} chars={9} />
        <ChoiceField
          label="Stage"
          choices={KINDS}
          value={now.stageKind ?? 'none'}
          onChange={(kind) => set({ stageKind: stageKindSchema.safeParse(kind).data ?? null })}
        />
      </div>
      <div className="stock-form-row">
        <NumberField
          label="Used at every visit"
          value={now.perVisitQuantity}
          onChange={(value) => set({ perVisitQuantity: value ?? 0 })}
          chars={6}
        />
        <NumberField
          label="On every van"
          note="The pull tops vans up to it."
          value={now.vanPar}
          onChange={(value) => set({ vanPar: value ?? 0 })}
          least={0}
          most={1000}
          chars={6}
        />
        <RoomField
          label="Room a piece takes"
          note="Blank: none to speak of."
          value={now.spaceMillilitres}
          onChange={(spaceMillilitres) => set({ spaceMillilitres })}
        />
        <NumberField
          label="Keep at least"
          value={now.leastToKeep}
          onChange={(leastToKeep) => set({ leastToKeep })}
          chars={6}
        />
        <NumberField
          label="Keeps for"
          unit="months"
          value={now.shelfMonths}
          onChange={(shelfMonths) => set({ shelfMonths })}
          chars={6}
        />
      </div>
      <div className="stock-form-row">
        <OrderedChoices
          label="Stands in for it, the first one first"
          addWords="Add a part that stands in"
          none="Nothing: when it is short, the visit goes without."
          choices={(parts.data ?? [])
            .filter((part) => part.partId !== partId && !part.closed)
            .map((part) => ({ id: String(part.partId), words: `${part.name} ${part.number}` }))}
          value={draft.substitutes}
          onChange={(chosen) => setDraft({ ...draft, substitutes: chosen })}
        />
        <OrderedChoices
          label="Usual bins, the first one first"
          addWords="Add a bin"
          none="None yet: a delivery asks for its bin."
          choices={(places.data?.places ?? [])
            .filter((place) => place.kind === 'bin' && place.closedOn === null)
            .map((place) => ({ id: String(place.placeId), words: place.name }))}
          value={draft.bins}
          onChange={(chosen) => setDraft({ ...draft, bins: chosen })}
        />
      </div>
      <CheckField value={now.taxFree} onChange={(taxFree) => set({ taxFree })}>
        sold free of tax
      </CheckField>
      <TextField label="Note" value={now.note} onChange={(note) => set({ note })} />
      {save.error !== null && <ProblemNote problem={problemOf(save.error)} kept="What you typed is still here." />}
      <div className="stock-form-row">
        <Button kind="primary" onPress={run} isDisabled={Object.keys(problems).length > 0}>
          Save {now.name || 'this part'}
        </Button>
      </div>
    </div>
  )
}
