import type { WeekAhead } from '../../core/desk/desk-contract.ts'
import { type Box, diagonalStrokes } from '../../core/installations/stage-train-geometry.ts'
import { dayAndMonth } from '../../core/units/date-words.ts'
import { useOffice } from '../design/office-manner.ts'
import { Picture } from '../design/Picture.tsx'
import { useWidth } from '../design/use-width.ts'
import { lookAheadInWords, niceCeiling } from './look-ahead-words.ts'

const HEIGHT = 224
const LEFT = 40
const FOOT = 172
const TOP = 12

/** Stages falling due and visits booked, a week a column. Late stages are hatched, visits are open rings: read without colour. */
export function LookAhead({ weeks }: { readonly weeks: readonly WeekAhead[] }) {
  const { locale } = useOffice()
  const [place, seen] = useWidth(1040)
  const width = Math.max(320, seen)
  const most = niceCeiling(Math.max(1, ...weeks.map((week) => Math.max(week.stages, week.visits))))
  const step = (width - LEFT) / Math.max(1, weeks.length)
  const yOf = (count: number): number => FOOT - (count / most) * (FOOT - TOP)
  return (
    <div ref={place}>
      <Picture
        title="What falls due and what is booked, week by week"
        words={lookAheadInWords(weeks, locale)}
        width={width}
        height={HEIGHT}
      >
        {[0, most / 2, most].map((count) => (
          <g key={count}>
            <path className={count === 0 ? 'picture-line' : 'picture-rule'} d={`M${LEFT} ${yOf(count)}H${width}`} />
            <text className="second" x={LEFT - 8} y={yOf(count) + 4} textAnchor="end">
              {count}
            </text>
          </g>
        ))}
        {weeks.map((week, index) => (
          <Week
            key={week.monday}
            week={week}
            x={LEFT + (index + 0.18) * step}
            width={step * 0.64}
            yOf={yOf}
            dated={index % 4 === 0}
          />
        ))}
        <Legend />
      </Picture>
    </div>
  )
}

interface WeekProps {
  readonly week: WeekAhead
  readonly x: number
  readonly width: number
  readonly yOf: (count: number) => number
  /** Every fourth week carries its date. */
  readonly dated: boolean
}

function Week({ week, x, width, yOf, dated }: WeekProps) {
  const { locale } = useOffice()
  const onTime = yOf(week.stages - week.lateStages)
  const top = yOf(week.stages)
  return (
    <g>
      {onTime < FOOT && <rect className="picture-bar" x={x} y={onTime} width={width} height={FOOT - onTime} />}
      {week.lateStages > 0 && <Hatched box={{ x, y: top, width, height: onTime - top }} />}
      {week.visits > 0 && <circle className="picture-open" cx={x + width / 2} cy={yOf(week.visits)} r={4} />}
      {dated && (
        <text className="second" x={x} y={FOOT + 18}>
          {dayAndMonth(week.monday, locale)}
        </text>
      )}
    </g>
  )
}

function Hatched({ box }: { readonly box: Box }) {
  const strokes = diagonalStrokes(box, 4).map((stroke) => `M${stroke.x1} ${stroke.y1}L${stroke.x2} ${stroke.y2}`)
  return (
    <>
      <rect className="picture-bar" data-late x={box.x} y={box.y} width={box.width} height={box.height} />
      <path className="picture-hatch" d={strokes.join('')} />
    </>
  )
}

function Legend() {
  const y = HEIGHT - 11
  return (
    <g>
      <rect className="picture-bar" x={LEFT} y={y} width={12} height={10} />
      <text x={LEFT + 18} y={HEIGHT - 2}>
        stages falling due
      </text>
      <Hatched box={{ x: LEFT + 150, y, width: 12, height: 10 }} />
      <text x={LEFT + 168} y={HEIGHT - 2}>
        late already
      </text>
      <circle className="picture-open" cx={LEFT + 270} cy={y + 5} r={4} />
      <text x={LEFT + 280} y={HEIGHT - 2}>
        visits booked
      </text>
    </g>
  )
}
