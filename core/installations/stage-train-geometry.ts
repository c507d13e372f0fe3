import { STAGE_KIND_WORDS, type VesselShape } from './stage-kinds.ts'
import type { TrainStage } from './stage-train.ts'

/** Where the stage train is drawn: in a table row (no words), on a household, or on paper. */
export type TrainSize = 'row' | 'full' | 'paper'

/** What stands below a vessel on screen, text by text; the room is reckoned by it. */
export type WordsBelow = (stage: TrainStage) => readonly string[]
const NAME_AND_REASON: WordsBelow = (stage) => [stage.label, '', stage.reason]

export interface Box {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}
export interface RoundedBox extends Box {
  readonly radius: number
}
export interface Stroke {
  readonly x1: number
  readonly y1: number
  readonly x2: number
  readonly y2: number
}

/** One vessel, ready to be drawn. Lengths are px on screen and points on paper; y grows downward. */
export interface VesselDrawing {
  readonly stage: TrainStage
  readonly shape: VesselShape
  readonly centre: number
  readonly outline: RoundedBox
  /** The share of the vessel that stands for the life left; null when empty. */
  readonly fill: Box | null
  /** The same share as a closed outline path (SVG path data; pdfkit reads it too). */
  readonly fillPath: string | null
  /** Level strokes inside the fill, for paper, where pattern takes the place of tint. */
  readonly fillStrokes: readonly Stroke[]
  /** Lateness: hangs below the vessel, its height to the scale of `daysToFoot`. */
  readonly hatch: Box | null
  readonly hatchStrokes: readonly Stroke[]
  /** Lateness beyond the scale: the hatching ends in a closing stroke. */
  readonly beyondScale: Stroke | null
  /** A stroke across a vessel that was never dated. */
  readonly undated: Stroke | null
  readonly stem: Stroke | null
  readonly ring: RoundedBox | null
  /** Top of the words below this vessel, and the width they may take. */
  readonly words: { readonly top: number; readonly width: number } | null
}

export interface TrainLine {
  readonly line: Stroke
  /** Points of the arrows that show the flow; each is drawn as two strokes meeting there. */
  readonly arrows: readonly (readonly [Stroke, Stroke])[]
  readonly fromFeed: boolean
  readonly toTap: boolean
}

export interface TrainDrawing {
  readonly width: number
  readonly height: number
  readonly lines: readonly TrainLine[]
  readonly vessels: readonly VesselDrawing[]
  readonly daysToFoot: number
}

interface Measure {
  /** Width and height of each shape. */
  readonly sizes: Readonly<Record<VesselShape, readonly [number, number]>>
  readonly lineY: number
  readonly stem: number
  readonly gap: number
  /** Room below the tallest vessel for lateness, and the days it stands for. */
  readonly hatchRoom: number
  readonly daysToFoot: number
  readonly hatchGap: number
  readonly ringMargin: number
  readonly arrow: number
  /** Height of the words; 0 for none. */
  readonly wordsHeight: number
  /** The least width of a place on the line that still carries words. */
  readonly leastPlace: number
}

const LARGE: Omit<Measure, 'wordsHeight' | 'leastPlace'> = {
  sizes: { housing: [34, 62], membrane: [66, 28], tank: [52, 52], 'in-line': [56, 22] },
  lineY: 18,
  stem: 8,
  gap: 14,
  hatchRoom: 48,
  daysToFoot: 60,
  hatchGap: 2,
  ringMargin: 6,
  arrow: 8,
}

const MEASURES: Readonly<Record<TrainSize, Measure>> = {
  row: {
    sizes: { housing: [10, 13], membrane: [23, 8], tank: [16, 14], 'in-line': [16, 7] },
    lineY: 0.5,
    stem: 1.5,
    gap: 4,
    hatchRoom: 5,
    daysToFoot: 42,
    hatchGap: 0.5,
    ringMargin: 0,
    arrow: 0,
    wordsHeight: 0,
    leastPlace: 0,
  },
  full: { ...LARGE, wordsHeight: 72, leastPlace: 84 },
  paper: { ...LARGE, wordsHeight: 40, leastPlace: 72 },
}

/** Widest drawing of the size `row`, and its height: 120 by 20. */
export const ROW_TRAIN = { width: 120, height: 20 } as const

/**
 * Lays the stages of an installation on one line from feed to tap, in any number and make-up. On a household and on paper a
 * long train goes on in a second line. Vessels show the life left as fill; lateness hangs below as hatching, to scale
 * (`daysToFoot` days fill the room). `width` in the unit of the drawing. No stages: a bare line.
 */
export function drawStageTrain(
  stages: readonly TrainStage[],
  width: number,
  size: TrainSize,
  below: WordsBelow = NAME_AND_REASON,
): TrainDrawing {
  const measure = MEASURES[size]
  const perLine = size === 'row' ? Math.max(1, stages.length) : Math.max(1, Math.floor(width / measure.leastPlace))
  const lineCount = Math.max(1, Math.ceil(stages.length / perLine))
  const perEvenLine = Math.max(1, Math.ceil(stages.length / lineCount))
  const lines: TrainLine[] = []
  const vessels: VesselDrawing[] = []
  let top = 0
  for (let index = 0; index < lineCount; index += 1) {
    const onLine = stages.slice(index * perEvenLine, (index + 1) * perEvenLine)
    const places = size === 'row' ? packedPlaces(onLine, width, measure) : evenPlaces(onLine, width, measure)
    const foot = footOf(places, measure)
    for (const place of places) vessels.push(drawVessel(place, top, foot, width / Math.max(1, onLine.length), measure))
    lines.push(drawLine(top, width, onLine.length, measure, index === 0, index === lineCount - 1))
    top += foot + wordsRoom(onLine, width / Math.max(1, onLine.length), size, below)
  }
  return { width, height: size === 'row' ? ROW_TRAIN.height : top, lines, vessels, daysToFoot: measure.daysToFoot }
}

/** Room for the words below a line of vessels: on screen by what they are likely to take, on paper by the papers' own two lines. */
function wordsRoom(stages: readonly TrainStage[], share: number, size: TrainSize, below: WordsBelow): number {
  if (size === 'row') return 0
  if (size === 'paper') return MEASURES.paper.wordsHeight + 8
  const linesOf = (text: string): number =>
    Math.min(3, Math.max(1, Math.ceil((text.length * 6.6) / Math.max(40, share - 6))))
  const lines = stages.map((stage) => below(stage).reduce((sum, text) => sum + linesOf(text), 0))
  return Math.max(2, ...lines) * 16 + 12
}

interface Place {
  readonly stage: TrainStage
  readonly shape: VesselShape
  readonly centre: number
  readonly width: number
  readonly height: number
}

/** One after the other from the left; squeezed in width when they would not fit. */
function packedPlaces(stages: readonly TrainStage[], width: number, measure: Measure): Place[] {
  const natural = stages.reduce((sum, stage) => sum + sizeOf(stage, measure)[0] + measure.gap, -measure.gap) + 2
  const squeeze = Math.min(1, width / Math.max(1, natural))
  let x = 1
  return stages.map((stage) => {
    const [vesselWidth, height] = sizeOf(stage, measure)
    const place = {
      stage,
      shape: shapeOf(stage),
      centre: x + (vesselWidth * squeeze) / 2,
      width: vesselWidth * squeeze,
      height,
    }
    x += (vesselWidth + measure.gap) * squeeze
    return place
  })
}

/** Every stage in the middle of an equal share of the line. */
function evenPlaces(stages: readonly TrainStage[], width: number, measure: Measure): Place[] {
  const share = width / Math.max(1, stages.length)
  const widest = Math.max(1, ...stages.map((stage) => sizeOf(stage, measure)[0]))
  const squeeze = Math.min(1, (share - measure.gap) / widest)
  return stages.map((stage, index) => {
    const [vesselWidth, height] = sizeOf(stage, measure)
    return {
      stage,
      shape: shapeOf(stage),
      centre: share * (index + 0.5),
      width: vesselWidth * squeeze,
      height: height * squeeze,
    }
  })
}

function shapeOf(stage: TrainStage): VesselShape {
  return STAGE_KIND_WORDS[stage.kind].shape
}

function sizeOf(stage: TrainStage, measure: Measure): readonly [number, number] {
  return measure.sizes[shapeOf(stage)]
}

/** Height of the lateness below a vessel: to scale, at least 2, at most the room. */
function hatchHeight(daysLate: number, measure: Measure): number {
  if (daysLate <= 0) return 0
  return Math.max(2, (Math.min(daysLate, measure.daysToFoot) / measure.daysToFoot) * measure.hatchRoom)
}

function footOf(places: readonly Place[], measure: Measure): number {
  const top = measure.lineY + measure.stem
  const depths = places.map((place) => {
    const late = hatchHeight(place.stage.daysLate, measure)
    return top + place.height + (late > 0 ? measure.hatchGap + late : 0) + measure.ringMargin + 2
  })
  return Math.ceil(Math.max(top + 8, ...depths))
}

function drawVessel(place: Place, top: number, foot: number, share: number, measure: Measure): VesselDrawing {
  const { stage, shape, centre, width, height } = place
  const y = top + measure.lineY + measure.stem
  const outline: RoundedBox = { x: centre - width / 2, y, width, height, radius: radiusOf(shape, width, height) }
  const fill = fillOf(stage, shape, outline)
  const late = hatchHeight(stage.daysLate, measure)
  const inset = Math.min(2, width / 8)
  const hatch =
    late > 0 ? { x: outline.x + inset, y: y + height + measure.hatchGap, width: width - 2 * inset, height: late } : null
  const spacing = measure.wordsHeight > 0 ? 5 : 3
  return {
    stage,
    shape,
    centre,
    outline,
    fill,
    fillPath: fill ? fillPath(outline, fill, shape) : null,
    fillStrokes: fill ? levelStrokes(fill, outline, 3) : [],
    hatch,
    hatchStrokes: hatch ? diagonalStrokes(hatch, spacing) : [],
    beyondScale:
      hatch && stage.daysLate > measure.daysToFoot
        ? { x1: hatch.x, y1: hatch.y + hatch.height, x2: hatch.x + hatch.width, y2: hatch.y + hatch.height }
        : null,
    undated:
      stage.lifeLeft === null && late === 0
        ? { x1: centre - width / 5, y1: y + height / 2, x2: centre + width / 5, y2: y + height / 2 }
        : null,
    stem: measure.stem > 2 ? { x1: centre, y1: top + measure.lineY, x2: centre, y2: y } : null,
    ring: stage.ringed && measure.ringMargin > 0 ? ringOf(outline, hatch, measure.ringMargin) : null,
    words: measure.wordsHeight > 0 ? { top: top + foot + 4, width: share - 6 } : null,
  }
}

function radiusOf(shape: VesselShape, width: number, height: number): number {
  const least = Math.min(width, height)
  if (shape === 'housing') return Math.min(3, least / 5)
  if (shape === 'tank') return least / 2
  return shape === 'membrane' ? least / 2 : least / 2.5
}

function fillOf(stage: TrainStage, shape: VesselShape, outline: RoundedBox): Box | null {
  const share = stage.daysLate > 0 ? 0 : (stage.lifeLeft ?? 0)
  if (share <= 0) return null
  const { x, y, width, height } = outline
  if (shape === 'membrane' || shape === 'in-line') return { x, y, width: width * share, height }
  return { x, y: y + height * (1 - share), width, height: height * share }
}

function ringOf(outline: RoundedBox, hatch: Box | null, margin: number): RoundedBox {
  const foot = hatch ? hatch.y + hatch.height : outline.y + outline.height
  return {
    x: outline.x - margin,
    y: outline.y - margin,
    width: outline.width + 2 * margin,
    height: foot - outline.y + 2 * margin,
    radius: hatch ? margin + 2 : Math.min(outline.radius + margin, outline.width / 2 + margin),
  }
}

/**
 * The filled share of a rounded box as path data. Worked out for a vessel filled from its foot up (u across, v up from the foot);
 * a lying vessel, filled from the left, is the same with its axes changed over.
 */
function fillPath(outline: RoundedBox, fill: Box, shape: VesselShape): string {
  const lying = shape === 'membrane' || shape === 'in-line'
  const across = lying ? outline.height : outline.width
  const full = lying ? outline.width : outline.height
  const level = lying ? fill.width : fill.height
  const r = Math.min(outline.radius, across / 2, full / 2)
  const point = (u: number, v: number): string =>
    lying
      ? `${short(outline.x + v)} ${short(outline.y + u)}`
      : `${short(outline.x + u)} ${short(outline.y + outline.height - v)}`
  const arc = (u: number, v: number): string => `A${short(r)} ${short(r)} 0 0 0 ${point(u, v)}`
  const cut = (depth: number): number => r - Math.sqrt(Math.max(0, r * r - (r - depth) ** 2))
  if (level <= r) {
    const inset = cut(level)
    return `M${point(inset, level)}${arc(r, 0)}L${point(across - r, 0)}${arc(across - inset, level)}Z`
  }
  const foot = `${arc(r, 0)}L${point(across - r, 0)}${arc(across, r)}`
  if (level <= full - r) return `M${point(0, level)}L${point(0, r)}${foot}L${point(across, level)}Z`
  const inset = cut(full - level)
  return `M${point(inset, level)}${arc(0, full - r)}L${point(0, r)}${foot}L${point(across, full - r)}${arc(across - inset, level)}Z`
}

/** Level strokes inside a fill, kept within the rounded outline. */
function levelStrokes(fill: Box, outline: RoundedBox, spacing: number): Stroke[] {
  const strokes: Stroke[] = []
  for (let y = fill.y + fill.height - spacing / 2; y > fill.y; y -= spacing) {
    const fromTop = y - outline.y
    const depth = Math.min(fromTop, outline.height - fromTop)
    const r = outline.radius
    const inset = depth < r ? r - Math.sqrt(Math.max(0, r * r - (r - depth) ** 2)) : 0
    const x1 = Math.max(fill.x, outline.x + inset)
    const x2 = Math.min(fill.x + fill.width, outline.x + outline.width - inset)
    if (x2 > x1) strokes.push({ x1, y1: y, x2, y2: y })
  }
  return strokes
}

/** Strokes at 45 degrees, rising to the right, cut to a box. */
export function diagonalStrokes(box: Box, spacing: number): Stroke[] {
  const strokes: Stroke[] = []
  const { x, y, width, height } = box
  for (let offset = spacing / 2; offset < width + height; offset += spacing) {
    const start = Math.max(0, offset - height)
    const end = Math.min(width, offset)
    if (end > start) strokes.push({ x1: x + start, y1: y + offset - start, x2: x + end, y2: y + offset - end })
  }
  return strokes
}

function drawLine(
  top: number,
  width: number,
  count: number,
  measure: Measure,
  fromFeed: boolean,
  toTap: boolean,
): TrainLine {
  const y = top + measure.lineY
  const share = width / Math.max(1, count)
  const arrows: (readonly [Stroke, Stroke])[] = []
  const size = measure.arrow
  if (size > 0 && count > 0)
    for (let index = 1; index < Math.max(2, count); index += 1) {
      const x = share * index - 2
      arrows.push([
        { x1: x - size, y1: y - size / 2, x2: x, y2: y },
        { x1: x, y1: y, x2: x - size, y2: y + size / 2 },
      ])
    }
  return { line: { x1: 0, y1: y, x2: width, y2: y }, arrows, fromFeed, toTap }
}

function short(value: number): string {
  return String(Math.round(value * 100) / 100)
}
