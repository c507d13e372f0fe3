import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { STAGE_KINDS } from '../../core/installations/stage-kinds.ts'
import { diagonalStrokes, drawStageTrain, ROW_TRAIN } from '../../core/installations/stage-train-geometry.ts'
import { trainInWords } from '../../core/installations/stage-train-words.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { aTrainStage, LATE_TRAIN, LONG_TRAIN } from '../renderer/gallery/some-trains.ts'

const someStages = fc.array(
  fc.record({
    kind: fc.constantFrom(...STAGE_KINDS),
    lifeLeft: fc.option(fc.double({ min: 0, max: 1, noNaN: true })),
    daysLate: fc.oneof(fc.constant(0), fc.nat(900)),
    ringed: fc.boolean(),
  }),
  { maxLength: 12 },
)
const trainOf = (
  rows: readonly { kind: (typeof STAGE_KINDS)[number]; lifeLeft: number | null; daysLate: number; ringed: boolean }[],
) => rows.map(({ kind, ...over }) => aTrainStage(kind, over))

describe('the stage train', () => {
  test('TRAIN-1 every stage is one vessel in flow order, none beside the line and none over another', () => {
    fc.assert(
      fc.property(someStages, fc.constantFrom('row', 'full', 'paper'), (rows, size) => {
        const stages = trainOf(rows)
        const width = size === 'row' ? ROW_TRAIN.width : 556
        const drawing = drawStageTrain(stages, width, size)
        expect(drawing.vessels.map((vessel) => vessel.stage)).toEqual(stages)
        for (const [index, vessel] of drawing.vessels.entries()) {
          expect(vessel.outline.x).toBeGreaterThanOrEqual(0)
          expect(vessel.outline.x + vessel.outline.width).toBeLessThanOrEqual(width + 0.01)
          const before = drawing.vessels[index - 1]
          if (before && before.outline.y === vessel.outline.y)
            expect(vessel.outline.x).toBeGreaterThanOrEqual(before.outline.x + before.outline.width)
        }
      }),
    )
  })

  test('TRAIN-2 a vessel is filled to the life it has left, an overdue one is empty', () => {
    fc.assert(
      fc.property(someStages, (rows) => {
        for (const vessel of drawStageTrain(trainOf(rows), 556, 'full').vessels) {
          const { fill, outline, stage } = vessel
          const share = fill ? (fill.width * fill.height) / (outline.width * outline.height) : 0
          expect(share).toBeCloseTo(stage.daysLate > 0 ? 0 : (stage.lifeLeft ?? 0), 6)
        }
      }),
    )
  })

  test('TRAIN-3 lateness hangs below to one scale, and lateness beyond the scale is closed off', () => {
    const late = (days: number) => drawStageTrain([aTrainStage('carbon', { daysLate: days })], 556, 'full').vessels[0]
    expect(late(0)?.hatch).toBeNull()
    expect(late(60)?.hatch?.height).toBeCloseTo((late(30)?.hatch?.height ?? 0) * 2, 6)
    expect(late(60)?.beyondScale).toBeNull()
    expect(late(61)?.beyondScale).not.toBeNull()
    expect(late(500)?.hatch?.height).toBe(late(60)?.hatch?.height)
  })

  test('TRAIN-4 what the next visit changes is ringed, lateness included', () => {
    const [sediment, , membrane] = drawStageTrain(LATE_TRAIN, 556, 'full').vessels
    expect(membrane?.ring).toBeNull()
    const foot = (sediment?.hatch?.y ?? 0) + (sediment?.hatch?.height ?? 0)
    expect((sediment?.ring?.y ?? 0) + (sediment?.ring?.height ?? 0)).toBeGreaterThan(foot)
  })

  test('TRAIN-1 a long train goes on in a second line', () => {
    const drawing = drawStageTrain(LONG_TRAIN, 556, 'full')
    expect(drawing.lines.map((line) => [line.fromFeed, line.toTap])).toEqual([
      [true, false],
      [false, true],
    ])
  })

  test('TRAIN-5 the words say the same as the drawing', () => {
    expect(trainInWords(LATE_TRAIN.slice(2, 4), calendarDate('2026-12-01'), 'en-US')).toBe(
      'From feed to tap: Membrane, due Aug 1, 2028, in 20 months, 55 % of its life left, rejects 88 %, 75 % by then; Tank, due May 8, 2027, in 5 months, 45 % of its life left, sanitise once a year. Next visit: sanitise tank.',
    )
    expect(trainInWords([], calendarDate('2026-12-01'), 'en-US')).toBe('No stages are recorded for this installation.')
  })

  test('TRAIN-3 hatching stays within its box', () => {
    const box = { x: 10, y: 20, width: 34, height: 7 }
    for (const stroke of diagonalStrokes(box, 5)) {
      for (const x of [stroke.x1, stroke.x2]) expect(x >= 10 && x <= 44).toBe(true)
      for (const y of [stroke.y1, stroke.y2]) expect(y >= 20 && y <= 27).toBe(true)
    }
  })
})
