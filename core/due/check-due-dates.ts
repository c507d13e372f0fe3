import { STAGE_KIND_WORDS } from '../installations/stage-kinds.ts'
import { addDays, type CalendarDate, dateFromParts, daysBetween, daysInMonth, partsOf } from '../units/calendar-date.ts'
import { hardnessClassOf } from '../water/hardness-classes.ts'
import { type FittedLine, type Line, theilSen } from '../water/theil-sen.ts'
import type { DueDefaults, InstallationFacts, StageDue, StageFacts } from './due-facts.ts'

/**
 * The judge of due dates: finds each stage's date again by other means (walking days one at a time, pouring water day by day, following a
 * membrane's line day by day) and says what differs. An empty list means the answer stands. Slow on purpose; for tests and for spot checks.
 */
export function checkDueDates(
  installation: InstallationFacts,
  defaults: DueDefaults,
  dues: readonly StageDue[],
): string[] {
  const expected = expectedDates(installation, defaults)
  const complaints = installation.stages.flatMap((stage, index) =>
    complaintsAbout(stage, dues[index], expected[index] ?? null),
  )
  if (dues.length > installation.stages.length)
    complaints.push(`${installation.stages.length} stages, ${dues.length} answers`)
  return complaints
}

function complaintsAbout(stage: StageFacts, due: StageDue | undefined, wanted: CalendarDate | null): string[] {
  const name = `${stage.kind} ${stage.stageId}`
  if (!due || due.stageId !== stage.stageId) return [`${name} has no answer at its place`]
  const complaints: string[] = []
  if (due.dueOn !== wanted) complaints.push(`${name}: ${due.dueOn} by ${due.rule}, not ${wanted}`)
  if (due.reason.trim() === '') complaints.push(`${name} has no reason`)
  if ((due.dueOn === null) !== (due.rule === 'not-dated'))
    complaints.push(`${name}: rule ${due.rule} beside ${due.dueOn}`)
  return complaints
}

function expectedDates(installation: InstallationFacts, defaults: DueDefaults): (CalendarDate | null)[] {
  const alone = installation.stages.map((stage, index) => {
    const behind = installation.stages.slice(index + 1)
    return dateAlone(
      stage,
      behind.some((other) => other.kind === 'membrane'),
      installation,
      defaults,
    )
  })
  return installation.stages.map((stage, index) => {
    const own = alone[index] ?? null
    const started = stage.changedOn ?? installation.fittedOn
    if (STAGE_KIND_WORDS[stage.kind].care !== 'sanitise' || stage.ownDueOn !== null || own === null || started === null)
      return own
    const dates = [own]
    installation.stages.forEach((other, at) => {
      if (other.kind !== 'membrane') return
      const membraneDue = alone[at]
      if (membraneDue) dates.push(membraneDue)
    })
    const changes = installation.stages.flatMap((other) =>
      other.kind === 'membrane' && other.changedOn ? [other.changedOn] : [],
    )
    const lastChange = changes.sort().at(-1)
    // A change that left the tank out is owed since then, and takes the place of the next change.
    if (lastChange !== undefined && lastChange > started) return [own, lastChange].sort()[0] ?? null
    return dates.sort()[0] ?? null
  })
}

function dateAlone(
  stage: StageFacts,
  ahead: boolean,
  installation: InstallationFacts,
  defaults: DueDefaults,
): CalendarDate | null {
  const recalled = stage.recall === null ? [] : [[stage.recall.on, stage.changedOn ?? ''].sort()[1] as CalendarDate]
  if (stage.ownDueOn) return [stage.ownDueOn, ...recalled].sort()[0] ?? null
  const started = stage.changedOn ?? installation.fittedOn
  const dates: CalendarDate[] = [...recalled]
  const count = started === null ? null : monthsFor(stage, installation, defaults)
  const thumb =
    started !== null && count !== null ? walkDays(started, count, awayFor(stage, installation, defaults)) : null
  const measured = stage.kind === 'membrane' ? measuredDate(installation, defaults, thumb) : null
  const months = measured ?? thumb
  if (months) dates.push(months)
  const poured = started === null ? null : pourDayByDay(stage, ahead, started, installation, defaults)
  if (poured) dates.push(poured)
  return dates.sort()[0] ?? null
}

/** The months that do not count for this stage: only those stages rest while nobody is there that go by the household. */
function awayFor(stage: StageFacts, installation: InstallationFacts, { intervals }: DueDefaults): readonly number[] {
  return intervals[stage.kind]?.basis === 'household' ? installation.monthsAway : []
}

function monthsFor(stage: StageFacts, installation: InstallationFacts, defaults: DueDefaults): number | null {
  const { settings } = defaults
  if (stage.ownMonths !== null) return stage.ownMonths
  if (stage.kind === 'tank') return settings.sanitiseMonths
  const rule = defaults.intervals[stage.kind]
  if (!rule || rule.basis === 'none') return null
  const span = rule.monthsMost - rule.monthsLeast
  if (rule.basis === 'feed-water') {
    const mg = installation.hardness ?? settings.usualHardness
    const waterClass = hardnessClassOf(mg)
    // In 180ths of the span, so that both slopes are whole numbers: 2 for each mg/L while soft, 1 after that.
    if (waterClass === 'soft') return wholeMonths(rule.monthsMost * 180 - span * 2 * mg, 180)
    return waterClass === 'moderately hard'
      ? wholeMonths(rule.monthsMost * 180 - span * (60 + mg), 180)
      : rule.monthsLeast
  }
  if (rule.basis === 'fixed') return rule.monthsMost
  if (installation.ownMonths !== null) return installation.ownMonths
  const { smallHouseholdPeople: small, largeHouseholdPeople: large } = settings
  const people = Math.min(Math.max(installation.people ?? settings.usualPeople, small), Math.max(small, large))
  if (people === small) return rule.monthsMost
  return wholeMonths(rule.monthsMost * (large - small) - span * (people - small), large - small)
}

/** The nearest whole number to a fraction, searched for; an exact half goes down. */
function wholeMonths(numerator: number, denominator: number): number {
  let candidate = 0
  while (2 * (numerator - candidate * denominator) > denominator + 1e-6) candidate += 1
  return candidate
}

/**
 * Walks day by day through the days in use and counts the months that are entered; there, on the day of the month the walk began on, or the
 * last one it has.
 */
function walkDays(from: CalendarDate, count: number, away: readonly number[]): CalendarDate {
  let { year, month, day } = partsOf(from)
  const nextDay = () => {
    day += 1
    if (day > daysInMonth(year, month)) [day, month] = [1, month + 1]
    if (month > 12) [month, year] = [1, year + 1]
  }
  while (away.includes(month)) nextDay()
  const wanted = day
  let last = month
  for (let entered = 0; ; nextDay()) {
    if (away.includes(month)) continue
    if (month !== last) [last, entered] = [month, entered + 1]
    if (entered === count && day === Math.min(wanted, daysInMonth(year, month)))
      return dateFromParts(year, month, day) ?? from
  }
}

function pourDayByDay(
  stage: StageFacts,
  ahead: boolean,
  from: CalendarDate,
  installation: InstallationFacts,
  defaults: DueDefaults,
): CalendarDate | null {
  if (stage.ratedMillilitres === null) return null
  const people = installation.people ?? defaults.settings.usualPeople
  const drunk =
    meterADay(installation) ?? installation.drunkPerDay ?? people * defaults.settings.dailyMillilitresPerPerson
  const recovery = ahead ? (installation.recoveryPercent ?? defaults.settings.recoveryPercent) : 100
  const rated = stage.ratedMillilitres * recovery
  let seen = 0
  const isSeasonal = installation.monthsAway.length > 0
  for (let days = 0, inUse = 0; inUse <= 36_525 && drunk > 0; days += 1) {
    if (isSeasonal && installation.monthsAway.includes(partsOf(addDays(from, days)).month)) continue
    seen += drunk * 100
    if (seen > rated) return addDays(from, days)
    inUse += 1
  }
  return null
}

/** What the meter says of a day: from the last count back, day by day, until two weeks in use lie between. */
function meterADay({ readings, monthsAway }: InstallationFacts): number | null {
  const sure = readings.filter(({ meter, unlikely }) => meter !== null && !unlikely)
  const days = [...new Set(sure.map(({ takenOn }) => takenOn))].sort()
  const most = (on: CalendarDate) =>
    Math.max(...sure.flatMap(({ takenOn, meter }) => (takenOn === on ? (meter ?? 0) : [])))
  const last = days.at(-1)
  if (last === undefined) return null
  let later = most(last)
  for (const on of days.slice(0, -1).reverse()) {
    if (most(on) > later) return null
    later = most(on)
    let inUse = 0
    for (let day = 0; day < daysBetween(on, last); day += 1)
      if (!monthsAway.includes(partsOf(addDays(on, day)).month)) inUse += 1
    if (inUse < 14) continue
    const perDay = Math.round((most(last) - later) / inUse)
    return perDay > 0 ? perDay : null
  }
  return null
}

/** The day by the readings of the membrane that is fitted now, following its lines day by day; null where they set none. */
function measuredDate(
  installation: InstallationFacts,
  { settings }: DueDefaults,
  thumb: CalendarDate | null,
): CalendarDate | null {
  const changes = installation.stages.flatMap(({ kind, changedOn }) =>
    kind === 'membrane' && changedOn ? changedOn : [],
  )
  const since = changes.sort().at(-1) ?? installation.fittedOn ?? ''
  const means = dailyMeans(installation, since)
  const last = means.at(-1)
  if (!last) return null
  const mark = settings.replaceRejectionPercent
  if (last.percent <= mark) {
    let at = means.length - 1
    while (at > 0 && (means[at - 1]?.percent ?? 0) <= mark) at -= 1
    return means[at]?.on ?? null
  }
  const origin = means[0]?.on ?? last.on
  const fitted = theilSen(means.map(({ on, percent }) => ({ x: daysBetween(origin, on), y: percent })))
  if (means.length < 3 || fitted === null) return null
  const meets = daysToMark(fitted, daysBetween(origin, last.on), mark)
  const spoken = walkDays(last.on, settings.readingSpeaksMonths, [])
  const latest = thumb !== null && thumb > spoken ? thumb : spoken
  const { on, earliest, latest: slowest } = meets
  if (on !== null && earliest !== null && slowest !== null && slowest - earliest <= settings.widestBandDays)
    return [addDays(last.on, on), latest].sort()[0] ?? null
  if (earliest === null || earliest > settings.widestBandDays) return latest
  return null
}

function dailyMeans({ readings }: InstallationFacts, since: string): { on: CalendarDate; percent: number }[] {
  const sure = readings.filter((each) => each.rejectionPercent !== null && !each.unlikely && each.takenOn >= since)
  return [...new Set(sure.map(({ takenOn }) => takenOn))].sort().map((on) => {
    const that = sure.filter(({ takenOn }) => takenOn === on)
    return { on, percent: that.reduce((sum, { rejectionPercent }) => sum + (rejectionPercent ?? 0), 0) / that.length }
  })
}

/** Days after the last reading on which a line is first at the mark; null when not within ten years. */
function daysToMark(fitted: FittedLine, lastDay: number, mark: number) {
  const walk = ({ slope, intercept }: Line): number | null => {
    if (slope >= 0) return null
    for (let days = 0; days <= 3653; days += 1) if (intercept + slope * (lastDay + days) <= mark + 1e-9) return days
    return null
  }
  return { on: walk(fitted), earliest: walk(fitted.lowest), latest: walk(fitted.highest) }
}
