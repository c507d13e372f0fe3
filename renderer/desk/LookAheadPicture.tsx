import { type CSSProperties, type ReactNode, useId } from 'react'
import { type Box, diagonalStrokes } from '../../core/installations/stage-train-geometry.ts'
import { dayAndMonth } from '../../core/units/date-words.ts'
import type { LookAhead } from '../../core/visits/look-ahead-shapes.ts'
import { hoursInWords, lookAheadInWords, weekInWords, weekName } from '../../core/visits/look-ahead-words.ts'
import { useOffice } from '../design/office-manner.ts'
import { Picture } from '../design/Picture.tsx'
import { useWidth } from '../design/use-width.ts'
import { type DrawnLookAhead, type DrawnWeek, drawLookAhead, PICTURE_HEIGHT } from './look-ahead-geometry.ts'

interface LookAheadPictureProps {
  readonly ahead: LookAhead
  /** Index of the chosen week. */
  readonly chosen: number
  readonly onChoose: (at: number) => void
}

/**
 * Minutes by week against the hours there are: booked filled, planned open, late hatched and apart; the hours a whole line, the
 * evened-out weeks a dotted one. Read without colour. A week is chosen by pressing it, or with the arrow keys.
 */
export function LookAheadPicture({ ahead, chosen, onChoose }: LookAheadPictureProps) {
  const { locale } = useOffice()
  const [place, seen] = useWidth(1040)
  const id = useId()
  const width = Math.max(320, seen)
  const drawn = drawLookAhead(ahead, width)
  const marked = drawn.weeks[chosen]
  return (
    <div>
      <Legend hasLate={drawn.late !== null} hasHours={ahead.technicians > 0} />
      <div ref={place} className="look-ahead">
        <Picture
          title="The next 52 weeks against the hours there are"
          words={lookAheadInWords(ahead, locale).join(' ')}
          width={width}
          height={PICTURE_HEIGHT}
        >
          {marked && <Marked week={marked} foot={drawn.foot} />}
          <Scale drawn={drawn} width={width} />
          {drawn.weeks.map((week) => (
            <Week key={week.week.monday} drawn={week} foot={drawn.foot} />
          ))}
          {drawn.late && <Late {...drawn.late} minutes={ahead.late.minutes} foot={drawn.foot} />}
          {ahead.technicians > 0 && <path className="picture-line" d={drawn.hoursPath} />}
          {ahead.peaks && <path className="look-ahead-evened" d={drawn.evenedPath} />}
        </Picture>
        <label className="for-ears" htmlFor={id}>
          Week to look at
        </label>
        <input
          id={id}
          className="look-ahead-weeks"
          type="range"
          min={0}
          max={ahead.weeks.length - 1}
          step={1}
          value={chosen}
          onChange={(event) => onChoose(Number(event.target.value))}
          aria-valuetext={`${weekName(ahead, chosen, locale)}: ${weekInWords(ahead, chosen, locale)[0] ?? ''}`}
          style={{ '--left': `${drawn.left}px`, '--week': `${drawn.step}px` } as CSSProperties}
        />
      </div>
    </div>
  )
}

function Scale({ drawn, width }: { readonly drawn: DrawnLookAhead; readonly width: number }) {
  return drawn.marks.map(({ y, hours }) => (
    <g key={hours}>
      <path className={hours === 0 ? 'picture-line' : 'picture-rule'} d={`M${drawn.left} ${y}H${width}`} />
      <text className="second" x={48} y={y + 4} textAnchor="end">
        {hours.toLocaleString('en-US')} h
      </text>
    </g>
  ))
}

function Marked({ week: { column }, foot }: { readonly week: DrawnWeek; readonly foot: number }) {
  const middle = column.x + column.width / 2
  return (
    <g>
      <rect className="look-ahead-chosen" {...column} />
      <path className="picture-ink" d={`M${middle} ${column.y - 2}l-5 -8h10z`} />
      <path
        className="look-ahead-chosen-edge"
        d={`M${column.x} ${column.y}V${foot}M${column.x + column.width} ${column.y}V${foot}`}
      />
    </g>
  )
}

function Week({ drawn, foot }: { readonly drawn: DrawnWeek; readonly foot: number }) {
  const { locale } = useOffice()
  return (
    <g>
      {drawn.planned && <rect className="picture-bar" {...drawn.planned} />}
      {drawn.booked && <rect className="look-ahead-booked" {...drawn.booked} />}
      {drawn.isDated && (
        <>
          <path className="picture-rule" d={`M${drawn.column.x} ${foot}v5`} />
          <text className="second" x={drawn.column.x} y={foot + 20}>
            {dayAndMonth(drawn.week.monday, locale)}
          </text>
        </>
      )}
    </g>
  )
}

interface LateProps {
  readonly box: Box
  readonly isCut: boolean
  readonly minutes: number
  readonly foot: number
}

function Late({ box, isCut, minutes, foot }: LateProps) {
  return (
    <g>
      <Hatched box={box} />
      {isCut && (
        <path className="look-ahead-cut" d={`M${box.x - 3} ${box.y + 22}l${box.width + 6} -8v6l${-box.width - 6} 8z`} />
      )}
      <text x={box.x + box.width / 2} y={box.y - 6} textAnchor="middle">
        {hoursInWords(minutes)}
      </text>
      <text className="second" x={box.x + box.width / 2} y={foot + 20} textAnchor="middle">
        late
      </text>
    </g>
  )
}

function Hatched({ box }: { readonly box: Box }) {
  const strokes = diagonalStrokes(box, 4).map((stroke) => `M${stroke.x1} ${stroke.y1}L${stroke.x2} ${stroke.y2}`)
  return (
    <>
      <rect className="picture-bar" data-late {...box} />
      <path className="picture-hatch" d={strokes.join('')} />
    </>
  )
}

const SWATCH: Box = { x: 1, y: 2, width: 12, height: 10 }

/** What is what; the picture's own words say it for ears. */
function Legend({ hasLate, hasHours }: { readonly hasLate: boolean; readonly hasHours: boolean }) {
  return (
    <ul className="look-ahead-legend second small" aria-hidden="true">
      <li>
        <Swatch>
          <rect className="picture-bar" {...SWATCH} />
        </Swatch>
        planned visits
      </li>
      <li>
        <Swatch>
          <rect className="look-ahead-booked" {...SWATCH} />
        </Swatch>
        booked visits
      </li>
      {hasLate && (
        <li>
          <Swatch>
            <Hatched box={SWATCH} />
          </Swatch>
          past the grace
        </li>
      )}
      {hasHours && (
        <>
          <li>
            <Swatch width={26}>
              <path className="picture-line" d="M0 7H26" />
            </Swatch>
            hours there are
          </li>
          <li>
            <Swatch width={26}>
              <path className="look-ahead-evened" d="M0 7H26" />
            </Swatch>
            evened out within grace
          </li>
        </>
      )}
    </ul>
  )
}

function Swatch({ width = 14, children }: { readonly width?: number; readonly children: ReactNode }) {
  return (
    <svg className="picture-swatch" viewBox={`0 0 ${width} 14`} width={width} height={14} aria-hidden="true">
      {children}
    </svg>
  )
}
