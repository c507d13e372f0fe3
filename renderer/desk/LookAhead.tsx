import type { WeekAhead } from '../../core/desk/desk-contract.ts'
import { diagonalStrokes } from '../../core/installations/stage-train-geometry.ts'
import { dayAndMonth } from '../../core/units/date-words.ts'
import { useOffice } from '../design/office-manner.ts'
import { Picture } from '../design/Picture.tsx'
import { lookAheadInWords, niceCeiling } from './look-ahead-words.ts'

const WIDTH = 1040
const HEIGHT = 208
const LEFT = 40
const FOOT = 172
const TOP = 12

/** Stages falling due and visits booked, a week a column. Late stages are hatched, visits are open rings: read without colour. */
export function LookAhead({ weeks }: { readonly weeks: readonly WeekAhead[] }) {
  const { locale } = useOffice()
  const most = niceCeiling(Math.max(1, ...weeks.map((week) => Math.max(week.stages, week.visits))))
  const step = (WIDTH - LEFT) / Math.max(1, weeks.length)
  const yOf = (count: number): number => FOOT - (count / most) * (FOOT - TOP)
  return (
    <Picture
      title="What falls due and what is booked, week by week"
      words={lookAheadInWords(weeks, locale)}
      width={WIDTH}
      height={HEIGHT}
    >
      {[0, most / 2, most].map((count) => (
        <g key={count}>
          <path className={count === 0 ? 'picture-line' : 'picture-rule'} d={`M${LEFT} ${yOf(count)}H${WIDTH}`} />
          <text className="second" x={LEFT - 8} y={yOf(count) + 4} textAnchor="end">
            {count}
          </text>
        </g>
      ))}
      {weeks.map((week, index) => {
        const x = LEFT + index * step + step * 0.18
        const width = step * 0.64
        const late = { x, y: yOf(week.stages), width, height: yOf(week.stages - week.lateStages) - yOf(week.stages) }
        return (
          <g key={week.monday}>
            <rect
              className="picture-bar"
              x={x}
              y={yOf(week.stages - week.lateStages)}
              width={width}
              height={FOOT - yOf(week.stages - week.lateStages)}
            />
            {week.lateStages > 0 && (
              <>
                <rect className="picture-bar" data-late x={late.x} y={late.y} width={late.width} height={late.height} />
                <path
                  className="picture-hatch"
                  d={diagonalStrokes(late, 4)
                    .map((s) => `M${s.x1} ${s.y1}L${s.x2} ${s.y2}`)
                    .join('')}
                />
              </>
            )}
            {week.visits > 0 && <circle className="picture-open" cx={x + width / 2} cy={yOf(week.visits)} r={4} />}
            {index % 4 === 0 && (
              <text className="second" x={x} y={FOOT + 18}>
                {dayAndMonth(week.monday, locale)}
              </text>
            )}
          </g>
        )
      })}
      <g>
        <rect className="picture-bar" x={LEFT} y={HEIGHT - 11} width={12} height={10} />
        <text x={LEFT + 18} y={HEIGHT - 2}>
          stages falling due
        </text>
        <rect className="picture-bar" data-late x={LEFT + 150} y={HEIGHT - 11} width={12} height={10} />
        <path
          className="picture-hatch"
          d={diagonalStrokes({ x: LEFT + 150, y: HEIGHT - 11, width: 12, height: 10 }, 4)
            .map((s) => `M${s.x1} ${s.y1}L${s.x2} ${s.y2}`)
            .join('')}
        />
        <text x={LEFT + 168} y={HEIGHT - 2}>
          late already
        </text>
        <circle className="picture-open" cx={LEFT + 270} cy={HEIGHT - 6} r={4} />
        <text x={LEFT + 280} y={HEIGHT - 2}>
          visits booked
        </text>
      </g>
    </Picture>
  )
}
