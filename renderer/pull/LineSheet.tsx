import { useMutation, useQuery } from '@tanstack/react-query'
import { type ReactNode, useEffect } from 'react'
import type { Finding, FindingDone, OtherHeap, PullLineRow, VanPullRow } from '../../core/stock/pull-contract.ts'
import type { PullId } from '../../core/units/ids.ts'
import { Button } from '../design/Button.tsx'
import { ChoiceField } from '../design/ChoiceField.tsx'
import { TextField } from '../design/Field.tsx'
import { NumberField } from '../design/NumberField.tsx'
import { useOffice } from '../design/office-manner.ts'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SecondSheet, SheetPart } from '../design/Sheet.tsx'
import { useDraft } from '../design/use-draft.ts'
import { ask, problemOf } from '../shell/office-door.ts'
import { expiryWords, foundLines, tickedWords, troubleWords } from './pull-words.ts'
import { heapKey, heapMeant, NO_TROUBLE, OTHER_BIN, piecesFit, type TroubleDraft, troubleKey } from './trouble-draft.ts'

interface LineSheetProps {
  readonly van: VanPullRow
  readonly pullId: PullId
  readonly line: PullLineRow
  /** What is known of the trouble already; null goes on with the draft. */
  readonly start: TroubleDraft | null
  readonly onClose: () => void
  readonly onDone: (done: FindingDone) => void
}

const KINDS: readonly { readonly kind: Finding['kind']; readonly words: string }[] = [
  { kind: 'short', words: 'Fewer are there' },
  { kind: 'damaged', words: 'Some are damaged' },
  { kind: 'elsewhere', words: 'They lie elsewhere' },
]

/** A line of an open pull: whom its pieces are for, and what to do when the bin is not as the list says. */
export function LineSheet({ van, pullId, line, start, onClose, onDone }: LineSheetProps) {
  const { locale } = useOffice()
  const { draft, setDraft, discard } = useDraft<TroubleDraft>(troubleKey(line), NO_TROUBLE)
  useEffect(() => {
    if (start !== null) setDraft(start)
  }, [start, setDraft])
  const say = (part: Partial<TroubleDraft>): void => setDraft((before) => ({ ...before, ...part }))
  const findings = useQuery(ask.pull.findings.queryOptions({ input: { pullId } }))
  const found = useMutation({
    ...ask.pull.found.mutationOptions(),
    onSuccess: (done) => {
      discard()
      onDone(done)
    },
  })
  const write = (finding: Finding): void => {
    if (line.lineId === null || found.isPending) return
    const { quantity, pulled } = line
    found.mutate({ pullId, lineId: line.lineId, finding, seen: { quantity, pulled } })
  }
  return (
    <SecondSheet
      title={`${line.bin}: ${line.quantity} of ${line.part.name}`}
      below={`${line.part.number}, lot ${line.lot}${expiryWords(line.expiresOn)}. ${tickedWords(line, locale)}`}
      onClose={onClose}
      backTo={`the list of ${van.van}`}
    >
      <SheetPart title="What is not right">
        <div className="pull-kinds">
          {KINDS.map(({ kind, words }) => (
            <Button
              key={kind}
              glove
              kind={draft.kind === kind ? 'primary' : 'plain'}
              aria-pressed={draft.kind === kind}
              onPress={() => say({ kind, pieces: kind === 'short' ? line.pulled : null })}
            >
              {words}
            </Button>
          ))}
        </div>
        {draft.kind !== null && (
          <TroubleForm key={draft.kind} pullId={pullId} line={line} draft={draft} say={say} onWrite={write} />
        )}
        {found.error !== null && <ProblemNote problem={problemOf(found.error)} id={problemOf(found.error).id} />}
      </SheetPart>
      <SheetPart title="Totes">
        <ul className="pull-facts">
          {line.totes.map((tote) => (
            <li key={tote.visitId}>
              <b>{tote.stop}</b> {tote.household}: {tote.quantity}
            </li>
          ))}
          {line.totes.length === 0 && <li>For the van itself, not for a stop.</li>}
        </ul>
      </SheetPart>
      {(findings.data?.length ?? 0) > 0 && (
        <SheetPart title="Found on this pull so far">
          <ul className="pull-facts">
            {foundLines(findings.data ?? [], locale).map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        </SheetPart>
      )}
    </SecondSheet>
  )
}

interface FormProps {
  readonly pullId: PullId
  readonly line: PullLineRow
  readonly draft: TroubleDraft
  readonly say: (part: Partial<TroubleDraft>) => void
  readonly onWrite: (finding: Finding) => void
}

function TroubleForm(props: FormProps) {
  switch (props.draft.kind) {
    case 'short':
      return <ShortForm {...props} />
    case 'damaged':
      return <DamagedForm {...props} />
    case 'elsewhere':
      return <ElsewhereForm {...props} />
    case null:
      return null
  }
}

function ShortForm({ line, draft, say, onWrite }: FormProps) {
  const { pieces } = draft
  const isReady = piecesFit(draft, line)
  return (
    <PiecesForm
      line={line}
      draft={draft}
      say={say}
      label={`Found of ${line.quantity}`}
      most={line.quantity - 1}
      isReady={isReady}
      verb={`Write down ${pieces ?? '?'} of ${line.quantity}`}
      onWrite={() => pieces !== null && onWrite({ kind: 'short', found: pieces })}
    >
      {troubleWords(line, draft)}
    </PiecesForm>
  )
}

function DamagedForm({ line, draft, say, onWrite }: FormProps) {
  const { pieces, what } = draft
  return (
    <PiecesForm
      line={line}
      draft={draft}
      say={say}
      label={`Damaged of ${line.quantity}`}
      most={line.quantity}
      isReady={piecesFit(draft, line)}
      verb={`Set ${pieces ?? '?'} aside`}
      onWrite={() => pieces !== null && onWrite({ kind: 'damaged', damaged: pieces, what })}
      more={
        <TextField label="What is wrong with them" value={what} onChange={(typed) => say({ what: typed })} chars={30} />
      }
    >
      {troubleWords(line, draft)}
    </PiecesForm>
  )
}

function ElsewhereForm({ pullId, line, draft, say, onWrite }: FormProps) {
  const { lineId } = line
  const heaps = useQuery({
    ...ask.pull.elsewhere.queryOptions({ input: { pullId, lineId: lineId ?? (0 as never) } }),
    enabled: lineId !== null,
  })
  const places = useQuery(ask.stock.places.queryOptions())
  const chosen = heapMeant(draft, heaps.data ?? [])
  const bins = (places.data?.places ?? []).filter((place) => place.kind === 'bin' && place.closedOn === null)
  const typedBin = bins.find((place) => place.name.toLowerCase() === draft.bin.trim().toLowerCase())
  const heap = (heaps.data ?? []).find((each) => heapKey(each) === chosen)
  const from =
    chosen === OTHER_BIN
      ? typedBin && { lotId: line.lotId, placeId: typedBin.placeId, bin: typedBin.name }
      : heap && { lotId: heap.lotId, placeId: heap.placeId, bin: heap.bin }
  const isUnknownBin = chosen === OTHER_BIN && draft.bin.trim() !== '' && places.data !== undefined && !typedBin
  const { pieces } = draft
  return (
    <PiecesForm
      line={line}
      draft={draft}
      say={say}
      label={`Taken of ${line.quantity}`}
      most={line.quantity}
      isReady={piecesFit(draft, line) && from !== undefined}
      verb={from ? `Take ${pieces ?? '?'} from ${from.bin}` : `Take ${pieces ?? '?'} from there`}
      onWrite={() =>
        from &&
        pieces !== null &&
        onWrite({ kind: 'elsewhere', lotId: from.lotId, placeId: from.placeId, quantity: pieces })
      }
      more={
        <>
          <ChoiceField
            label="Where they lie"
            unchosen="Choose the bin and the lot"
            value={chosen}
            onChange={(key) => say({ heap: key })}
            chars={30}
            choices={[...(heaps.data ?? []).map(heapChoice), { id: OTHER_BIN, words: `Another bin, lot ${line.lot}` }]}
          />
          {chosen === OTHER_BIN && (
            <TextField
              label="Which bin"
              value={draft.bin}
              onChange={(bin) => say({ bin })}
              chars={12}
              problem={isUnknownBin ? 'There is no bin of this name.' : null}
            />
          )}
        </>
      }
    >
      {troubleWords(line, draft)}
    </PiecesForm>
  )
}

const heapChoice = (heap: OtherHeap) => ({
  id: heapKey(heap),
  words: `${heap.bin}, lot ${heap.lot}${expiryWords(heap.expiresOn)}`,
  note: heap.free === 0 ? 'The books say none is free there.' : `The books say ${heap.free} are free there.`,
})

interface PiecesFormProps extends Pick<FormProps, 'line' | 'draft' | 'say'> {
  readonly label: string
  readonly most: number
  readonly isReady: boolean
  readonly verb: string
  readonly onWrite: () => void
  /** Fields above the number. */
  readonly more?: ReactNode
  /** What will happen. */
  readonly children: ReactNode
}

/** A number of pieces to step with a glove or to type; Enter writes it down. */
function PiecesForm({ draft, say, label, most, isReady, verb, onWrite, more, children }: PiecesFormProps) {
  const now = draft.pieces ?? 0
  const step = (by: number): void => say({ pieces: Math.min(most, Math.max(0, now + by)) })
  return (
    <form
      className="pull-found-form"
      onSubmit={(event) => {
        event.preventDefault()
        if (isReady) onWrite()
      }}
    >
      {more}
      <div className="pull-found-row">
        <Button glove onPress={() => step(-1)} isDisabled={now === 0} aria-label="One fewer">
          −
        </Button>
        <NumberField
          label={label}
          value={draft.pieces}
          onChange={(pieces) => say({ pieces })}
          least={0}
          most={most}
          chars={4}
          autoFocus
        />
        <Button glove onPress={() => step(1)} isDisabled={now >= most} aria-label="One more">
          +
        </Button>
      </div>
      <p className="second small" role="status">
        {children}
      </p>
      <Button kind="primary" glove type="submit" isDisabled={!isReady}>
        {verb}
      </Button>
    </form>
  )
}
