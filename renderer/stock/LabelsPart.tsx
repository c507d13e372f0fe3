import { keepPreviousData, useQuery } from '@tanstack/react-query'
import { type ReactNode, useMemo, useState } from 'react'
import { LABEL_KINDS, type LabelKind, labelsAddress, MOST_OF_ONE } from '../../core/stock/label-order.ts'
import type { LabelPreview, LabelSource } from '../../core/stock/labels-contract.ts'
import { counted } from '../../core/units/date-words.ts'
import { Button } from '../design/Button.tsx'
import { ChoiceField, InlineChoice, InlineChoices } from '../design/ChoiceField.tsx'
import { EmptyPlace } from '../design/EmptyPlace.tsx'
import { NumberField } from '../design/NumberField.tsx'
import { PaperPicture } from '../design/PaperPicture.tsx'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SearchField } from '../design/SearchField.tsx'
import { Sheet, SheetPart, Sheets } from '../design/Sheet.tsx'
import { printPaper } from '../design/save-file.ts'
import { useDraft } from '../design/use-draft.ts'
import { ask, problemOf } from '../shell/office-door.ts'
import { useAddressWord } from '../shell/open-record.ts'
import { LabelShift } from './LabelShift.tsx'
import './labels.css'

/** What is wanted, with the words to show it by. */
interface Wanted extends LabelSource {
  readonly count: number
}
interface Draft {
  readonly wanted: readonly Wanted[]
  readonly partBars: 'own' | 'gtin'
}
const NOTHING_YET: Draft = { wanted: [], partBars: 'own' }

const PART_BARS = [
  { id: 'own', words: 'your part number' },
  { id: 'gtin', words: 'its GTIN, where it has one' },
] as const

/** Labels of lots, parts and bins; where the address names a delivery, of what came with it. */
export function LabelsPart({ viewChoice }: { readonly viewChoice: ReactNode }) {
  const [receipt, setReceipt] = useAddressWord('receipt')
  return receipt === null || !/^[1-9]\d{0,8}$/.test(receipt) ? (
    <LabelsSheet name="labels" initial={NOTHING_YET} choices={viewChoice} />
  ) : (
    <DeliveryLabels key={receipt} receiptId={Number(receipt)} choices={viewChoice} onLeave={() => setReceipt(null)} />
  )
}

interface DeliveryLabelsProps {
  readonly receiptId: number
  readonly choices: ReactNode
  readonly onLeave: () => void
}

/** A delivery's lots stand chosen already, a label a piece. What was chosen otherwise waits until one comes back to it. */
function DeliveryLabels({ receiptId, choices, onLeave }: DeliveryLabelsProps) {
  const delivery = useQuery(ask.labels.ofDelivery.queryOptions({ input: { receiptId } }))
  const initial = useMemo(
    () => ({
      ...NOTHING_YET,
      wanted: (delivery.data?.sources ?? []).map((source) => ({ ...source, count: usualCount(source) })),
    }),
    [delivery.data],
  )
  const failure = delivery.error ? problemOf(delivery.error) : null
  return (
    <LabelsSheet name={`labels-delivery-${receiptId}`} initial={initial} choices={choices}>
      {failure && <ProblemNote problem={failure} id={failure.id} onTryAgain={() => void delivery.refetch()} />}
      <div className="labels-delivery">
        {delivery.data && <p>{deliveryWords(delivery.data)}</p>}
        <Button kind="quiet" onPress={onLeave}>
          Choose other labels
        </Button>
      </div>
    </LabelsSheet>
  )
}

const deliveryWords = ({ words, sources }: { readonly words: string; readonly sources: readonly LabelSource[] }) =>
  sources.length === 0
    ? `Nothing of ${words} went into a bin, or it was put right since: there is nothing to label.`
    : `For ${words}: ${counted(sources.length, 'lot')}, a label for each good piece.`

interface LabelsSheetProps {
  /** Names the draft. */
  readonly name: string
  readonly initial: Draft
  readonly choices: ReactNode
  readonly children?: ReactNode
}

/** Labels are chosen, looked at as they will lie on the sheet, printed. The sheet in the printer is the same whatever is chosen. */
function LabelsSheet({ name, initial, choices, children }: LabelsSheetProps) {
  const { draft, setDraft } = useDraft<Draft>(name, initial)
  const { draft: beginWith, setDraft: setBeginWith } = useDraft('labels-begin', 1)
  const { wanted, partBars } = draft
  const set = (change: Partial<Draft>): void => setDraft({ ...draft, ...change })
  const order = { wanted: wanted.map(({ kind, id, count }) => ({ kind, id, count })), beginWith, partBars }
  const preview = useQuery({ ...ask.labels.preview.queryOptions({ input: order }), placeholderData: keepPreviousData })
  const seen = preview.data ?? null
  // What came stands chosen: it is looked at first, and added to seldom.
  const isForDelivery = children !== undefined
  const toBePrinted = <WantedPart wanted={wanted} onChange={(next) => set({ wanted: next })} />
  const print = (): void => {
    void printPaper(labelsAddress(order))
    if (seen) setBeginWith(seen.nextBegin)
  }
  return (
    <Sheets>
      <Sheet
        title={titleOf(seen)}
        choices={choices}
        actions={
          <Button kind="primary" isDisabled={seen === null || seen.labels === 0 || preview.isError} onPress={print}>
            Print {counted(seen?.labels ?? 0, 'label')}
          </Button>
        }
      >
        {children}
        {preview.error && <ProblemNote problem={problemOf(preview.error)} kept="What you chose is still here." />}
        <div className="labels">
          <div>
            {isForDelivery && toBePrinted}
            <ChooseSources
              taken={wanted}
              onTake={(source) => set({ wanted: [...wanted, { ...source, count: usualCount(source) }] })}
            />
            {!isForDelivery && toBePrinted}
          </div>
          <FirstSheet
            seen={seen}
            beginWith={beginWith}
            onBeginWith={setBeginWith}
            partBars={partBars}
            onPartBars={(value) => set({ partBars: value })}
          />
        </div>
      </Sheet>
    </Sheets>
  )
}

interface FirstSheetProps {
  readonly seen: LabelPreview | null
  readonly beginWith: number
  readonly onBeginWith: (label: number) => void
  readonly partBars: Draft['partBars']
  readonly onPartBars: (bars: Draft['partBars']) => void
}

/** How the first sheet will look, and where on it to begin. */
function FirstSheet({ seen, beginWith, onBeginWith, partBars, onPartBars }: FirstSheetProps) {
  return (
    <SheetPart title="The first sheet" aside={seen === null ? null : sheetWords(seen)}>
      <div className="stock-form-row">
        <NumberField
          label="Begin with label"
          note="Those before it are used already; counted row by row."
          value={beginWith}
          least={1}
          most={seen?.onSheet ?? 30}
          onChange={(value) => onBeginWith(value ?? 1)}
          chars={5}
        />
        <ChoiceField label="Bars of a part say" choices={PART_BARS} value={partBars} onChange={onPartBars} />
      </div>
      {seen?.notes.map((note) => (
        <p key={note} className="small">
          {note}
        </p>
      ))}
      {seen?.picture ? (
        <PaperPicture picture={seen.picture} label="The first sheet of labels" />
      ) : (
        <EmptyPlace why="Nothing is chosen yet." todo="Add lots, parts or bins, and see here how they will lie." />
      )}
      {seen !== null && <LabelShift rightMm={seen.shift.rightMm} downMm={seen.shift.downMm} />}
    </SheetPart>
  )
}

const titleOf = (seen: LabelPreview | null): string =>
  seen === null || seen.labels === 0 ? 'Labels' : `${counted(seen.labels, 'label')} on ${counted(seen.sheets, 'sheet')}`

const sheetWords = ({ onSheet, across }: LabelPreview): string =>
  `${onSheet} labels, ${across} beside each other, on ${onSheet === 30 ? 'US Letter' : 'A4'}`

/** A label for every piece of a lot; one for a part or a bin. */
const usualCount = (source: LabelSource): number =>
  source.kind === 'lot' ? Math.min(Math.max(1, source.pieces), MOST_OF_ONE) : 1

const KINDS: readonly { readonly id: LabelKind; readonly words: string }[] = LABEL_KINDS.map((kind) => ({
  id: kind,
  words: `${kind}s`,
}))

const sameAs = (one: LabelSource) => (other: LabelSource) => one.kind === other.kind && one.id === other.id
/** "P-1005, lot 2608-114". */
const nameOf = ({ title, lot }: LabelSource): string => (lot === '' ? title : `${title}, lot ${lot}`)

function ChooseSources({
  taken,
  onTake,
}: {
  readonly taken: readonly LabelSource[]
  readonly onTake: (source: LabelSource) => void
}) {
  const [kind, setKind] = useState<LabelKind>('lot')
  const [typed, setTyped] = useState('')
  const found = useQuery({
    ...ask.labels.find.queryOptions({ input: { kind, words: typed.slice(0, 80) } }),
    placeholderData: keepPreviousData,
  })
  const left = found.data?.sources.filter((source) => !taken.some(sameAs(source))) ?? []
  return (
    <SheetPart
      title="What to label"
      aside={
        <InlineChoices>
          <InlineChoice words="look at" label="What to label" choices={KINDS} value={kind} onChange={setKind} />
        </InlineChoices>
      }
    >
      <SearchField label={`Find ${kind}s`} placeholder={`Find ${kind}s`} value={typed} onChange={setTyped} />
      {found.error && <ProblemNote problem={problemOf(found.error)} />}
      {found.data?.sources.length === 0 && (
        <EmptyPlace
          why={typed === '' ? `There are no ${kind}s yet.` : `Nothing is called “${typed}”.`}
          todo={
            kind === 'lot' ? 'Receive a lot first; only lots that lie somewhere are shown.' : 'Look for fewer letters.'
          }
        />
      )}
      <ul className="label-sources" aria-label={`${kind}s to label`}>
        {left.map((source) => (
          <li key={`${source.kind} ${source.id}`}>
            <span>
              <b>{nameOf(source)}</b>{' '}
              <span className="second small">
                {[
                  source.kind === 'bin' && source.line !== '' ? `aisle ${source.line}` : source.line,
                  pieceWords(source),
                ]
                  .filter((words) => words !== '')
                  .join(', ')}
              </span>
            </span>
            <Button kind="quiet" onPress={() => onTake(source)} aria-label={`Add ${nameOf(source)}`}>
              Add
            </Button>
          </li>
        ))}
      </ul>
      {found.data !== undefined && found.data.sources.length > 0 && left.length === 0 && (
        <p className="second small">All that is found is below already.</p>
      )}
      {found.data?.more && <p className="second small">There are more. Write some of the name to see them.</p>}
    </SheetPart>
  )
}

const pieceWords = ({ pieces }: LabelSource): string => (pieces === 0 ? '' : counted(pieces, 'piece'))

function WantedPart({
  wanted,
  onChange,
}: {
  readonly wanted: readonly Wanted[]
  readonly onChange: (wanted: readonly Wanted[]) => void
}) {
  if (wanted.length === 0) return null
  return (
    <SheetPart
      title="To be printed"
      aside={
        <Button kind="quiet" onPress={() => onChange([])}>
          Take out all {wanted.length}
        </Button>
      }
    >
      <ul className="label-sources" aria-label="To be printed">
        {wanted.map((each) => (
          <li key={`${each.kind} ${each.id}`}>
            <NumberField
              label={`Labels of ${nameOf(each)}`}
              value={each.count}
              least={1}
              most={MOST_OF_ONE}
              onChange={(count) =>
                onChange(wanted.map((other) => (other === each ? { ...each, count: count ?? 1 } : other)))
              }
              chars={5}
            />
            <Button
              kind="quiet"
              onPress={() => onChange(wanted.filter((other) => other !== each))}
              aria-label={`Take out ${nameOf(each)}`}
            >
              Take out
            </Button>
          </li>
        ))}
      </ul>
    </SheetPart>
  )
}
