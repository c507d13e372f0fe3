import type { PullLineRow, ShortageRow, VanPullRow } from '../../core/stock/pull-contract.ts'
import { CheckField } from '../design/CheckField.tsx'
import { useOffice } from '../design/office-manner.ts'
import { expiryWords, shortageWords } from './pull-words.ts'

type Tote = PullLineRow['totes'][number]

/** The list of a van in the order of the walk, then what is short. Up and down go from box to box. */
export function PullLines({
  van,
  onTick,
}: {
  readonly van: VanPullRow
  readonly onTick: ((line: PullLineRow, isPulled: boolean) => void) | null
}) {
  return (
    <div className="pull-list">
      <div className="pull-heads second small" aria-hidden="true">
        <span />
        <span>Bin</span>
        <span className="pull-figure">Pull</span>
        <span>Part and lot</span>
        <span>Totes</span>
      </div>
      <ol className="pull-lines" aria-label={`What to pull for ${van.van}`}>
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

function PulledLine({
  line,
  onTick,
}: {
  readonly line: PullLineRow
  readonly onTick: ((line: PullLineRow, isPulled: boolean) => void) | null
}) {
  const isPulled = line.pulled !== null
  const instead = line.insteadOf === null ? '' : `, instead of ${line.insteadOf.name} ${line.insteadOf.number}`
  return (
    <li className="pull-line" data-pulled={isPulled || undefined}>
      <span className="pull-tick">
        {onTick !== null && (
          <CheckField
            glove
            value={isPulled}
            onChange={(value) => onTick(line, value)}
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
          {line.pulled !== null && line.pulled < line.quantity && `; only ${line.pulled} found`}
        </span>
      </span>
      <Totes totes={line.totes} />
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
      <Totes totes={row.totes} />
    </li>
  )
}

/** A box a stop; how many when it is more than one. */
function Totes({ totes }: { readonly totes: readonly Tote[] }) {
  return (
    <span className="pull-totes">
      <span className="for-ears">Totes </span>
      {totes.map((tote) => (
        <span key={tote.visitId} className="pull-tote" title={tote.household}>
          {tote.stop}
          {tote.quantity > 1 && <span className="small"> ×{tote.quantity}</span>}
        </span>
      ))}
    </span>
  )
}
