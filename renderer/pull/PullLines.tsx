import type { KeyboardEvent } from 'react'
import type { PullLineRow, ShortageRow, VanPullRow } from '../../core/stock/pull-contract.ts'
import { sharePieces } from '../../core/stock/share-pieces.ts'
import type { PlaceId, PullLineId } from '../../core/units/ids.ts'
import { Button } from '../design/Button.tsx'
import { CheckField } from '../design/CheckField.tsx'
import { useOffice } from '../design/office-manner.ts'
import { expiryWords, shortageWords, tickedWords } from './pull-words.ts'
import { NO_TROUBLE, type TroubleDraft } from './trouble-draft.ts'

type Tote = PullLineRow['totes'][number]
interface LinesProps {
  readonly van: VanPullRow
  /** The bin that was scanned last. */
  readonly handAt: PlaceId | null
  readonly openLine: PullLineId | null
  /** So many pieces are in the totes; null takes the tick away. Null where nothing is ticked. */
  readonly onTick: ((line: PullLineRow, pulled: number | null) => void) | null
  /** Opens a line to say what is not right. */
  readonly onOpen: ((line: PullLineRow, begin: TroubleDraft | null) => void) | null
}

/**
 * The list of a van in the order of the walk, then what is short. Up and down go from box to box, Space ticks all of a line, a figure
 * says that there are only so many, Enter opens the line.
 */
export function PullLines(props: LinesProps) {
  const { van, handAt, openLine, onTick, onOpen } = props
  return (
    <div className="pull-list">
      <div className="pull-heads second small" aria-hidden="true">
        <span />
        <span>Bin</span>
        <span className="pull-figure">Pull</span>
        <span>Part and lot</span>
        <span>Totes</span>
        <span />
      </div>
      <ol className="pull-lines" aria-label={`What to pull for ${van.van}`} onKeyDownCapture={walkBoxes}>
        {van.lines.map((line) => (
          <PulledLine
            key={line.lineId ?? `${line.bin}/${line.lot}/${line.part.number}/${line.forPar}`}
            line={line}
            isAtHand={line.placeId === handAt}
            isOpened={line.lineId !== null && line.lineId === openLine}
            onTick={onTick}
            onOpen={onOpen}
          />
        ))}
        {van.shortages.map((row) => (
          <ShortLine key={row.part.partId} row={row} />
        ))}
      </ol>
    </div>
  )
}

function walkBoxes(event: KeyboardEvent<HTMLOListElement>): void {
  const step = event.key === 'ArrowDown' ? 1 : event.key === 'ArrowUp' ? -1 : 0
  if (step === 0 || !isBox(event.target)) return
  const boxes = [...event.currentTarget.querySelectorAll<HTMLInputElement>('input[type=checkbox]')]
  const next = boxes[boxes.indexOf(event.target) + step]
  event.preventDefault()
  next?.focus()
}

function isBox(target: EventTarget): target is HTMLInputElement {
  return target instanceof HTMLInputElement && target.type === 'checkbox'
}

interface LineProps extends Pick<LinesProps, 'onTick' | 'onOpen'> {
  readonly line: PullLineRow
  readonly isAtHand: boolean
  readonly isOpened: boolean
}

function PulledLine({ line, isAtHand, isOpened, onTick, onOpen }: LineProps) {
  const { locale } = useOffice()
  const pulled = line.pulled ?? 0
  const isFull = line.pulled !== null && pulled >= line.quantity
  const of = `${line.part.name}, bin ${line.bin}`
  const instead = line.insteadOf === null ? '' : `, instead of ${line.insteadOf.name} ${line.insteadOf.number}`
  const ticked = tickedWords(line, locale)
  const onKey = (event: KeyboardEvent<HTMLLIElement>): void => {
    if (onOpen === null || !isBox(event.target)) return
    const isFigure = /^\d$/.test(event.key)
    if (!isFigure && event.key !== 'Enter') return
    event.preventDefault()
    onOpen(line, isFigure ? { ...NO_TROUBLE, kind: 'short', pieces: Number(event.key) } : null)
  }
  return (
    <li
      className="pull-line"
      data-line={line.lineId ?? undefined}
      data-pulled={isFull || undefined}
      data-hand={isAtHand || undefined}
      data-opened={isOpened || undefined}
      onKeyDownCapture={onKey}
    >
      <span className="pull-tick">
        {onTick !== null && (
          <CheckField
            glove
            value={isFull}
            isSome={!isFull && pulled > 0}
            onChange={(value) => onTick(line, value ? line.quantity : null)}
            aria-label={`${line.quantity} of ${of}`}
          >
            {null}
          </CheckField>
        )}
      </span>
      <span className="pull-bin">{line.bin}</span>
      <span className="pull-figure">{line.quantity}</span>
      <span className="pull-part">
        <span>
          {line.part.name} <span className="small">{line.part.number}</span>
        </span>
        <span className="second small">
          lot {line.lot}
          {expiryWords(line.expiresOn)}
          {instead}
          {line.forPar && ', to fill the van up'}
        </span>
        {ticked !== '' && <span className="small pull-ticked">{ticked}</span>}
      </span>
      <Totes totes={line.totes} found={line.quantity} />
      <span className="pull-fewer">
        {onOpen !== null && (
          <Button kind="quiet" glove onPress={() => onOpen(line, null)} aria-label={`Not right: ${of}`}>
            Not right
          </Button>
        )}
      </span>
    </li>
  )
}

function ShortLine({ row }: { readonly row: ShortageRow }) {
  const { locale } = useOffice()
  return (
    <li className="pull-line" data-short>
      <span className="pull-tick" />
      <span className="pull-bin">—</span>
      <span className="pull-figure">{row.quantity}</span>
      <span className="pull-part">
        <span>
          <b>{row.part.name}: short</b> <span className="small">{row.part.number}</span>
        </span>
        <span className="second small">{shortageWords(row, locale)}</span>
      </span>
      <Totes totes={row.totes} found={row.quantity} />
    </li>
  )
}

/** A box a stop; how many when it is more than one. One that goes without is broken. */
function Totes({ totes, found }: { readonly totes: readonly Tote[]; readonly found: number }) {
  return (
    <span className="pull-totes">
      <span className="for-ears">Totes </span>
      {sharePieces(totes, found).map((tote) => (
        <span
          key={tote.visitId}
          className="pull-tote"
          data-without={tote.lacks > 0 || undefined}
          title={tote.household}
        >
          {tote.stop}
          {tote.lacks > 0 ? (
            <span className="small">
              {' · '}
              {tote.gets} of {tote.quantity}
            </span>
          ) : (
            tote.quantity > 1 && <span className="small"> ×{tote.quantity}</span>
          )}
        </span>
      ))}
    </span>
  )
}
