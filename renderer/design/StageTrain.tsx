import type { TrainStage } from '../../core/installations/stage-train.ts'
import {
  drawStageTrain,
  ROW_TRAIN,
  type Stroke,
  type TrainDrawing,
  type VesselDrawing,
} from '../../core/installations/stage-train-geometry.ts'
import { trainInWords } from '../../core/installations/stage-train-words.ts'
import { dayAndMonth, shortDate } from '../../core/units/date-words.ts'
import { useOffice } from './office-manner.ts'
import { useWidth } from './use-width.ts'
import './stage-train.css'

interface StageTrainProps {
  readonly stages: readonly TrainStage[]
  /** `row`: 120 x 20 without words, for a table row. `full`: as wide as its place, with words. */
  readonly size: 'row' | 'full'
}

/** An installation as its vessels in flow order, filled to the life left. The same component everywhere. */
export function StageTrain({ stages, size }: StageTrainProps) {
  return size === 'row' ? <RowTrain stages={stages} /> : <FullTrain stages={stages} />
}

function RowTrain({ stages }: { readonly stages: readonly TrainStage[] }) {
  const office = useOffice()
  const drawing = drawStageTrain(stages, ROW_TRAIN.width, 'row')
  return (
    <svg
      className="stage-train"
      role="img"
      aria-label={trainInWords(stages, office.today, office.locale)}
      width={ROW_TRAIN.width}
      height={ROW_TRAIN.height}
      viewBox={`0 0 ${ROW_TRAIN.width} ${ROW_TRAIN.height}`}
    >
      <Vessels drawing={drawing} />
    </svg>
  )
}

function FullTrain({ stages }: { readonly stages: readonly TrainStage[] }) {
  const office = useOffice()
  const [place, width] = useWidth(556)
  const drawing = drawStageTrain(stages, Math.max(240, width), 'full')
  return (
    <figure ref={place} className="stage-train-full">
      <svg
        className="stage-train"
        role="img"
        aria-label={trainInWords(stages, office.today, office.locale)}
        width={drawing.width}
        height={drawing.height}
        viewBox={`0 0 ${drawing.width} ${drawing.height}`}
      >
        {drawing.lines.map((line) => (
          <g key={line.line.y1}>
            <text className="stage-train-end" x={0} y={line.line.y1 - 6}>
              {line.fromFeed ? 'feed' : 'from above'}
            </text>
            <text className="stage-train-end" x={drawing.width} y={line.line.y1 - 6} textAnchor="end">
              {line.toTap ? 'tap' : 'on below'}
            </text>
          </g>
        ))}
        <Vessels drawing={drawing} />
      </svg>
      {drawing.vessels.map((vessel) => (
        <Words key={vessel.stage.stageId} vessel={vessel} />
      ))}
    </figure>
  )
}

/** The words under a vessel. Hidden from ears: the picture's own text says them in full. */
function Words({ vessel }: { readonly vessel: VesselDrawing }) {
  const office = useOffice()
  const { stage, words } = vessel
  if (!words) return null
  const style = { left: vessel.centre - words.width / 2, top: words.top, width: words.width }
  return (
    <figcaption className="stage-train-words" style={style} aria-hidden="true" title={stage.reason}>
      <span className="bold">{stage.label}</span>
      <span>
        {stage.dueOn === null
          ? 'no date yet'
          : words.width < 76
            ? dayAndMonth(stage.dueOn, office.locale)
            : shortDate(stage.dueOn, office.locale)}
      </span>
      <span className="stage-train-reason">{stage.reason}</span>
    </figcaption>
  )
}

function Vessels({ drawing }: { readonly drawing: TrainDrawing }) {
  return (
    <>
      {drawing.lines.map((line) => (
        <path
          key={line.line.y1}
          className="stage-train-line"
          d={[line.line, ...line.arrows.flat()].map(strokeData).join('')}
        />
      ))}
      {drawing.vessels.map((vessel) => (
        <Vessel key={vessel.stage.stageId} vessel={vessel} />
      ))}
    </>
  )
}

function Vessel({ vessel }: { readonly vessel: VesselDrawing }) {
  const { outline, ring, stem, undated, beyondScale } = vessel
  const ink = [stem, undated].filter((stroke) => stroke !== null)
  return (
    <g>
      {vessel.fillPath !== null && <path className="stage-train-water" d={vessel.fillPath} />}
      <rect
        className="stage-train-vessel"
        x={outline.x}
        y={outline.y}
        width={outline.width}
        height={outline.height}
        rx={outline.radius}
      />
      {ink.length > 0 && <path className="stage-train-vessel" d={ink.map(strokeData).join('')} />}
      {vessel.hatchStrokes.length > 0 && (
        <path className="stage-train-hatch" d={vessel.hatchStrokes.map(strokeData).join('')} />
      )}
      {beyondScale && <path className="stage-train-vessel" d={strokeData(beyondScale)} />}
      {ring && (
        <rect
          className="stage-train-ring"
          x={ring.x}
          y={ring.y}
          width={ring.width}
          height={ring.height}
          rx={ring.radius}
        />
      )}
    </g>
  )
}

function strokeData(stroke: Stroke): string {
  return `M${round(stroke.x1)} ${round(stroke.y1)}L${round(stroke.x2)} ${round(stroke.y2)}`
}

function round(value: number): number {
  return Math.round(value * 100) / 100
}
