import { numberInWords } from '../due/due-words.ts'
import type { StageKind } from '../installations/stage-kinds.ts'
import { type CalendarDate, daysBetween } from '../units/calendar-date.ts'
import { type MeasureSystem, volumeText } from '../units/measures.ts'
import { hardnessClassOf } from '../water/hardness-classes.ts'
import type { LetterSite, LetterStage } from './letter-facts.ts'
import { capital, isFilter, monthInWords, monthsSpan, partOfMonth, stagesNamed } from './letter-words.ts'

export interface WhyTerms {
  readonly today: CalendarDate
  readonly measures: MeasureSystem
}

/** What happens when it is left: goes after "after that it ...". */
const LEFT_TOO_LONG: Readonly<Record<StageKind, { readonly one: string; readonly many: string } | null>> = {
  sediment: {
    one: 'it lets fine dirt through to what comes behind it',
    many: 'they let fine dirt through to what comes behind them',
  },
  carbon: { one: 'it lets through more of the chlorine taste', many: 'they let through more of the chlorine taste' },
  membrane: {
    one: 'more of what is dissolved in the water comes through to the tap',
    many: 'more of what is dissolved in the water comes through to the tap',
  },
  'post-carbon': { one: 'the water begins to taste of the tank', many: 'the water begins to taste of the tank' },
  remineraliser: {
    one: 'its minerals are used up and the water tastes flat',
    many: 'their minerals are used up and the water tastes flat',
  },
  'uv-lamp': {
    one: 'it still glows, but too weakly for what it is there for',
    many: 'they still glow, but too weakly for what they are there for',
  },
  softener: { one: 'it no longer takes the hardness out', many: 'they no longer take the hardness out' },
  tank: null,
  other: null,
}

/** Why the due stages of a place are due, in whole sentences of the homeowner's words. */
export function whyDue(due: readonly LetterStage[], site: LetterSite, terms: WhyTerms): string {
  return groupsOf(due)
    .map((group) => whyOfGroup(group, site, terms))
    .join(' ')
}

/** "The membrane itself is good until March 2028." Empty when there is none, or it is due too. */
export function stillGood(site: LetterSite, due: readonly LetterStage[], today: CalendarDate): string {
  const membrane = site.stages.find((stage) => stage.kind === 'membrane' && !due.includes(stage))
  if (!membrane?.dueOn || membrane.dueOn <= today) return ''
  return `The membrane itself is good until ${monthInWords(membrane.dueOn, today)}.`
}

/** Stages that are due by the same rule, for the same reason, since the same day, are spoken of together. */
function groupsOf(due: readonly LetterStage[]): LetterStage[][] {
  const groups = new Map<string, LetterStage[]>()
  for (const stage of due) {
    const key = [
      stage.dueRule,
      stage.dueReason,
      stage.changedOn,
      stage.dueOn,
      isFilter(stage) ? 'filter' : stage.kind,
    ].join('|')
    groups.set(key, [...(groups.get(key) ?? []), stage])
  }
  return [...groups.values()]
}

function whyOfGroup(group: readonly LetterStage[], site: LetterSite, terms: WhyTerms): string {
  const [stage] = group
  if (!stage?.dueOn) return ''
  const name = stagesNamed(group, site.stages)
  const many = group.length > 1
  if (stage.dueRule === 'volume' && stage.ratedMillilitres !== null) {
    const volume = volumeText(stage.ratedMillilitres, terms.measures)
    const when = stage.dueOn < terms.today ? 'By now' : `By ${partOfMonth(stage.dueOn, terms.today)}`
    return `${when} about ${volume} of water have gone through ${name}, which is what ${many ? 'they are' : 'it is'} made for${afterThat(group, site)}.`
  }
  if (stage.dueRule === 'sanitise')
    return `${capital(name)} ${many ? 'are' : 'is'} sanitised ${everySpan(spanOf(stage))}, so that the water standing in ${many ? 'them' : 'it'} stays fresh.`
  if (stage.dueRule === 'with-membrane')
    return `${capital(name)} ${many ? 'are' : 'is'} sanitised when the membrane is changed, while the unit is open anyway.`
  if (stage.dueRule === 'own-date')
    return `We made a note to see to ${name} in ${partOfMonth(stage.dueOn, terms.today)}.`
  if (stage.dueRule === 'measurement') return whyByMeasurement(stage, name)
  if (stage.dueRule === 'recall')
    return `${capital(name)} ${many ? 'come' : 'comes'} from a batch that was recalled, and should be changed soon.`
  return whyByMonths(group, stage, site, terms)
}

/** The reason says how much it held back; why the date lies where it does is in its first word and behind the comma. */
function whyByMeasurement(stage: LetterStage, name: string): string {
  const parts = /holds back (\d+) of 100/.exec(stage.dueReason)?.[1]
  const measured =
    parts === undefined
      ? `we measured ${name}`
      : `${name} held back ${parts} of 100 parts of what is dissolved in your water`
  if (stage.dueReason.startsWith('still'))
    return `When it was last measured, ${measured}. It is time to measure again, and to change it only if it needs it.`
  if (stage.dueReason.includes(', reaches '))
    return `When it was last measured, ${measured}, and by all its readings it will soon be too few.`
  return `When it was last measured, ${measured}. A good one holds back many more.`
}

function whyByMonths(group: readonly LetterStage[], stage: LetterStage, site: LetterSite, { today }: WhyTerms): string {
  const name = stagesNamed(group, site.stages)
  const many = group.length > 1
  const span = spanOf(stage)
  const since = sinceSentence(stage, name, many, span, today)
  if (stage.dueRule === 'feed-water') {
    const water =
      site.hardness === null ? 'in water such as ours' : `in ${hardnessClassOf(site.hardness)} water like yours`
    return `${since} A membrane lasts about ${span} ${water}${afterThat(group, site)}.`
  }
  const they = many ? 'they are' : 'it is'
  const seasons = /(\d+) months? in use, away/.exec(stage.dueReason)?.[1]
  if (seasons !== undefined)
    return `${since} We count only the months in which you are there: after ${monthsSpan(Number(seasons))} of use ${they} at the end${afterThat(group, site)}.`
  const forWhom = stage.monthsSet
    ? `${capital(span)} is the time set for ${many ? 'them' : 'it'}`
    : site.people === null || !isHousehold(stage.kind)
      ? `${capital(span)} is what ${they} good for`
      : `For ${peopleFor(site.people)} ${span} is what ${they} good for`
  return `${since} ${forWhom}${afterThat(group, site)}.`
}

function sinceSentence(stage: LetterStage, name: string, many: boolean, span: string, today: CalendarDate): string {
  if (stage.changedOn === null || stage.dueOn === null)
    return `We do not know when ${name} ${many ? 'were' : 'was'} last changed, and count from the day the unit was fitted.`
  const changed = stage.byUs ? `we last changed ${name}` : `${name} ${many ? 'were' : 'was'} last changed`
  if (stage.dueOn < today) return `${capital(changed)} in ${monthInWords(stage.changedOn, today)}.`
  return `In ${partOfMonth(stage.dueOn, today)} it is ${span} since ${changed}.`
}

/** "; after that they let through more of the chlorine taste, and the membrane behind them has to work harder". */
function afterThat(group: readonly LetterStage[], site: LetterSite): string {
  const speaker = group.find((stage) => stage.kind === 'carbon') ?? group[0]
  const left = speaker && LEFT_TOO_LONG[speaker.kind]
  if (!speaker || !left) return ''
  const many = group.length > 1
  const aheadOfMembrane =
    ['sediment', 'carbon'].includes(speaker.kind) && site.stages.some((stage) => stage.kind === 'membrane')
  const harder =
    aheadOfMembrane && !group.some((stage) => stage.kind === 'membrane')
      ? `, and the membrane behind ${many ? 'them' : 'it'} has to work harder`
      : ''
  return `; after that ${many ? left.many : left.one}${harder}`
}

/** Whether how long it lasts goes by the number of people. */
const isHousehold = (kind: StageKind): boolean => !['membrane', 'tank', 'uv-lamp'].includes(kind)

const peopleFor = (people: number): string => (people === 1 ? 'one person' : `${numberInWords(people)} people`)

const everySpan = (span: string): string => (span === 'a year' ? 'once a year' : `every ${span}`)

/** From the last change to the due date in whole months, in words. */
function spanOf(stage: LetterStage): string {
  if (stage.changedOn === null || stage.dueOn === null) return monthsFromReason(stage.dueReason)
  return monthsSpan(Math.max(1, Math.round(daysBetween(stage.changedOn, stage.dueOn) / 30.44)))
}

/** Counted from the fitting of the unit: the reason says the months first. */
function monthsFromReason(reason: string): string {
  const months = /(\d+) months?/.exec(reason)?.[1]
  return months ? monthsSpan(Number(months)) : reason.includes('once a year') ? 'a year' : 'some time'
}
