import { STAGE_KIND_WORDS } from '../installations/stage-kinds.ts'
import { addDays, type CalendarDate, dateFromParts, daysInMonth, partsOf } from '../units/calendar-date.ts'
import { hardnessClassOf } from '../water/hardness-classes.ts'
import type { DueDefaults, InstallationFacts, StageDue, StageFacts } from './due-facts.ts'

/**
 * The judge of due dates: finds each stage's date again by other means (walking months one at a time, pouring water day by day) and
 * says what differs. An empty list means the answer stands. Slow on purpose; for tests and for spot checks.
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
  if (stage.ownDueOn) return stage.ownDueOn
  const started = stage.changedOn ?? installation.fittedOn
  if (!started) return null
  const dates: CalendarDate[] = []
  const count = monthsFor(stage, installation, defaults)
  if (count !== null) dates.push(walkMonths(started, count))
  const poured = pourDayByDay(stage, ahead, started, installation, defaults)
  if (poured) dates.push(poured)
  return dates.sort()[0] ?? null
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

function walkMonths(from: CalendarDate, count: number): CalendarDate {
  let { year, month } = partsOf(from)
  const { day } = partsOf(from)
  for (let step = 0; step < count; step += 1) {
    month += 1
    if (month > 12) [year, month] = [year + 1, 1]
  }
  return dateFromParts(year, month, Math.min(day, daysInMonth(year, month))) ?? from
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
  const drunk = installation.drunkPerDay ?? people * defaults.settings.dailyMillilitresPerPerson
  const recovery = ahead ? (installation.recoveryPercent ?? defaults.settings.recoveryPercent) : 100
  const rated = stage.ratedMillilitres * recovery
  let seen = 0
  for (let days = 0; days <= 36_525 && drunk > 0; days += 1) {
    seen += drunk * 100
    if (seen > rated) return addDays(from, days)
  }
  return null
}
