import type { DrawnFlow, FlowStory } from '../../../core/due/flow-picture.ts'
import type { DrawnTrend, RejectionStory } from '../../../core/due/rejection-picture.ts'
import { addDays, type CalendarDate, calendarDate } from '../../../core/units/calendar-date.ts'
import { stageIdSchema } from '../../../core/units/ids.ts'
import { flow } from '../../../core/units/measures.ts'
import type { LineStage, VisitsStory } from '../../../core/visits/visits-line.ts'
import { bandOn, membraneTrend, percentOn, type RejectionTrend } from '../../../core/water/membrane-trend.ts'

const THRESHOLDS = { healthyPercent: 90, replacePercent: 75, overduePercent: 70, widestBandDays: 730 }
const TODAY = calendarDate('2026-12-01')

type Read = readonly [string, number, ('counts' | 'unlikely' | 'struck')?]

/** A membrane's story from days and percents, its trend as the water folder reckons it. */
export function aRejectionStory(fittedOn: string | null, reads: readonly Read[]): RejectionStory {
  const readings = reads.map(([on, rejectionPercent, standing = 'counts']) => ({
    takenOn: calendarDate(on),
    rejectionPercent,
    standing,
  }))
  const finding = membraneTrend(
    readings.flatMap((reading) =>
      reading.standing === 'struck' ? [] : [{ ...reading, unlikely: reading.standing === 'unlikely' }],
    ),
    THRESHOLDS,
  )
  const trend = 'trend' in finding ? finding.trend : null
  return {
    today: TODAY,
    fittedOn: fittedOn === null ? null : calendarDate(fittedOn),
    readings,
    trend: trend && drawnTrend(trend),
    crossing:
      finding.kind === 'crosses' || finding.kind === 'unsure'
        ? { on: finding.on, earliestOn: finding.earliestOn, latestOn: finding.latestOn }
        : null,
    marks: THRESHOLDS,
  }
}

function drawnTrend(trend: RejectionTrend): DrawnTrend {
  const { firstOn, lastOn } = trend
  const days = Array.from({ length: 60 }, (_, step) => addDays(firstOn, step * 60))
  return {
    firstOn,
    lastOn,
    line: [days[0] ?? firstOn, days.at(-1) ?? lastOn].map((on) => ({ on, percent: percentOn(trend.middle, on) })),
    band: days.map((on) => ({ on, ...bandOn(trend, on) })),
  }
}

/** Hard water eats it: it reaches the mark in spring. One reading is unlikely, one was struck out. */
export const FAILING = aRejectionStory('2023-05-08', [
  ['2023-06-01', 95.4],
  ['2023-11-10', 93.8],
  ['2024-05-12', 91.2],
  ['2024-08-20', 60, 'struck'],
  ['2024-11-09', 89.1],
  ['2025-05-08', 85.6],
  ['2025-08-02', 93, 'unlikely'],
  ['2025-11-12', 82.9],
  ['2026-05-09', 79.3],
  ['2026-11-02', 77.0],
])

export const HEALTHY = aRejectionStory('2019-03-02', [
  ['2020-03-10', 96.1],
  ['2021-03-12', 95.9],
  ['2022-03-09', 95.2],
  ['2023-03-20', 95.6],
  ['2024-03-15', 94.8],
  ['2025-03-11', 94.9],
  ['2026-03-14', 94.4],
])

export const BELOW = aRejectionStory('2023-01-10', [
  ['2024-11-20', 84],
  ['2025-11-18', 78],
  ['2026-06-16', 74],
  ['2026-11-16', 66],
])

export const TOO_FEW = aRejectionStory(null, [
  ['2026-05-08', 92],
  ['2026-11-08', 90],
])

const point = (
  on: string,
  measured: number,
  corrected: number | null,
  standing: DrawnFlow['standing'] = 'counts',
): DrawnFlow => ({
  takenOn: calendarDate(on),
  measured: flow(measured),
  corrected: corrected === null ? null : flow(corrected),
  standing,
})

/** Falls in winter as measured; put right it holds, until the filter ahead of it clogs. */
export const FALLEN: FlowStory = {
  today: TODAY,
  firstFlow: 163,
  fallPercent: 15,
  points: [
    point('2023-06-01', 150, 165),
    point('2023-08-01', 158, 161),
    point('2024-01-15', 98, 160),
    point('2024-07-12', 155, 158),
    point('2025-01-20', 92, 154),
    point('2025-07-08', 30, 33, 'unlikely'),
    point('2025-11-08', 118, 150),
    point('2026-11-02', 82, 118),
  ],
}

const stage = (id: number, label: string, dueOn: string, care: LineStage['care'] = 'change'): LineStage => ({
  stageId: stageIdSchema.parse(id),
  label,
  unit: '',
  care,
  dueOn: calendarDate(dueOn),
})

const everyHalfYear = [
  '2026-12-01',
  '2027-06-01',
  '2027-12-01',
  '2028-06-01',
  '2028-12-01',
  '2029-06-01',
  '2029-12-01',
  '2030-06-01',
  '2030-12-01',
  '2031-06-01',
]

/** Ten visits in five years. */
export const TEN_VISITS: VisitsStory = {
  from: TODAY,
  until: calendarDate('2031-12-01'),
  graceDays: 30,
  locale: 'en-US',
  stages: [
    stage(1, 'Sediment', '2026-11-09'),
    stage(2, 'Carbon', '2026-11-09'),
    stage(3, 'Membrane', '2028-08-01'),
    stage(4, 'Tank', '2027-05-08', 'sanitise'),
    stage(5, 'Post carbon', '2026-11-09'),
    stage(6, 'Minerals', '2027-01-19'),
  ],
  visits: everyHalfYear.map((on, index) => ({
    visitOn: calendarDate(on),
    changes: [1, 2, 3, 4, 5, 6]
      .filter((id) => (id === 3 ? index === 3 : id === 4 ? index % 2 === 0 : id === 6 ? index % 2 === 0 : true))
      .map((id) => ({ stageId: stageIdSchema.parse(id), dueOn: dueOf(id, on, index) })),
  })),
}

function dueOf(id: number, on: string, index: number): CalendarDate {
  if (index === 0) return calendarDate(id === 6 ? '2027-01-19' : id === 4 ? '2027-05-08' : '2026-11-09')
  if (id === 3) return calendarDate('2028-08-01')
  return calendarDate(index % 2 === 0 ? on : `${on.slice(0, 4)}-05-22`)
}
