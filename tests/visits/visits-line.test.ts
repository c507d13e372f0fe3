import { expect, test } from 'vitest'
import { calendarDate } from '../../core/units/calendar-date.ts'
import type { Drawing, Spot } from '../../core/units/drawing.ts'
import { drawVisits } from '../../core/visits/visits-line.ts'
import { TEN_VISITS } from '../renderer/gallery/some-stories.ts'

const pointsOf = (drawing: Drawing, shape: string): Spot[] =>
  drawing.marks.flatMap((mark) => (mark.kind === 'point' && mark.shape === shape ? [mark.at] : []))

test('PIC-4 every change is a dot and every sanitising a ring, in the row of its stage and under its visit', () => {
  const drawing = drawVisits(TEN_VISITS, 600)
  const changes = TEN_VISITS.visits.flatMap((visit) => visit.changes)
  const tank = TEN_VISITS.stages.find((stage) => stage.care === 'sanitise')?.stageId
  const sanitisings = changes.filter((change) => change.stageId === tank).length
  expect(pointsOf(drawing, 'dot')).toHaveLength(changes.length - sanitisings + 1)
  expect(pointsOf(drawing, 'ring')).toHaveLength(sanitisings + 1)
  const rows = new Set(pointsOf(drawing, 'dot').map(({ y }) => y))
  expect(rows.size).toBe(TEN_VISITS.stages.length - 1 + 1)
})

test('PIC-4 what is late is hatched up to the visit with the end of its grace, what comes early is dotted to its date', () => {
  const late = drawVisits({ ...TEN_VISITS, visits: TEN_VISITS.visits.slice(1, 2) }, 900)
  const early = drawVisits({ ...TEN_VISITS, visits: TEN_VISITS.visits.slice(0, 1) }, 900)
  const lines = (drawing: Drawing, look: string) =>
    drawing.marks.flatMap((mark) => (mark.kind === 'line' && mark.look === look ? [mark.lines] : []))
  // The legend holds one of each.
  expect(lines(late, 'thin').length).toBeGreaterThan(1)
  expect(lines(late, 'dotted')).toHaveLength(1)
  // Tank and minerals are seen to before they are due.
  expect(lines(early, 'dotted')).toHaveLength(3)
})

test('PIC-4 dates at the top never lie over each other, and a household without a plan has an empty line', () => {
  for (const width of [320, 556, 940]) {
    const drawing = drawVisits(TEN_VISITS, width)
    const dates = drawing.marks.flatMap((mark) =>
      mark.kind === 'words' && mark.at.y < 30 ? [{ x: mark.at.x, half: mark.text.length * 3.2 }] : [],
    )
    for (const [index, date] of dates.entries()) {
      const before = dates[index - 1]
      if (before) expect(date.x - date.half).toBeGreaterThan(before.x + before.half)
    }
  }
  const bare = drawVisits({ ...TEN_VISITS, stages: [], visits: [], from: calendarDate('2026-12-01') }, 600)
  expect(pointsOf(bare, 'dot')).toHaveLength(1)
})

test('PIC-4 with two units each has a line with its name, and no row lies on another', () => {
  const stages = TEN_VISITS.stages.map((stage, index) => ({ ...stage, unit: index < 3 ? 'Kitchen' : 'Summer house' }))
  const drawing = drawVisits({ ...TEN_VISITS, stages }, 600)
  const words = drawing.marks.flatMap((mark) => (mark.kind === 'words' ? [mark] : []))
  const [kitchen, summer, tank] = ['Kitchen', 'Summer house', 'Tank'].map(
    (text) => words.find((mark) => mark.text === text)?.at.y ?? 0,
  )
  expect(kitchen).toBeLessThan(summer ?? 0)
  expect(summer).toBeLessThan(tank ?? 0)
  const rows = words.filter((mark) => mark.align === 'end').map((mark) => mark.at.y)
  expect(new Set(rows).size).toBe(stages.length)
})
