import type { KeyboardEvent } from 'react'
import type { PullLineRow, ShortageRow, VanPullRow } from '../../core/stock/pull-contract.ts'
import { sharePieces } from '../../core/stock/share-pieces.ts'
import { Button } from '../design/Button.tsx'
import { CheckField } from '../design/CheckField.tsx'
import { useOffice } from '../design/office-manner.ts'
import { useDraft } from '../design/use-draft.ts'
import { FoundForm } from './FoundForm.tsx'
import { expiryWords, foundWords, shortageWords } from './pull-words.ts'

type Tote = PullLineRow['totes'][number]
/** Pieces found; null takes the tick away. */
type OnTick = (line: PullLineRow, pulled: number | null) => void

/**
 * The list of a van in the order of the walk, then what is short. Up and down go from box to box, Space ticks all of a line, a figure
 * opens the field for fewer.
 */
export function PullLines({ van, onTick }: { readonly van: VanPullRow; readonly onTick: OnTick | null }) {
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
          <PulledLine key={line.lineId ?? `${line.bin}/${line.lot}/${line.part.number}`} line={line} onTick={onTick} />
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

interface LineProps {
  readonly line: PullLineRow
  readonly onTick: OnTick | null
}

function PulledLine({ line, onTick }: LineProps) {
  const isPulled = line.pulled !== null
  const isFewer = line.pulled !== null && line.pulled < line.quantity
  const instead = line.insteadOf === null ? '' : `, instead of ${line.insteadOf.name} ${line.insteadOf.number}`
  const fewer = useDraft<{ readonly found: number | null } | null>(`found-${line.lineId ?? 'planned'}`, null)
  const isAsking = onTick !== null && fewer.draft !== null
  const onFigure = (event: KeyboardEvent<HTMLLIElement>): void => {
    if (onTick === null || !isBox(event.target) || !/^\d$/.test(event.key)) return
    event.preventDefault()
    fewer.setDraft({ found: Number(event.key) })
  }
  return (
    <li
      className="pull-line"
      data-pulled={isPulled || undefined}
      data-fewer={isFewer || undefined}
      onKeyDownCapture={onFigure}
    >
      <span className="pull-tick">
        {onTick !== null && (
          <CheckField
            glove
            value={isPulled && !isFewer}
            isSome={isFewer && line.pulled !== 0}
            onChange={(value) => {
              fewer.discard()
              onTick(line, value ? line.quantity : null)
            }}
            aria-label={`${line.quantity} of ${line.part.name}, bin ${line.bin}`}
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
        </span>
        {isFewer && <b className="pull-found">{foundWords(line)}</b>}
      </span>
      <Totes totes={line.totes} found={line.pulled ?? line.quantity} />
      <span className="pull-fewer">
        {onTick !== null && !isAsking && (
          <FewerButton line={line} onTick={onTick} onAsk={() => fewer.setDraft({ found: line.pulled })} />
        )}
      </span>
      {onTick !== null && fewer.draft !== null && (
        <FoundForm
          line={line}
          found={fewer.draft.found}
          onFound={(found) => fewer.setDraft({ found })}
          onDone={(found) => {
            onTick(line, found)
            fewer.discard()
          }}
          onLeave={fewer.discard}
        />
      )}
    </li>
  )
}

/** The way to say that fewer are there; a single piece is there or it is not. */
function FewerButton({ line, onTick, onAsk }: { line: PullLineRow; onTick: OnTick; onAsk: () => void }) {
  const of = `${line.part.name}, bin ${line.bin}`
  if (line.quantity > 1)
    return (
      <Button kind="quiet" glove onPress={onAsk} aria-label={`Fewer found than ${line.quantity} of ${of}`}>
        Fewer
      </Button>
    )
  if (line.pulled === 0)
    return (
      <Button kind="quiet" glove onPress={() => onTick(line, null)} aria-label={`Look again for ${of}`}>
        Look again
      </Button>
    )
  return (
    <Button kind="quiet" glove onPress={() => onTick(line, 0)} aria-label={`Not there: ${of}`}>
      Not there
    </Button>
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
