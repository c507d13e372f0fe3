import type { Desk, OpenBooks } from '../answering.ts'
import { findHousehold } from '../customers/customers-store.ts'
import { findUnit, type KeptUnit, unitsOfSite } from '../installations/installations-store.ts'
import { STAGE_KIND_WORDS } from '../installations/stage-kinds.ts'
import { ok, type Result, refused } from '../result.ts'
import type { OfficeSettings } from '../settings/office-settings.ts'
import { readSettings } from '../settings/settings-store.ts'
import { longDate, shortDate } from '../units/date-words.ts'
import type { InstallationId, ReadingId, SiteId } from '../units/ids.ts'
import { FIGURE_NAMES, figureText, isNothingMeasured, type MeasuredFigures } from '../water/figures.ts'
import { type EarlierFigures, judgeReading, NOTHING_EARLIER } from '../water/judge-reading.ts'
import type { DueDefaults, InstallationFacts } from './due-facts.ts'
import { readDueDefaults, readKeptInstallations } from './due-facts-store.ts'
import { remarksOnReadings } from './due-remarks.ts'
import { membraneSince } from './measured-membrane.ts'
import type { HouseholdMeasurements, TakenReading, UnitMeasurements } from './measurement-shapes.ts'
import { flowTells, isOfThisMembrane, type KeptReading, rejectionTells, unitReadings } from './membrane-told.ts'
import { allReadingsOfUnit, daysOpened, findReading, insertReading, writeStruck } from './readings-store.ts'
import { meteredUse, waterUseInWords, waterUseOf } from './water-use.ts'

/** Every reading of a household, and what they come to, unit by unit. */
export async function householdMeasurements(
  desk: Desk,
  { siteId }: { siteId: SiteId },
): Promise<Result<HouseholdMeasurements>> {
  const { read, officeId, today } = desk
  if (!(await findHousehold(read, officeId, siteId))) return refused('RECORD_GONE', { what: 'This household' })
  const settings = await readSettings(read, officeId)
  const defaults = await readDueDefaults(read, officeId)
  const kept = await readKeptInstallations(read, officeId, { kind: 'sites', siteIds: [siteId] }, today)
  const units: UnitMeasurements[] = []
  for (const unit of await unitsOfSite(read, officeId, siteId, today)) {
    const facts = kept.find(({ installationId }) => installationId === unit.installationId)?.facts
    if (facts) units.push(await measurementsOfUnit(desk, unit, facts, defaults, settings))
  }
  return ok({
    siteId,
    marks: {
      healthyPercent: settings.healthyRejectionPercent,
      replacePercent: settings.replaceRejectionPercent,
      overduePercent: settings.overdueRejectionPercent,
      flowFallPercent: settings.flowFallPercent,
      widestBandDays: settings.widestBandDays,
      readingSpeaksMonths: settings.readingSpeaksMonths,
    },
    units,
  })
}

async function measurementsOfUnit(
  { read, officeId, today }: Desk,
  unit: KeptUnit,
  installation: InstallationFacts,
  defaults: DueDefaults,
  settings: OfficeSettings,
): Promise<UnitMeasurements> {
  const { installationId } = unit
  const readings = await allReadingsOfUnit(read, officeId, installationId)
  const opened = [
    ...(await daysOpened(read, officeId, installationId)),
    ...installation.stages.flatMap(({ changedOn }) => changedOn ?? []),
    ...(installation.fittedOn === null ? [] : [installation.fittedOn]),
  ]
  const since = membraneSince(installation)
  const metered = meteredUse(installation.readings, installation.monthsAway)
  return {
    installationId,
    name: unit.fields.name,
    membrane: membraneOf(unit),
    readings: readings
      .toReversed()
      .map((reading) => ({ ...reading, ofThisMembrane: isOfThisMembrane(reading, since) })),
    rejection: rejectionTells(readings, installation, defaults),
    flow: flowTells(readings, installation, opened, settings),
    meterWords:
      metered === null ? '' : waterUseInWords(waterUseOf(installation, defaults), installation.people, defaults),
    remarks: remarksOnReadings(unitReadings(readings), today, settings.locale),
  }
}

/** The membrane of a unit; of several the one that was changed last, from which the readings count. */
function membraneOf(unit: KeptUnit): UnitMeasurements['membrane'] {
  const [latest] = unit.stages
    .filter(({ kind }) => kind === 'membrane')
    .toSorted((a, b) => ((a.changedOn ?? '') < (b.changedOn ?? '') ? 1 : -1))
  if (!latest) return null
  const label = latest.label === '' ? STAGE_KIND_WORDS.membrane.name : latest.label
  return { stageId: latest.stageId, label, changedOn: latest.changedOn }
}

/** Writes down a reading taken outside a visit, and reckons the due dates of its household again. */
export function takeReading(
  desk: Desk,
  taken: TakenReading,
): Promise<Result<{ readingId: ReadingId; unlikely: boolean }>> {
  return desk.write(async (books) => {
    const unit = await findUnit(books.read, books.officeId, taken.installationId, books.today)
    if (!unit) return refused('RECORD_GONE', { what: 'This unit' })
    const settings = await readSettings(books.read, books.officeId)
    const { figures, takenOn, confirmed } = taken
    if (isNothingMeasured(figures)) return refused('READING_EMPTY')
    if (takenOn > books.today) return refused('READING_IN_FUTURE', { date: longDate(takenOn, settings.locale) })
    const earlier = earlierFigures(
      await allReadingsOfUnit(books.read, books.officeId, unit.installationId),
      unit,
      taken,
    )
    const { impossible, questions } = judgeReading(figures, earlier, settings.measures)
    const [first] = impossible
    if (first) return { ok: false, problem: first }
    const [question] = questions
    if (question !== undefined && !confirmed) return refused('READING_UNLIKELY', { question })
    const unlikely = question !== undefined
    const readingId = await insertReading(books.tx, books.officeId, taken, unlikely)
    const day = shortDate(takenOn, settings.locale)
    const words = figuresInWords(figures, settings.measures)
    await logged(
      books,
      unit.siteId,
      unit.installationId,
      'measured',
      `${unit.fields.name} was measured on ${day}`,
      words,
    )
    const told = await books.happened({
      kind: 'reading-taken',
      installationId: unit.installationId,
      siteId: unit.siteId,
    })
    return told.ok ? ok({ readingId, unlikely }) : told
  })
}

/** What the unit showed before that day, of the membrane that stood there then; struck-out and unlikely readings do not count. */
function earlierFigures(readings: readonly KeptReading[], unit: KeptUnit, { takenOn }: TakenReading): EarlierFigures {
  const since = membraneSince({ stages: unit.stages, fittedOn: unit.fields.fittedOn })
  const before = readings.filter((each) => each.struck === null && !each.unlikely && each.takenOn <= takenOn)
  const ofMembrane = before.filter((each) => each.takenOn < takenOn && isOfThisMembrane(each, since))
  return {
    ...NOTHING_EARLIER,
    rejection: ofMembrane.findLast(({ rejectionPercent }) => rejectionPercent !== null)?.rejectionPercent ?? null,
    meter: before.findLast(({ meter }) => meter !== null)?.meter ?? null,
  }
}

/** Strikes a reading out: it stays to be seen, and nothing rests on it any more. */
export async function strikeReading(
  desk: Desk,
  { readingId, reason }: { readingId: ReadingId; reason: string },
): Promise<Result<{ readingId: ReadingId }>> {
  if (reason === '') return refused('READING_NEEDS_REASON')
  return changeReading(desk, readingId, reason)
}

/** Puts a reading that was struck out back. */
export function restoreReading(
  desk: Desk,
  { readingId }: { readingId: ReadingId },
): Promise<Result<{ readingId: ReadingId }>> {
  return changeReading(desk, readingId, null)
}

/** Strikes out with a reason, puts back without one. */
function changeReading(
  desk: Desk,
  readingId: ReadingId,
  reason: string | null,
): Promise<Result<{ readingId: ReadingId }>> {
  return desk.write(async (books) => {
    const found = await findReading(books.read, books.officeId, readingId)
    if (!found) return refused('RECORD_GONE', { what: 'This reading' })
    if ((found.struckOn !== null) === (reason !== null))
      return refused('READING_STRUCK', { state: reason === null ? 'not struck out' : 'struck out already' })
    const { locale } = await readSettings(books.read, books.officeId)
    const day = shortDate(found.takenOn, locale)
    const struck = { on: reason === null ? null : books.today, reason: reason ?? '' }
    await writeStruck(books.tx, books.officeId, readingId, struck)
    const { siteId, installationId, unit } = found
    if (reason === null)
      await logged(books, siteId, installationId, 'put back', `The reading of ${day} at ${unit} was put back`)
    else
      await logged(
        books,
        siteId,
        installationId,
        'struck out',
        `The reading of ${day} at ${unit} was struck out: ${reason}`,
      )
    const told = await books.happened({ kind: 'reading-taken', installationId, siteId })
    return told.ok ? ok({ readingId }) : told
  })
}

function figuresInWords(figures: MeasuredFigures, system: Parameters<typeof figureText>[2]): string {
  const words: string[] = []
  for (const [figure, value] of Object.entries(figures) as [keyof MeasuredFigures, number | null][])
    if (value !== null) words.push(`${FIGURE_NAMES[figure]} ${figureText(figure, value, system)}`)
  return words.join(', ')
}

function logged(
  books: OpenBooks,
  siteId: SiteId,
  installationId: InstallationId,
  verb: string,
  sentence: string,
  details = '',
): Promise<void> {
  return books.record({ subjectKind: 'installation', subjectId: installationId, siteId, verb, sentence, details })
}
