import type { TrainStage } from '../../core/installations/stage-train.ts'
import {
  drawStageTrain,
  ROW_TRAIN,
  type Stroke,
  type TrainDrawing,
  type VesselDrawing,
} from '../../core/installations/stage-train-geometry.ts'
import { trainInWords } from '../../core/installations/stage-train-words.ts'
import type { CalendarDate } from '../../core/units/calendar-date.ts'
import { dayAndMonth, distanceInWords, shortDate } from '../../core/units/date-words.ts'
import type { StageId } from '../../core/units/ids.ts'
import { useOffice } from './office-manner.ts'
import { useWidth } from './use-width.ts'
import './stage-train.css'

interface LargeTrainProps {
  readonly stages: readonly TrainStage[]
  /** What the plan does with a stage, under its reason: "along, would fall due in 7 weeks". */
  readonly notes: ReadonlyMap<StageId, string>
  /** The stage whose rules are open below; null for none. */
  readonly open: StageId | null
  readonly onOpen: (stage: StageId | null) => void
}

type StageTrainProps =
  /** `row`: 120 x 20 without words, for a table row. `full`: as wide as its place, with words. */
  | { readonly stages: readonly TrainStage[]; readonly size: 'row' | 'full' }
  /** `large`: with life left and what the plan does; each stage opens its rules. */
  | ({ readonly size: 'large' } & LargeTrainProps)

/** An installation as its vessels in flow order, filled to the life left. The same component everywhere. */
export function StageTrain(props: StageTrainProps) {
  if (props.size === 'row') return <RowTrain stages={props.stages} />
  return <FullTrain stages={props.stages} large={props.size === 'large' ? props : null} />
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

interface FullTrainProps {
  readonly stages: readonly TrainStage[]
  readonly large: LargeTrainProps | null
}

function FullTrain({ stages, large }: FullTrainProps) {
  const office = useOffice()
  const [place, width] = useWidth(556)
  const drawing = drawStageTrain(
    stages,
    Math.max(240, width),
    'full',
    large ? (stage) => [stage.label, '', '', stage.reason, large.notes.get(stage.stageId) ?? ''] : undefined,
  )
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
      {drawing.vessels.map((vessel) =>
        large ? (
          <LargeWords key={vessel.stage.stageId} vessel={vessel} large={large} />
        ) : (
          <Words key={vessel.stage.stageId} vessel={vessel} />
        ),
      )}
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

/** The words under a vessel as a button that opens the rules behind its date. */
function LargeWords({ vessel, large }: { readonly vessel: VesselDrawing; readonly large: LargeTrainProps }) {
  const office = useOffice()
  const { stage, words } = vessel
  if (!words) return null
  const isOpen = large.open === stage.stageId
  const note = large.notes.get(stage.stageId)
  const style = { left: vessel.centre - words.width / 2, top: words.top, width: words.width }
  return (
    <button
      type="button"
      className="stage-train-words stage-train-button"
      style={style}
      aria-expanded={isOpen}
      onClick={() => large.onOpen(isOpen ? null : stage.stageId)}
    >
      <span className="bold">{stage.label}</span>
      <span>{stage.dueOn === null ? 'no date yet' : shortDate(stage.dueOn, office.locale)}</span>
      <span className="stage-train-left">{lifeInWords(stage, office.today)}</span>
      <span className="stage-train-reason" title={stage.reason}>
        {stage.reason}
      </span>
      {note !== undefined && <span className="stage-train-note">{note}</span>}
    </button>
  )
}

function lifeInWords(stage: TrainStage, today: CalendarDate): string {
  if (stage.dueOn !== null && stage.daysLate > 0) return distanceInWords(stage.dueOn, today)
  return stage.lifeLeft === null ? '' : `${Math.round(stage.lifeLeft * 100)} % left`
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
