import { STAGE_KIND_WORDS, STAGE_KINDS } from '../../core/installations/stage-kinds.ts'
import type { WeekAhead } from '../../core/visits/look-ahead-shapes.ts'
import { hoursInWords, minutesAsPlanned, stagesInWords } from '../../core/visits/look-ahead-words.ts'
import type { TableColumn } from '../design/table-columns.ts'
import { DateText } from '../design/Words.tsx'

/** Hours to two decimals for a sheet of figures: 31.33. */
const inHours = (minutes: number): number => Math.round((minutes * 100) / 60) / 100

function hoursColumn(
  id: string,
  header: string,
  minutesOf: (week: WeekAhead) => number,
  width: number,
): TableColumn<WeekAhead> {
  return {
    id,
    header,
    value: minutesOf,
    cell: (week) => hoursInWords(minutesOf(week)),
    csv: (week) => inHours(minutesOf(week)),
    figures: true,
    largestFirst: true,
    width,
  }
}

/** The weeks ahead as figures: the same as the picture shows. */
export const lookAheadColumns: readonly TableColumn<WeekAhead>[] = [
  {
    id: 'monday',
    header: 'Week of',
    value: (week) => week.monday,
    cell: (week) => <DateText date={week.monday} />,
    width: 104,
    fixed: true,
  },
  hoursColumn('hours', 'Hours there are', (week) => week.hours, 104),
  hoursColumn('filled', 'Planned and booked', minutesAsPlanned, 136),
  hoursColumn('evened', 'Evened out', (week) => week.evenedMinutes, 88),
  {
    id: 'planned',
    header: 'Visits planned',
    value: (week) => week.planned.visits,
    figures: true,
    largestFirst: true,
    width: 96,
  },
  {
    id: 'booked',
    header: 'Booked',
    value: (week) => week.booked.visits,
    figures: true,
    largestFirst: true,
    width: 68,
  },
  hoursColumn('earlier', 'Could be earlier', (week) => week.earlier.minutes, 104),
  hoursColumn('later', 'Could be later', (week) => week.later.minutes, 96),
  {
    id: 'stages',
    header: 'Stages seen to',
    value: (week) => week.stages.reduce((sum, stage) => sum + stage.count, 0),
    cell: (week) => stagesInWords(week.stages),
    csv: (week) => stagesInWords(week.stages),
    largestFirst: true,
    width: { share: 1, least: 200 },
  },
  ...STAGE_KINDS.map(
    (kind): TableColumn<WeekAhead> => ({
      id: `stage-${kind}`,
      header: STAGE_KIND_WORDS[kind].name,
      value: (week) => week.stages.find((stage) => stage.kind === kind)?.count ?? 0,
      figures: true,
      largestFirst: true,
      width: 84,
      hidden: true,
    }),
  ),
]
