import type { TrainStage } from '../installations/stage-train.ts'
import {
  drawStageTrain,
  type RoundedBox,
  type Stroke,
  type TrainDrawing,
} from '../installations/stage-train-geometry.ts'
import { trainInWords } from '../installations/stage-train-words.ts'
import { boxOutline, lineFrom } from './outlines.ts'
import type { Points } from './page-geometry.ts'
import type { Step } from './page-picture.ts'
import type { Paper } from './paper.ts'
import type { OutlineStyle } from './pen.ts'
import { drawText, type TextStyle } from './text-block.ts'

export interface TrainWords {
  /** Under a vessel, its name. */
  readonly name: (stage: TrainStage) => string
  /** Under the name, in small: "due Dec 3", "good until 2028". */
  readonly words: (stage: TrainStage) => string
}

/** The drawing is laid out for the screen's full size; on paper it is a little smaller. */
const SCALE = 0.8
const NAME: TextStyle = { size: 8, weight: 'semibold', leading: 1.2, align: 'centre' }
const WORDS: TextStyle = { size: 8, leading: 1.2, align: 'centre' }
const ENDS: TextStyle = { size: 7.5, ink: 'second' }

/** A stage train laid out across the text: how high it is, and how to draw it from a top. */
export interface SetTrain {
  readonly height: Points
  readonly draw: (top: Points) => void
}

/**
 * Lays out the stage train with patterns instead of tint. Life left is level strokes, lateness hangs hatched below, what the next
 * visit changes is ringed. Takes one line or as many as the stages need.
 */
export function setTrain(
  paper: Paper,
  { x, width }: { readonly x: Points; readonly width: Points },
  stages: readonly TrainStage[],
  { name, words }: TrainWords,
): SetTrain {
  const drawing = drawStageTrain(stages, width / SCALE, 'paper')
  const captions = drawing.vessels.map((vessel) => {
    const wide = (vessel.words?.width ?? 0) * SCALE
    const set = [paper.set(name(vessel.stage), wide, NAME), paper.set(words(vessel.stage), wide, WORDS)]
    const top = (vessel.words?.top ?? 0) * SCALE
    return {
      set,
      wide,
      x: vessel.centre * SCALE - wide / 2,
      top,
      foot: set.reduce((sum, text) => sum + text.height, top),
    }
  })
  const drawAt = (top: Points): void => {
    drawVessels(paper, drawing, x, top)
    for (const caption of captions) {
      let at = top + caption.top
      for (const text of caption.set) {
        drawText(paper.pen, text, x + caption.x, at, caption.wide)
        at += text.height
      }
    }
  }
  const inWords = trainInWords(stages, paper.facts.printedOn, paper.facts.locale)
  return {
    height: captions.reduce((most, caption) => Math.max(most, caption.foot), 20),
    draw: (top) => paper.structure('Figure', { alt: inWords }, () => paper.pen.content('Figure', () => drawAt(top))),
  }
}

/** The stage train in the flow. Returns its height. */
export function drawTrainOnPaper(paper: Paper, stages: readonly TrainStage[], words: TrainWords): Points {
  const train = setTrain(paper, paper.area, stages, words)
  paper.ensure(train.height)
  train.draw(paper.y)
  paper.y += train.height
  return train.height
}

function drawVessels(paper: Paper, drawing: TrainDrawing, left: Points, top: Points): void {
  const strokes = (lines: readonly Stroke[]): Step[] =>
    lines.flatMap((line) =>
      lineFrom(left + line.x1 * SCALE, top + line.y1 * SCALE, left + line.x2 * SCALE, top + line.y2 * SCALE),
    )
  const rounded = (box: RoundedBox): Step[] =>
    boxOutline(
      { x: left + box.x * SCALE, y: top + box.y * SCALE, width: box.width * SCALE, height: box.height * SCALE },
      box.radius * SCALE,
    )
  const draw = (steps: readonly Step[], style: OutlineStyle): void => paper.outline(steps, { line: 'ink', ...style })
  for (const line of drawing.lines) {
    draw(strokes([line.line, ...line.arrows.flat()]), { lineWidth: 0.9 })
    const base = top + line.line.y1 * SCALE - 5.5
    if (line.fromFeed) paper.pen.lettering('feed', left, base, ENDS)
    if (line.toTap)
      paper.pen.lettering('tap', left + drawing.width * SCALE - paper.widthOf('tap', ENDS.size), base, ENDS)
  }
  for (const vessel of drawing.vessels) {
    draw(rounded(vessel.outline), { lineWidth: 0.9 })
    draw(strokes([vessel.stem, vessel.undated, vessel.beyondScale].filter((stroke) => stroke !== null)), {
      lineWidth: 0.9,
    })
    draw(strokes(vessel.fillStrokes), { lineWidth: 0.5 })
    draw(strokes(vessel.hatchStrokes), { lineWidth: 0.5 })
    if (vessel.ring) draw(rounded(vessel.ring), { lineWidth: 0.6, dash: [1.5, 1.8] })
  }
}
