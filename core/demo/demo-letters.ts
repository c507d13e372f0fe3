import { lifeLeftOn } from '../due/life-left.ts'
import { STAGE_KIND_WORDS } from '../installations/stage-kinds.ts'
import { type ComposedLetter, composeLetter } from '../letters/compose-letter.ts'
import type { LetterStage } from '../letters/letter-facts.ts'
import type { LetterWording } from '../letters/letter-wording.ts'
import { unitHeading } from '../letters/letter-words.ts'
import { DEFAULT_SETTINGS } from '../settings/office-settings.ts'
import { type CalendarDate, dateOfDayNumber } from '../units/calendar-date.ts'
import type { CustomerId, InstallationId, SiteId, StageId } from '../units/ids.ts'
import { gallonsToMillilitres, hardness } from '../units/measures.ts'
import { cents } from '../units/money.ts'
import { demoNames } from './demo-names.ts'
import type { DemoHousehold, DemoLetter } from './demo-records.ts'
import { SCENARIO } from './scenario.ts'

export interface LetterKeys {
  readonly customerId: CustomerId
  readonly siteId: SiteId
  readonly installationOf: (unit: number) => InstallationId
  readonly stageOf: (stage: number) => StageId
}

/** A letter of the demo's past, in the office's own wording, as it would have been written that day. */
export function composeDemoLetter(
  letter: DemoLetter,
  household: DemoHousehold,
  keys: LetterKeys,
  writtenBefore: CalendarDate | null,
  wording: LetterWording,
): ComposedLetter {
  const town = SCENARIO.towns[household.town]
  const today = dateOfDayNumber(letter.writtenOn)
  const { letterName, salutation } = demoNames(household)
  const stages = letter.stages.map((stage) => demoLetterStage(stage, household, keys, today))
  return composeLetter(
    letter.kind,
    {
      customerId: keys.customerId,
      reference: household.reference,
      salutation,
      address: {
        names: [letterName],
        street: household.line1,
        unit: '',
        town: town?.name ?? '',
        region: 'XX',
        postalCode: town?.postalCode ?? '',
      },
      taxExempt: false,
      sites: [
        {
          siteId: keys.siteId,
          street: household.line1,
          town: town?.name ?? '',
          people: household.people,
          hardness: hardness(household.hardness),
          daysInTown: [],
          stages,
        },
      ],
      writtenBefore,
    },
    dateOfDayNumber(letter.dueOn),
    wording,
    { today, office: SCENARIO.office, settings: DEFAULT_SETTINGS },
  )
}

function demoLetterStage(
  stage: DemoLetter['stages'][number],
  household: DemoHousehold,
  keys: LetterKeys,
  today: CalendarDate,
): LetterStage {
  const record = household.stages[stage.stage]
  const kind = record?.kind ?? 'other'
  const part = record?.part == null ? null : SCENARIO.parts[record.part]
  const changedOn = dateOfDayNumber(stage.changedOn)
  const dueOn = dateOfDayNumber(stage.dueOn)
  const { lifeLeft, daysLate } = lifeLeftOn(today, changedOn, dueOn)
  return {
    stageId: keys.stageOf(stage.stage),
    installationId: keys.installationOf(record?.unit ?? 0),
    siteId: keys.siteId,
    unit: unitHeading(household.units[record?.unit ?? 0] ?? '', household.line1),
    kind,
    label: STAGE_KIND_WORDS[kind].name,
    changedOn,
    byUs: stage.changedOn > household.since,
    dueOn,
    dueRule: stage.rule,
    dueReason: stage.reason,
    monthsSet: false,
    ratedMillilitres: part && part.ratedGallons > 0 ? gallonsToMillilitres(part.ratedGallons) : null,
    lifeLeft,
    daysLate,
    partName: part?.name ?? '',
    priceCents: part ? cents(part.price) : null,
    taxFree: false,
    fitMinutes: part?.minutes ?? null,
  }
}
